//go:build !js

package fit

import (
	"math/rand/v2"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/internal/mlp"
	"twoneedles/refrig/internal/nets"
	"twoneedles/refrig/sim"
)

// bandRow is one healthy car: its context and where its needles stand, noise
// free but with the model's discrepancy.
type bandRow struct {
	x         []float32
	low, high float64 // scaled
}

func healthyRows(rc nets.Recipe) []bandRow {
	world := sim.World{Mixed: true}
	return sim.Each(rc.HealthyCars, 1000, rc.Seed+77, func(r *fleet.Rand) (bandRow, error) { return healthyRow(&world, r) })
}

func healthyRow(w *sim.World, r *fleet.Rand) (bandRow, error) {
	k, low, high, err := w.DrawSound(r)
	if err != nil {
		return bandRow{}, err
	}
	sc, err := nets.NewScaler(&k)
	if err != nil {
		return bandRow{}, err
	}
	k.Readings = k.Readings.Steadied()
	full := make([]float32, nets.InputSize)
	nets.Write(&k, sc, full)
	return bandRow{full[:nets.ContextSize:nets.ContextSize], sc.In(car.Low, low), sc.In(car.High, high)}, nil
}

// bandTask: five quantiles of each needle by the pinball loss, and the
// correlation of their normal scores.
func bandTask(rows []bandRow) mlp.Task {
	n := len(nets.BandLevels)
	return mlp.Task{
		Sample: func(r *rand.Rand, x []float32) int {
			i := r.IntN(len(rows))
			copy(x, rows[i].x)
			hideContext(r, x)
			return i
		},
		Loss: func(i int, _, y, dy []float32) float64 {
			k := &rows[i]
			loss := 0.0
			for j, p := range nets.BandLevels {
				for side, v := range [2]float64{k.low, k.high} {
					e := v - float64(y[side*n+j])
					if e > 0 {
						dy[side*n+j] = float32(-p)
						loss += p * e
					} else {
						dy[side*n+j] = float32(1 - p)
						loss += (p - 1) * e
					}
				}
			}
			a := nets.ScoreOf(y[:n], k.low)
			b := nets.ScoreOf(y[n:2*n], k.high)
			rho := nets.Correlation(y[2*n])
			d := 1 - rho*rho
			q := a*a - 2*rho*a*b + b*b
			// −ln of the bivariate normal density: ½ ln(1−ρ²) + q/(2(1−ρ²))
			slope := -rho/d - a*b/d + rho*q/(d*d)
			dy[2*n] = float32(0.05 * slope * 0.95 * (1 - (rho/0.95)*(rho/0.95)))
			return loss
		},
	}
}
