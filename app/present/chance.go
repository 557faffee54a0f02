package present

import "math"

// chances are the fractions people say, with the key of their words. A
// probability takes the nearest in log-odds, because 0.95 and 0.99 differ as
// much to a listener as 0.5 and 0.8 (judgement).
var chances = []struct {
	p   float64
	key string
}{
	{1. / 20, "chance.1_in_20"},
	{1. / 10, "chance.1_in_10"},
	{1. / 5, "chance.1_in_5"},
	{1. / 4, "chance.1_in_4"},
	{1. / 3, "chance.1_in_3"},
	{2. / 5, "chance.2_in_5"},
	{1. / 2, "chance.1_in_2"},
	{3. / 5, "chance.3_in_5"},
	{2. / 3, "chance.2_in_3"},
	{3. / 4, "chance.3_in_4"},
	{4. / 5, "chance.4_in_5"},
	{9. / 10, "chance.9_in_10"},
}

// Beyond these a probability has words of its own and no fraction (judgement).
const (
	veryUnlikely  = 0.01
	unlikely      = 0.05
	almostCertain = 0.95
)

// ChanceKey returns the key of the words for probability p: "chance.3_in_4".
// Below 1 in 20, below 1 in 100 and above 19 in 20 have words of their own. A p
// that is no probability gives "chance.unknown".
func ChanceKey(p float64) string {
	switch {
	case !probability(p):
		return "chance.unknown"
	case p < veryUnlikely:
		return "chance.very_unlikely"
	case p < unlikely:
		return "chance.unlikely"
	case p > almostCertain:
		return "chance.almost_certain"
	}
	return chances[nearest(p)].key
}

func probability(p float64) bool { return p >= 0 && p <= 1+1e-9 } // NaN is none

// nearest is the place in chances of the fraction that is said for p.
func nearest(p float64) (place int) {
	best := math.Inf(1)
	for i, c := range chances {
		if d := math.Abs(logit(p) - logit(c.p)); d < best {
			best, place = d, i
		}
	}
	return place
}

// Chance says a probability in words, never to a decimal: "about 3 in 4".
func (w *Words) Chance(p float64) string { return w.Text(ChanceKey(p), nil) }

// Chances says the probabilities of things of which only one can be true, as
// [Words.Chance] says each alone, but what is said adds up to no more than one: where
// rounding to the fractions people say makes it more, the one that gained most by it
// takes the next smaller fraction.
func (w *Words) Chances(ps []float64) []string {
	said := make([]int, len(ps)) // place in chances; −1 where no fraction is said
	sum := 0.0
	for i, p := range ps {
		said[i] = -1
		switch {
		case probability(p) && p > almostCertain:
			sum += almostCertain
		case probability(p) && p >= unlikely:
			said[i] = nearest(p)
			sum += chances[said[i]].p
		}
	}
	for sum > 1+1e-9 {
		most, gain := -1, 0.0
		for i, k := range said {
			if k > 0 && chances[k].p/ps[i] > gain {
				most, gain = i, chances[k].p/ps[i]
			}
		}
		if most < 0 {
			break // nothing smaller can be said
		}
		sum -= chances[said[most]].p - chances[said[most]-1].p
		said[most]--
	}
	out := make([]string, len(ps))
	for i, k := range said {
		if k < 0 {
			out[i] = w.Chance(ps[i])
		} else {
			out[i] = w.Text(chances[k].key, nil)
		}
	}
	return out
}

func logit(p float64) float64 { return math.Log(p / (1 - p)) }
