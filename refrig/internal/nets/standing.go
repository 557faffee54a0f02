package nets

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/mlp"
)

// Healthy is the distribution of both needles over healthy cars, scaled.
type Healthy struct {
	Low, High [len(BandLevels)]float64
	Rho       float64
}

// HealthyIn gives it for the context in x.
func (n *Nets) HealthyIn(x []float32, s *mlp.Scratch) (h Healthy) {
	y := n.Bands.Eval(x[:ContextSize], s)
	k := len(BandLevels)
	for i := range BandLevels {
		h.Low[i], h.High[i] = float64(y[i]), float64(y[k+i])
		if i > 0 { // quantiles may not cross
			h.Low[i] = math.Max(h.Low[i], h.Low[i-1])
			h.High[i] = math.Max(h.High[i], h.High[i-1])
		}
	}
	h.Rho = Correlation(y[2*k])
	return h
}

// Scores are the scores of an earlier visit by place in remembered, NaN for what was not
// read: of the needles by the quantiles of the kind, of the rest by the base network.
func (n *Nets) Scores(v *Visited, s *mlp.Scratch) []float64 {
	out := make([]float64, len(Remembered))
	mean, sd := Gaussians(n.Base.Eval(v.Context, s))
	h := n.HealthyIn(v.Context, s)
	for k, q := range Remembered {
		switch {
		case !v.Has[k]:
			out[k] = math.NaN()
		case q == car.Low:
			out[k] = scoreIn(h.Low, v.Value[k])
		case q == car.High:
			out[k] = scoreIn(h.High, v.Value[k])
		default:
			out[k] = float64(Standing(v.Value[k], mean[q.Place()], sd[q.Place()]))
		}
	}
	return out
}

func scoreIn(levels [len(BandLevels)]float64, v float32) float64 {
	var q [len(BandLevels)]float32
	for i, x := range levels {
		q[i] = float32(x)
	}
	return ScoreOf(q[:], float64(v))
}

// Shift is what the vehicle's own figures, or else what was learnt, move readings by,
// scaled: all of a side, and the vent. A reading less its shift is compared with the
// model's healthy cars.
type Shift struct {
	Side [3]float64 // by car.Side
	Vent float64
}

// Of is what it moves q by.
func (s *Shift) Of(q car.Quantity) float64 {
	if q == car.Vent {
		return s.Vent
	}
	return s.Side[q.Info().Side]
}
