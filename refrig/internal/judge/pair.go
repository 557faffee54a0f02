package judge

import (
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/sim"
)

// PairScore is how cars with two faults at once fare.
type PairScore struct {
	Cars      int
	Seen      float64 // a fault is likelier than healthy by four to one
	Together  float64 // Combination is first or second
	OneFirst  float64 // Combination or one of the two faults leads
	Named     float64 // share in which a pair is named
	Right     float64 // of the pairs named, both faults right
	HalfRight float64 // of the pairs named, at least one right
}

// PairTrial scores samples whose truth is a combination with the readings of set.
func PairTrial(m *diagnose.Model, samples []sim.Sample, set ReadingSet) (PairScore, error) {
	var s PairScore
	named := 0.0
	for i := range samples {
		t := &samples[i].Truth
		if t.Second == "" {
			continue
		}
		r, err := m.Diagnose(set.Keep(samples[i].Case))
		if err != nil {
			return s, err
		}
		first, second := r.Ranking[0].ID, r.Ranking[1].ID
		s.Cars++
		for _, k := range r.Ranking {
			if k.ID == car.Healthy {
				s.Seen += b2f(k.Probability < 0.2)
			}
		}
		s.Together += b2f(first == car.Combination || second == car.Combination)
		s.OneFirst += b2f(first == car.Combination || first == t.Cause || first == t.Second)
		if r.PairA == "" {
			continue
		}
		named++
		a := r.PairA == t.Cause || r.PairA == t.Second
		b := r.PairB == t.Cause || r.PairB == t.Second
		s.Right += b2f(a && b)
		s.HalfRight += b2f(a || b)
	}
	n := max(float64(s.Cars), 1)
	s.Seen, s.Together, s.OneFirst, s.Named = s.Seen/n, s.Together/n, s.OneFirst/n, named/n
	s.Right, s.HalfRight = s.Right/max(named, 1), s.HalfRight/max(named, 1)
	return s, nil
}
