package diagnose

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/nets"
)

// Deviation is how far both needles and the vent lie from sound cars of this kind in
// this weather, taken together.
type Deviation struct {
	// Square is the squared distance, in standard deviations along every direction
	// (Mahalanobis): of a sound car it is distributed like χ² with one degree of freedom
	// for each reading. A vent colder than the median adds nothing.
	Square float64
	Of     []car.Quantity // the readings it is made of
}

// Deviation returns it for the readings of the case that belong to it; none is a
// Deviation of nothing.
func (a *Inference) Deviation() Deviation {
	var d Deviation
	low, high := a.bands()
	score := func(q car.Quantity, b Band) (float64, bool) {
		r, ok := a.c.Readings[q]
		if !ok {
			return 0, false
		}
		d.Of = append(d.Of, q)
		var at [len(nets.BandLevels)]float32
		for i, v := range [len(nets.BandLevels)]float64{b.P05, b.P25, b.P50, b.P75, b.P95} {
			at[i] = float32(a.sc.In(q, v))
		}
		return nets.ScoreOf(at[:], a.sc.In(q, r.Value)), true
	}
	l, okL := score(car.Low, low)
	h, okH := score(car.High, high)
	rho := a.healthy.Rho
	switch {
	case okL && okH:
		d.Square = (l*l - 2*rho*l*h + h*h) / (1 - rho*rho)
	default:
		d.Square = l*l + h*h // one of them is 0
	}
	for i, q := range quantities {
		r, ok := a.c.Readings[q]
		if q != car.Vent || !ok {
			continue
		}
		d.Of = append(d.Of, q)
		v := math.Max(0, (a.sc.In(q, r.Value)-a.shift.Of(q)-a.mean[i])/a.sd[i])
		d.Square += v * v
	}
	return d
}
