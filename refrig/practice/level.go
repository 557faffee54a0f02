package practice

import (
	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/sim"
)

// Level is how hard a puzzle is.
type Level int

// The levels.
const (
	Textbook Level = 1 + iota
	Everyday
	Ambiguous
)

// Levels lists the levels from easy to hard.
var Levels = []Level{Textbook, Everyday, Ambiguous}

// causes says how often each condition is set at each level. All numbers are
// judgement: at every level the common conditions come more often than the rare
// ones, but less so than among real cars (refrig/sim/priors.csv), because
// what is never met is never learnt. A zero leaves a condition out: at the
// textbook level those that even every measurement seldom settles, at the
// ambiguous level those that two needles settle at once. NoneOfThese is never
// set: its readings come from no car.
var causes = []struct {
	id     car.ConditionID
	weight [3]float64 // by level
}{
	{car.Healthy, [3]float64{3, 5, 3}},
	{car.Undercharge, [3]float64{4, 6, 5}},
	{car.Overcharge, [3]float64{3, 3, 3}},
	{car.Air, [3]float64{2, 2, 2}},
	{car.CondenserAirflow, [3]float64{4, 4, 2}},
	{car.EvaporatorAirflow, [3]float64{3, 3, 2}},
	{car.Restriction, [3]float64{3, 3, 4}},
	{car.ValveClosed, [3]float64{3, 3, 4}},
	{car.ValveOpen, [3]float64{3, 2, 3}},
	{car.WeakCompressor, [3]float64{3, 3, 4}},
	{car.Slipping, [3]float64{1, 1, 1.5}},
	{car.StuckMinimum, [3]float64{2, 2, 1.5}},
	{car.StuckMaximum, [3]float64{0, 1, 0.5}},
	{car.SwitchRange, [3]float64{0, 1, 0}},
	{car.SuctionBlocked, [3]float64{0, 1, 0.5}},
	{car.Moisture, [3]float64{2, 1, 1}},
	{car.WrongRefrigerant, [3]float64{0, 1, 0.5}},
	{car.Empty, [3]float64{2, 1.5, 0}},
	{car.NotRunning, [3]float64{2, 1.5, 0}},
	{car.Gauge, [3]float64{2, 1.5, 1}},
	{car.Combination, [3]float64{0, 1.5, 1}},
}

// ungraded are the conditions that are there or not: a severity says nothing of
// them.
var ungraded = map[car.ConditionID]bool{
	car.Healthy: true, car.Moisture: true, car.WrongRefrigerant: true, car.Empty: true,
	car.NotRunning: true, car.Gauge: true, car.Combination: true,
}

// textbookFrom is the severity from which a fault is one of a textbook.
// judgement
const textbookFrom = 0.5

// spec is what the cars of a level have in common. A textbook's car has the commonest
// refrigerant, one evaporator and its high port where the books draw it.
func (l Level) spec() car.Spec {
	if l == Textbook {
		return car.Spec{Refrigerant: car.R134a, Evaporators: 1, HighPort: car.PortDischarge}
	}
	return car.Spec{}
}

// spread is how much the cars of a level differ among each other: a textbook's are
// nearly typical. judgement
func (l Level) spread() fleet.Spread {
	if l == Textbook {
		return 0.5
	}
	return 1
}

// conditions draws weather and running. A textbook's day is warm, neither dry nor
// damp, near sea level, and the car is read as the books say: bonnet and doors open,
// fast idle, blower full, air from outside. Common practice; the ranges are judgement.
func (l Level) conditions(r *fleet.Rand) cycle.Conditions {
	if l != Textbook {
		return sim.DrawConditions(r)
	}
	u := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	return cycle.Conditions{
		Ambient: 273.15 + u(24, 36), Humidity: u(0.35, 0.65), PAtm: float64(air.AtmosphericPressure(u(0, 300))),
		RPM: 1500, Blower: 1,
	}
}

// keeps reports whether a car drawn is one of the level, given what the
// diagnosis makes of the two needles and of every measurement.
func (l Level) keeps(truth *sim.Truth, two, all *diagnose.Report) bool {
	want := Wanted(truth)
	switch l {
	case Textbook:
		plain := !Graded(truth.Cause) || truth.Severity >= textbookFrom
		return plain && want == truth.Cause && (names(all, want) || want == car.Healthy && likely(all, want))
	case Everyday:
		return !Settled(all) || names(all, want)
	default:
		return two.Verdict == diagnose.CannotTell && names(all, want)
	}
}

// Wanted is the right answer to a car: what was done to it, unless that is
// within reserve, and Combination for two faults at once.
func Wanted(t *sim.Truth) car.ConditionID {
	if t.Second != "" {
		return car.Combination
	}
	return t.Label
}

// Settled reports whether the diagnosis claims one condition. A reading that no
// car can give settles a fault of the gauge, if it leads.
func Settled(r *diagnose.Report) bool {
	return r.Verdict == diagnose.Named || r.Verdict == diagnose.Doubtful && r.Ranking[0].ID == car.Gauge
}

func names(r *diagnose.Report, id car.ConditionID) bool {
	return Settled(r) && r.Ranking[0].ID == id
}

// likely reports whether the diagnosis holds id for likelier than everything else
// together. More is seldom said of a sound car: some slight fault always remains
// possible.
func likely(r *diagnose.Report, id car.ConditionID) bool {
	return r.Ranking[0].ID == id && r.Ranking[0].Probability > 0.5
}

// cause draws one condition by its weight at the level, raised by boost where
// boost is not nil.
func (l Level) cause(r *fleet.Rand, boost func(car.ConditionID) float64) car.ConditionID {
	weight := func(i int) float64 {
		w := causes[i].weight[l-1]
		if boost != nil {
			w *= boost(causes[i].id)
		}
		return w
	}
	sum := 0.0
	for i := range causes {
		sum += weight(i)
	}
	u := r.Float64() * sum
	last := car.Healthy
	for i, c := range causes {
		w := weight(i)
		if w == 0 {
			continue
		}
		if last = c.id; u < w {
			break
		}
		u -= w
	}
	return last
}

// Graded reports whether a condition has a severity worth telling.
func Graded(id car.ConditionID) bool { return !ungraded[id] }
