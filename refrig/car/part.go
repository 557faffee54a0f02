package car

// Part is where on the loop a technician looks. It is stable: word files use it.
type Part string

// The parts, in the order of the refrigerant; what is inside them and the ports it is
// read at stand last.
const (
	PartCompressor  Part = "compressor"
	PartCondenser   Part = "condenser"
	PartLiquidLine  Part = "liquid_line" // with its drier, where there is one
	PartMetering    Part = "metering"
	PartEvaporator  Part = "evaporator"
	PartSuctionLine Part = "suction_line" // with its accumulator, where there is one
	PartRefrigerant Part = "refrigerant"
	PartPorts       Part = "ports"
)

// parts says which parts each condition concerns. Healthy, a combination, whose two
// have parts of their own, and what is none of these concern none.
var parts = map[ConditionID][]Part{
	Undercharge:       {PartRefrigerant},
	Overcharge:        {PartRefrigerant},
	Air:               {PartRefrigerant},
	WrongRefrigerant:  {PartRefrigerant},
	Empty:             {PartRefrigerant},
	Moisture:          {PartRefrigerant, PartMetering},
	CondenserAirflow:  {PartCondenser},
	EvaporatorAirflow: {PartEvaporator},
	Restriction:       {PartLiquidLine},
	ValveClosed:       {PartMetering},
	ValveOpen:         {PartMetering},
	SuctionBlocked:    {PartEvaporator, PartSuctionLine},
	WeakCompressor:    {PartCompressor},
	Slipping:          {PartCompressor},
	StuckMinimum:      {PartCompressor},
	StuckMaximum:      {PartCompressor},
	SwitchRange:       {PartCompressor}, // what the switch holds back is its clutch
	NotRunning:        {PartCompressor},
	Gauge:             {PartPorts},
}

// Parts lists the parts that the condition concerns. The list is not to be changed.
func (id ConditionID) Parts() []Part { return parts[id] }
