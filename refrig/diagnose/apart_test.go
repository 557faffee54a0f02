package diagnose

import (
	"math"
	"testing"

	"twoneedles/refrig/internal/nets"
)

// Two visits of which a car keeps 0.64 of its variance, worked by hand: the other foretells
// −0.64 with variance 1 − 0.64²; half of 1.64²/0.5904 + ln 0.5904 − 1 is 1.514, the kind's own
// variance being one.
func TestVisitsApart(t *testing.T) {
	k := &nets.Kept{Variance: []float64{1, 1}, Shared: []float64{0.64, 0.64}}
	no := math.NaN()
	if got := apart(k, [][]float64{{1, no}, {-1, no}}); math.Abs(got-(1.514-apartAlways-apartEach)) > 1e-3 {
		t.Errorf("visits two deviations apart: %.4f", got)
	}
	for name, scores := range map[string][][]float64{
		"one visit":           {{3, -3}},
		"nothing read twice":  {{3, no}, {no, -3}},
		"alike and far out":   {{2.5, 2.5}, {2.5, 2.5}},
		"alike and as others": {{0, 0.3}, {0.2, 0}, {-0.1, 0.1}},
	} {
		if got := apart(k, scores); got > 0 {
			t.Errorf("%s: %.3f, the same car", name, got)
		}
	}
	if got := apart(k, [][]float64{{2, 2}, {2.2, 1.8}, {-2, -2}}); got <= 0 {
		t.Errorf("one of three is another's: %.3f", got)
	}
}
