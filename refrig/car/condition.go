package car

// ConditionID names one condition a car can be in. It is stable: links, saved
// jobs and catalogue pages use it.
type ConditionID string

// The conditions. Healthy includes a charge within the reserve of the receiver
// or accumulator, which no gauge can tell from a full one.
const (
	Healthy           ConditionID = "healthy"
	Undercharge       ConditionID = "undercharge"
	Overcharge        ConditionID = "overcharge"
	Air               ConditionID = "air"
	CondenserAirflow  ConditionID = "condenser_airflow"
	EvaporatorAirflow ConditionID = "evaporator_airflow"
	Restriction       ConditionID = "restriction"         // liquid line, drier, hose before the metering device
	ValveClosed       ConditionID = "valve_closed"        // expansion valve stuck closed, orifice plugged
	ValveOpen         ConditionID = "valve_open"          // expansion valve stuck open, orifice too large
	WeakCompressor    ConditionID = "weak_compressor"     // valve leak, worn
	Slipping          ConditionID = "slipping"            // belt or clutch slips
	StuckMinimum      ConditionID = "stuck_minimum"       // variable compressor stays at small displacement
	StuckMaximum      ConditionID = "stuck_maximum"       // variable compressor stays at full displacement
	SwitchRange       ConditionID = "switch_range"        // cycling or fin-temperature switch out of range
	SuctionBlocked    ConditionID = "suction_restriction" // suction line or evaporator blocked
	Moisture          ConditionID = "moisture"            // ice comes and goes in the metering device
	WrongRefrigerant  ConditionID = "wrong_refrigerant"   // wrong or mixed
	Empty             ConditionID = "empty"
	NotRunning        ConditionID = "not_running" // compressor does not turn
	Gauge             ConditionID = "gauge"       // gauge, hose or coupler: a reading no car can give
	Combination       ConditionID = "combination" // two things at once fit better than any one
	NoneOfThese       ConditionID = "none_of_these"
)

// conditions is every condition in a fixed order: networks and tables index by it.
var conditions = [...]ConditionID{
	Healthy, Undercharge, Overcharge, Air, CondenserAirflow, EvaporatorAirflow,
	Restriction, ValveClosed, ValveOpen, WeakCompressor, Slipping, StuckMinimum,
	StuckMaximum, SwitchRange, SuctionBlocked, Moisture, WrongRefrigerant, Empty,
	NotRunning, Gauge, Combination, NoneOfThese,
}

// Conditions lists every condition in a fixed order. The list is the caller's.
func Conditions() []ConditionID {
	all := conditions
	return all[:]
}

var indexOf = func() map[ConditionID]int {
	m := map[ConditionID]int{}
	for i, c := range conditions {
		m[c] = i
	}
	return m
}()

// Index is the place of a condition in Conditions, −1 for one that is not there.
func Index(id ConditionID) int {
	if i, ok := indexOf[id]; ok {
		return i
	}
	return -1
}
