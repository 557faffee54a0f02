package diagnose

import (
	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/nets"
)

// LoopPoint is a place along the loop at which a gauge or a thermometer is read.
type LoopPoint struct {
	Quantity car.Quantity
	Sound    car.Interval // the middle 90 % of sound cars of this kind in this weather, SI
	// Boils and SoundBoils are the saturation temperatures under a needle, K: of what
	// was read and of sound cars. Both are zero at a pipe, Boils also where nothing was
	// read and where a pressure leads to no temperature.
	Boils, SoundBoils car.Interval
}

// loopQuantities are read along the loop, in the order of the refrigerant from the
// compressor; the air that the coil cools comes last.
var loopQuantities = [...]car.Quantity{car.DischargeLine, car.High, car.CondenserIn, car.CondenserOut, car.LiquidLine, car.Low, car.SuctionLine, car.Vent}

// Loop returns what sound cars of this kind show along the loop in this weather. The
// case may be without readings.
func (m *Model) Loop(c car.Case) ([]LoopPoint, error) {
	k, err := m.about(c)
	if err != nil {
		return nil, err
	}
	mean, sd := nets.Gaussians(m.nets.Base.Eval(k.x[:nets.ContextSize], &k.s))
	var out []LoopPoint
	for _, q := range loopQuantities {
		p := LoopPoint{Quantity: q}
		p.Sound, _ = k.expected(q, mean, sd)
		if q == car.Low || q == car.High {
			p.SoundBoils = k.boils(p.Sound)
			if r, ok := c.Readings[q]; ok {
				lo, hi := r.Ends()
				p.Boils = k.boils(car.Interval{Lo: lo, Hi: hi})
			}
		}
		out = append(out, p)
	}
	return out, nil
}

// boils is the saturation temperature at gauge pressures, zero above the critical point,
// where there is none, and in a vacuum, which a gauge reads too coarsely for one.
func (k *setting) boils(p car.Interval) car.Interval {
	if p.Lo < 0 || p.Hi+k.sc.Atm > k.sc.Fluid.PCrit() {
		return car.Interval{}
	}
	return car.Interval{Lo: k.sc.TSat(p.Lo), Hi: k.sc.TSat(p.Hi)}
}

// expected is where sound cars of this kind show q in this weather, the middle 90 % and
// the median, from the means and spreads of the base network.
func (k *setting) expected(q car.Quantity, mean, sd []float64) (car.Interval, float64) {
	low, high := k.bands()
	switch q {
	case car.Low:
		return car.Interval{Lo: low.P05, Hi: low.P95}, low.P50
	case car.High:
		return car.Interval{Lo: high.P05, Hi: high.P95}, high.P50
	}
	i := q.Place()
	at := func(z float64) float64 { return k.sc.Out(q, mean[i]+z*sd[i]+k.shift.Of(q)) }
	return car.Interval{Lo: at(nets.BandScores[0]), Hi: at(nets.BandScores[4])}, at(0)
}
