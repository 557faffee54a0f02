package car

// Quantity names one thing a technician can read. It is stable: links, saved
// jobs and word files use it.
type Quantity string

// The quantities, with the SI unit of their value.
const (
	Low           Quantity = "low"            // low-side gauge, Pa gauge
	High          Quantity = "high"           // high-side gauge, Pa gauge
	Vent          Quantity = "vent"           // air at the centre vent, K
	DischargeLine Quantity = "discharge_line" // pipe between compressor and condenser, K
	SuctionLine   Quantity = "suction_line"   // pipe at the compressor inlet, K
	LiquidLine    Quantity = "liquid_line"    // pipe after condenser and receiver, K
	CondenserIn   Quantity = "condenser_in"   // pipe at the condenser inlet, K
	CondenserOut  Quantity = "condenser_out"  // pipe at the condenser outlet, K
	Resting       Quantity = "resting"        // both gauges, engine off and soaked to the ambient temperature, Pa gauge
	Cycling       Quantity = "cycling"        // clutch engagements per minute; 0 stays on
	SightGlass    Quantity = "sight_glass"    // choice: clear, bubbles, foam, none
	WaterTest     Quantity = "water_test"     // high side with water on the condenser, Pa gauge
	FanTest       Quantity = "fan_test"       // high side with a shop fan before the condenser, Pa gauge
	LowIdle       Quantity = "low_idle"       // low side at idle, Pa gauge
	HighIdle      Quantity = "high_idle"      // high side at idle, Pa gauge
	EqualiseTime  Quantity = "equalise_time"  // seconds for both sides to meet after stopping, s
	Recovered     Quantity = "recovered"      // mass recovered / label charge, 1
)

// Reading is one thing that was read. A quantity that was not read has no
// Reading: "not measured" is not "normal".
type Reading struct {
	Value float64 // SI, in the unit of the quantity; the middle if Swing
	// Lo and Hi are the lowest and the highest value of a needle that swings.
	// They are read only if Swing is set.
	Lo, Hi float64
	Swing  bool
	// AtLeast and AtMost mark a pegged needle: the truth lies beyond Value.
	AtLeast, AtMost bool
	// Choice is the answer to a question that has no number (SightGlass).
	Choice string
}

// Readings maps what was read to its value.
type Readings map[Quantity]Reading

// Choices of the sight glass.
const (
	GlassClear   = "clear"
	GlassBubbles = "bubbles"
	GlassFoam    = "foam" // foam, oil streaks or nothing moving
	GlassNone    = "none" // no glass fitted: nothing was read
)

// A needle that moves by less than this is a steady needle: so much every needle
// quivers with the compressor's strokes and the reader's eye. Common practice.
const (
	QuiverLow  = 35e3  // Pa, about 5 psi
	QuiverHigh = 170e3 // Pa, about 25 psi
)

// Ends are the lowest and the highest it showed; both the value of a steady reading.
func (r Reading) Ends() (lo, hi float64) {
	if r.Swing {
		return r.Lo, r.Hi
	}
	return r.Value, r.Value
}

// Steadied returns the readings with swings too narrow to mean anything turned into
// steady readings at their middle.
func (rs Readings) Steadied() Readings {
	out := make(Readings, len(rs))
	for q, r := range rs {
		if most, ok := map[Quantity]float64{Low: QuiverLow, High: QuiverHigh}[q]; ok && r.Swing && r.Hi-r.Lo < most {
			r = Reading{Value: (r.Lo + r.Hi) / 2}
		}
		out[q] = r
	}
	return out
}
