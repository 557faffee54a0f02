package diagnose

import (
	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// Verdict says how much can honestly be claimed.
type Verdict string

// The verdicts, from the most to the least that can be said.
const (
	Named      Verdict = "named"       // one condition is likely enough to act on
	Leaning    Verdict = "leaning"     // one condition leads, measure before acting
	CannotTell Verdict = "cannot_tell" // several fit; the next measurement decides
	Doubtful   Verdict = "doubtful"    // the reading itself is in doubt: check hose, port, unit first
)

// Group is the pattern of the two needles against the healthy band. Its members
// cannot be told apart from two pressures alone.
type Group string

// The groups.
const (
	GroupNormal         Group = "normal"   // both inside the healthy band
	GroupBothLow        Group = "both_low" // low side low or normal, high side low
	GroupBothHigh       Group = "both_high"
	GroupLowHighHighLow Group = "low_high_high_low" // low side high, high side low: nothing pumps
	GroupLowLowHighHigh Group = "low_low_high_high" // low side low, high side high: something blocks
	GroupLowOnly        Group = "low_side_low"
	GroupHighOnly       Group = "low_side_high"
	GroupEqual          Group = "equal" // both sides meet
)

// Ranked is one condition with its posterior probability.
type Ranked struct {
	ID          car.ConditionID
	Probability float64 // 0…1; the ranking sums to 1
}

// Evidence says what one reading did to the answer.
type Evidence struct {
	Quantity car.Quantity
	Reading  car.Reading
	// Expected is the middle 90 % of healthy cars of this kind in this weather,
	// Median their median; SI. HasExpected is false for a choice.
	Expected    car.Interval
	Median      float64
	HasExpected bool
	// Place is −1 below, 0 inside, +1 above Expected.
	Place int
	// AgainstHealthy is ln of the likelihood ratio leader : healthy that this
	// reading contributes given all others; AgainstNext the same for
	// leader : runner-up. Positive speaks for the leader.
	AgainstHealthy, AgainstNext float64
	// Favours is the condition whose odds this reading raised most.
	Favours car.ConditionID
}

// Outcome is one range a measurement may fall in and what would follow.
type Outcome struct {
	Lo, Hi         float64 // SI; not to be read at an open end
	OpenLo, OpenHi bool
	Chance         float64 // probability that the measurement falls here
	Leader         car.ConditionID
	LeaderChance   float64 // probability of Leader if it does
}

// Next is one measurement not made yet, with what it is expected to bring.
type Next struct {
	Quantity car.Quantity
	Gain     float64 // expected drop in the entropy of the posterior, bit
	Minutes  float64 // of the technician's time
	Hazard   string  // caution code, "" if none
	Outcomes []Outcome
}

// Report is the answer to a Case.
type Report struct {
	Verdict   Verdict
	Ranking   []Ranked // most likely first; every condition appears
	Group     Group
	Members   []car.ConditionID // what can put a car into Group, the likeliest now first
	Evidence  []Evidence        // one per reading, most telling first
	Next      []Next            // best first: expected gain per minute of work
	Questions []refrig.Warning  // "did you mean…": readings no car can give
	Warnings  []refrig.Warning  // what was assumed, what would sharpen the answer
	// Weighed says what the recovered mass means, nil where none was read or the
	// label charge is not known.
	Weighed *Weighed
	// Superheat and Subcooling are nil unless the needle and the pipe were both read.
	Superheat, Subcooling *Heat
	// Memory says what the car's earlier visits did, nil where there are none.
	Memory *Memory
	// PairA and PairB name two conditions that together fit clearly better than
	// any single one; empty otherwise.
	PairA, PairB car.ConditionID
	Deviation    Deviation // of needles and vent from sound cars
}

// Weighed is a charge known by weight.
type Weighed struct {
	Charge float64 // estimate of what was in the car, kg
	Lo, Hi float64 // what the machine's display and the rest in the car leave open, kg
	Label  float64 // kg
	// Tolerance is how far from the label, as a share of it, a charge may be and still
	// be right.
	Tolerance float64
}

// Memory is what earlier visits at which this very car was sound say of it today.
type Memory struct {
	Visits int
	Months float64 // since the latest
	// Wrong is the probability that the visits are no ruler: another car's, or of a car
	// that was not sound then. From NotTheSame on the answer says so.
	Wrong      float64
	NotTheSame bool
	Readings   []Remembered // what the visits read, in the order of car.Quantities
	Alone      []Ranked     // the ranking without the visits
}

// Remembered is one quantity that earlier visits read.
type Remembered struct {
	Quantity car.Quantity
	Then     float64 // on the latest visit that read it, SI
	Visit    int     // that visit's place in car.Case.Earlier
	// Expected is what this car would read in today's weather if it were sound, by how
	// it stood from its kind then.
	Expected Band
	Now      float64 // SI; not to be read unless Read
	Read     bool
	Place    int // of Now: −1 below the middle 90 % of Expected, 0 inside, +1 above
}

// Band holds quantiles of a quantity over healthy cars, SI.
type Band struct{ P05, P25, P50, P75, P95 float64 }

// Region is a part of the (low, high) plane that holds Level of healthy cars.
type Region struct {
	Level   float64      // 0.5 or 0.9
	Outline [][2]float64 // closed polygon, {low, high} in Pa gauge; the last point joins the first
}

// Drift is the path of one condition over the plane, from healthy to severe.
type Drift struct {
	Condition car.ConditionID
	Points    []DriftPoint
}

// DriftPoint is one severity of a Drift.
type DriftPoint struct {
	Severity  float64 // 0 healthy … 1 severe
	Low, High float64 // Pa gauge
}

// Plane is everything the pressure plane shows, in numbers.
type Plane struct {
	Regions []Region // widest first
	// Low and High are the middle 90 % of each needle by itself, as the evidence holds a
	// reading against them; the region of both together reaches a little farther.
	Low, High car.Interval
	Centre    [2]float64
	Drifts    []Drift
	// Own are the healthy regions of this very car by its earlier visits, OwnCentre
	// their middle; none without visits that read both needles.
	Own       []Region
	OwnCentre [2]float64
}

// WeatherBand is the healthy band at one outside temperature.
type WeatherBand struct {
	Ambient   float64 // K
	Low, High Band    // Pa gauge
	// Vent is the middle 90 % of the air from the vent and VentMedian its median, K.
	Vent       car.Interval
	VentMedian float64
}
