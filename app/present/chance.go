package present

import "math"

// chances are the fractions people say, with the key of their words. A
// probability takes the nearest in log-odds, because 0.95 and 0.99 differ as
// much to a listener as 0.5 and 0.8 (judgement).
var chances = []struct {
	p   float64
	key string
}{
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
	_, key := spoken(p)
	return key
}

func probability(p float64) bool { return p >= 0 && p <= 1+1e-9 } // NaN is none

// spoken returns the fraction that is said for p, and the key of its words.
func spoken(p float64) (fraction float64, key string) {
	best := math.Inf(1)
	for _, c := range chances {
		if d := math.Abs(logit(p) - logit(c.p)); d < best {
			best, fraction, key = d, c.p, c.key
		}
	}
	return fraction, key
}

// Chance says a probability in words, never to a decimal: "about 3 in 4".
func (w *Words) Chance(p float64) string { return w.Text(ChanceKey(p), nil) }

// Percent says the same as [Words.Chance] in percent: "75 %" for about 3 in 4,
// whatever finer number it was said for, and "over 95 %" for almost certain. Nothing
// is ever 0 % or 100 %: that would claim what is not known.
func (w *Words) Percent(p float64) string {
	say := func(key string, p float64) string {
		return w.Text(key, map[string]any{"n": int(math.Round(100 * p))})
	}
	switch {
	case !probability(p):
		return w.T("number.missing")
	case p < veryUnlikely:
		return say("percent.under", veryUnlikely)
	case p < unlikely:
		return say("percent.under", unlikely)
	case p > almostCertain:
		return say("percent.over", almostCertain)
	}
	fraction, _ := spoken(p)
	return say("percent.about", fraction)
}

func logit(p float64) float64 { return math.Log(p / (1 - p)) }
