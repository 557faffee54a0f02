package nets

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/sim"
)

// Made records what the networks were fitted to.
type Made struct {
	Recipe Recipe
	// Probe holds a few readings of the fleet the networks were fitted to; a
	// test simulates them again and fails if the physics has moved on.
	Probe []probe
}

// probe is one simulated car of the fleet: scaled low side, high side and vent.
type probe struct {
	Condition       car.ConditionID
	Low, High, Vent float64
}

// probeCars is how many cars Probe holds.
const probeCars = 60

// Probes simulates the cars of made.Probe with the code at hand.
func Probes() []probe {
	r := fleet.NewRand(4711)
	w := sim.World{}
	var out []probe
	for len(out) < probeCars {
		s, err := w.Draw(r)
		if err != nil {
			continue
		}
		sc, err := NewScaler(&s.Case)
		if err != nil {
			continue
		}
		in := func(q car.Quantity) float64 {
			return math.Round(1e4*sc.In(q, s.Case.Readings[q].Value)) / 1e4
		}
		out = append(out, probe{s.Truth.Cause, in(car.Low), in(car.High), in(car.Vent)})
	}
	return out
}

// pairProbe is one simulated car on its latest earlier visit and today: scaled low and
// high side of each.
type pairProbe struct {
	Condition               car.ConditionID
	LowThen, HighThen       float64
	Low, High, Months, Held float64
}

// PairProbes simulates the cars of memoryMade.Probe with the code at hand.
func PairProbes() []pairProbe {
	r := fleet.NewRand(4712)
	w := sim.World{Mixed: true}
	var out []pairProbe
	for len(out) < probeCars/2 {
		k, err := w.DrawPair(r)
		if err != nil {
			continue
		}
		v := &k.Case.Earlier[0]
		then := car.Case{Car: k.Case.Car, Weather: v.Weather}
		now, errNow := NewScaler(&k.Case)
		was, errWas := NewScaler(&then)
		if errNow != nil || errWas != nil {
			continue
		}
		round := func(x float64) float64 { return math.Round(1e4*x) / 1e4 }
		in := func(sc *Scaler, read car.Readings, q car.Quantity) float64 { return round(sc.In(q, read[q].Value)) }
		out = append(out, pairProbe{k.Truth.Cause, in(was, v.Readings, car.Low), in(was, v.Readings, car.High),
			in(now, k.Case.Readings, car.Low), in(now, k.Case.Readings, car.High), round(v.Months), round(v.Charge)})
	}
	return out
}
