package diagnose

import (
	"sort"

	"twoneedles/refrig/car"
)

// Pattern is one of the five ways two needles can stand that the trade teaches, with
// what the model makes of it for one kind of car in one weather.
type Pattern struct {
	Group Group
	// Low and High are a reading that shows it, Pa gauge.
	Low, High float64
	// Members are what can put a car of this kind into the group (see [Model.Members]),
	// the likeliest there first.
	Members []Ranked
}

// patterns are the trade's patterns as steps of each needle out of its healthy band:
// −1 below, +1 above.
var patterns = []struct {
	group     Group
	low, high float64
}{
	{GroupNormal, 0, 0},
	{GroupBothLow, -1, -1},
	{GroupBothHigh, 1, 1},
	{GroupLowHighHighLow, 1, -1},
	{GroupLowLowHighHigh, -1, 1},
}

// How far beyond the edge of the healthy band a pattern is looked at, as parts of the
// half-width of that side of the band: just outside, clearly, far. Judgement.
var patternSteps = [...]float64{0.3, 0.8, 1.5}

// patternMost is how many members are listed: judgement, what a glance holds.
const patternMost = 4

// Patterns asks at nine readings of each pattern and ranks its members by the mean of
// the answers: the pattern that hardly any car shows, low below and high above, is taken
// for a doubtful gauge at any one reading, and somebody who meets it needs the names. A
// reading that no gauge can show is left out. The readings of c do not count.
func (m *Model) Patterns(c car.Case) ([]Pattern, error) {
	k, err := m.about(c)
	if err != nil {
		return nil, err
	}
	low, high := k.bands()
	beyond := func(b Band, way, step float64) float64 {
		switch {
		case way < 0:
			return b.P05 - step*(b.P50-b.P05)
		case way > 0:
			return b.P95 + step*(b.P95-b.P50)
		}
		return b.P50 + (step-patternSteps[1])*(b.P75-b.P50)
	}
	var out []Pattern
	for _, p := range patterns {
		q := Pattern{Group: p.group, Low: beyond(low, p.low, patternSteps[1]), High: beyond(high, p.high, patternSteps[1])}
		mean, n := make([]float64, len(conditions)), 0.0
		for _, sl := range patternSteps {
			for _, sh := range patternSteps {
				c.Readings = car.Readings{car.Low: {Value: beyond(low, p.low, sl)}, car.High: {Value: beyond(high, p.high, sh)}}
				if group(c.Readings, low, high) != p.group {
					continue // the sides meet there
				}
				a, err := m.Ask(c)
				if err != nil {
					continue // below a vacuum or beyond a gauge
				}
				n++
				for i, v := range a.p {
					mean[i] += v
				}
			}
		}
		for _, id := range append(m.Members(p.group, c.Car), car.Combination) {
			if id == car.Healthy && p.group != GroupNormal {
				continue // one healthy car in ten is outside its band by chance
			}
			q.Members = append(q.Members, Ranked{id, mean[car.Index(id)] / max(n, 1)})
		}
		sort.SliceStable(q.Members, func(i, j int) bool { return q.Members[i].Probability > q.Members[j].Probability })
		q.Members = q.Members[:min(len(q.Members), patternMost)]
		out = append(out, q)
	}
	return out, nil
}
