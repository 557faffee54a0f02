package diagnose

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/nets"
)

// Heat is how far a pipe is from the saturation temperature under its gauge, beside
// what healthy cars of this kind show in this weather. Measured at the pipes it is
// the trade's superheat or subcooling.
type Heat struct {
	Pipe     car.Quantity // whose temperature was read
	Value    float64      // K; negative where the pipe reads on the wrong side of saturation
	Expected car.Interval // the middle 90 % of healthy cars, K
	Place    int          // −1 below, 0 inside, +1 above Expected
}

// superheat is taken at the compressor's inlet, where the low gauge is; nil where one
// of the two was not read.
func (a *Inference) superheat() *Heat { return a.heat(car.Low, 1, car.SuctionLine) }

// subcooling is taken in the liquid line or, failing that, at the condenser's outlet.
func (a *Inference) subcooling() *Heat {
	if h := a.heat(car.High, -1, car.LiquidLine); h != nil {
		return h
	}
	return a.heat(car.High, -1, car.CondenserOut)
}

// heat takes the difference between pipe and gauge, upward for sign 1. A needle that
// swings or is at its stop leads to no one temperature.
func (a *Inference) heat(gauge car.Quantity, sign float64, pipe car.Quantity) *Heat {
	g, okG := a.c.Readings[gauge]
	p, okP := a.c.Readings[pipe]
	if !okG || !okP || g.Swing || g.AtLeast || g.AtMost || g.Value+a.sc.Atm > a.sc.Fluid.PCrit() {
		return nil
	}
	h := &Heat{Pipe: pipe, Value: sign * (p.Value - a.sc.TSat(g.Value)), Expected: a.healthyHeat(gauge, sign, pipe)}
	h.Place = h.Expected.Place(h.Value, h.Value)
	return h
}

// heatScores are the middles of five equally likely fifths of a normal distribution.
var heatScores = [...]float64{-1.281552, -0.524401, 0, 0.524401, 1.281552}

// healthyHeat is the middle 90 % of the difference over healthy cars. Pipe and needle
// of one car go together, so the predict network is asked for the pipe beside five
// healthy needles; what differs between and within the five is taken together as one
// normal distribution.
func (a *Inference) healthyHeat(gauge car.Quantity, sign float64, pipe car.Quantity) car.Interval {
	h, sc, at := &a.healthy, a.sc, pipe.Place()
	x := make([]float32, len(a.x))
	var sum, squares, within float64
	for _, z := range heatScores {
		low, high := z, h.Rho*z
		if gauge == car.High {
			low, high = h.Rho*z, z
		}
		needles := car.Readings{
			car.Low:  {Value: sc.Out(car.Low, nets.QuantileOf(h.Low[:], low))},
			car.High: {Value: sc.Out(car.High, nets.QuantileOf(h.High[:], high))},
		}
		clear(x)
		copy(x, a.x[:nets.ContextSize])
		nets.WriteReadings(needles, sc, &nets.Shift{}, x)
		nets.Compare(x, a.mean, a.sd)
		mean, sd := a.m.nets.PredictUnder(x, car.Healthy, &a.s)
		mid := sign * (sc.Out(pipe, mean[at]) - sc.TSat(needles[gauge].Value))
		spread := sd[at] * pipe.Info().Scale.Spread
		sum, squares, within = sum+mid, squares+mid*mid, within+spread*spread
	}
	n := float64(len(heatScores))
	mid := sum / n
	half := nets.BandScores[4] * math.Sqrt(math.Max(squares/n-mid*mid, 0)+within/n)
	return car.Interval{Lo: mid - half, Hi: mid + half}
}
