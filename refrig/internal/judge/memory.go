package judge

import (
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/sim"
)

// KeepEarlier returns c with at most n of its earlier visits, the latest ones, each with
// only the readings of the set.
func (s ReadingSet) KeepEarlier(c car.Case, n int) car.Case {
	var kept []car.Visit
	for _, v := range c.Earlier[:min(n, len(c.Earlier))] {
		if v.Readings = s.of(v.Readings); len(v.Readings) == 0 { // both needles swung and nothing else was read
			continue
		}
		v.Weather.HumidityKnown = s.Humidity
		kept = append(kept, v)
	}
	c.Earlier = kept
	return c
}

// MemoryScore is what earlier visits do to the answer, the readings of then being those
// of today.
type MemoryScore struct {
	Set    string
	Visits int
	// Without visits, with them, and with the leak odds of their date alone.
	Without, With, DateAlone Score
	// NotTheSame is the share of answers that say the visits do not look like the same
	// sound car.
	NotTheSame float64
}

// MemoryTrial scores pairs with at most n of their visits and without.
func MemoryTrial(m *diagnose.Model, pairs []sim.Pair, set ReadingSet, n int) (MemoryScore, error) {
	out := MemoryScore{Set: set.Name, Visits: n}
	samples := make([]sim.Sample, len(pairs))
	for i := range pairs {
		samples[i] = pairs[i].Sample
		samples[i].Case = set.KeepEarlier(samples[i].Case, n)
	}
	doubted := 0.0
	with := func(c car.Case) ([]float64, error) {
		r, err := m.Answer(c)
		if err != nil {
			return nil, err
		}
		if r.Memory != nil && r.Memory.NotTheSame {
			doubted++
		}
		return byPlace(r.Ranking), nil
	}
	plain := Posterior(m)
	without := func(c car.Case) ([]float64, error) {
		c.Earlier = nil
		return plain(c)
	}
	dated := func(c car.Case) ([]float64, error) {
		earlier := c.Earlier
		p, err := without(c)
		if err != nil || len(earlier) == 0 {
			return p, err
		}
		sim.Leaked(p, earlier[0].Months, earlier[0].Charge)
		return p, nil
	}
	for _, k := range []struct {
		score     *Score
		posterior func(car.Case) ([]float64, error)
	}{{&out.Without, without}, {&out.With, with}, {&out.DateAlone, dated}} {
		var err error
		if *k.score, err = Trial(samples, set, k.posterior); err != nil {
			return out, err
		}
	}
	out.NotTheSame = doubted / max(float64(len(pairs)), 1)
	return out, nil
}

// Pairs draws n cars of w with earlier visits of which wrong is true.
func Pairs(w sim.World, n int, seed uint64, wrong sim.Wrong) []sim.Pair {
	return sim.DrawPairs(n, seed, func(r *fleet.Rand) (sim.Pair, error) { return w.DrawPairAs(r, wrong) })
}

// Misfiled are those of the pairs that were met more than once, each with the latest visit of
// the next one with its refrigerant in place of its own.
func Misfiled(pairs []sim.Pair) (out []sim.Pair) {
	for i := range pairs {
		k := pairs[i]
		if len(k.Case.Earlier) < 2 {
			continue
		}
		for j := 1; j < len(pairs); j++ {
			if of := &pairs[(i+j)%len(pairs)].Case; of.Car.Refrigerant == k.Case.Car.Refrigerant {
				k.Case.Earlier = append([]car.Visit{of.Earlier[0]}, k.Case.Earlier[1:]...)
				k.Case.Earlier[0].Months, k.Case.Earlier[0].Charge = pairs[i].Case.Earlier[0].Months, pairs[i].Case.Earlier[0].Charge
				out = append(out, k)
				break
			}
		}
	}
	return out
}
