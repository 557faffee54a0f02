package judge

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/sim"
)

// Brute is Bayes' rule with nothing in between: a library of cars simulated for
// exactly one kind of car in exactly one weather, each weighed by the density
// its truth gives the readings. It is the witness of the fitted posterior, and
// far too slow for the page.
//
// It leaves out the two conditions that spoil readings (Gauge, NoneOfThese),
// whose density is not a Gaussian round a truth, and the readings that share a
// bias with the high side (idle, water, fan).
type Brute struct {
	truths []sim.Truth
	weight []float64
	class  []int
}

// NewBrute simulates n cars of w, whose Conditions must be set and whose Spec
// must name the refrigerant.
func NewBrute(w sim.World, n int, seed uint64) *Brute {
	w.Flatten = 0.5
	type item struct {
		t  sim.Truth
		wt float64
	}
	all := make([]item, n)
	sim.Parallel(n, 500, seed, func(_, lo, hi int, r *fleet.Rand) {
		for i := lo; i < hi; i++ {
			if s, err := w.Draw(r); err == nil {
				all[i] = item{s.Truth, s.Weight}
			}
		}
	})
	b := &Brute{}
	for _, k := range all {
		if k.wt == 0 || k.t.Cause == car.Gauge || k.t.Cause == car.NoneOfThese {
			continue
		}
		b.truths = append(b.truths, k.t)
		b.weight = append(b.weight, k.wt)
		b.class = append(b.class, car.Index(k.t.Answer()))
	}
	return b
}

// Posterior weighs the library by the readings of c named in use.
func (b *Brute) Posterior(c *car.Case, use []car.Quantity) []float64 {
	logs := make([]float64, len(b.truths))
	most := math.Inf(-1)
	for i := range b.truths {
		l := math.Log(b.weight[i])
		for _, q := range use {
			if r, ok := c.Readings[q]; ok {
				l += density(&b.truths[i], q, r)
			}
		}
		logs[i] = l
		most = math.Max(most, l)
	}
	p := make([]float64, len(car.Conditions()))
	sum := 0.0
	for i, l := range logs {
		w := math.Exp(l - most)
		p[b.class[i]] += w
		sum += w
	}
	for i := range p {
		p[i] /= sum
	}
	return p
}

// density is ln of the density of reading r of q if the car is t, up to a
// constant that is the same for every t. It restates Measure as a density.
func density(t *sim.Truth, q car.Quantity, r car.Reading) float64 {
	atm := t.Conditions.PAtm
	pressure := func(v, at, sd, bias float64) float64 { return gaussian(v-at, math.Hypot(sd, bias*(at+atm))) }
	switch q {
	case car.Low:
		return needle(t.Low, r, func(v, at float64) float64 { return pressure(v, at, sim.SdLow, sim.ModelError().Low) })
	case car.High:
		return needle(t.High, r, func(v, at float64) float64 { return pressure(v, at, sim.SdHigh, sim.ModelError().High) })
	case car.Resting:
		return gaussian(r.Value-t.Resting, sim.SdResting)
	case car.Vent:
		return gaussian(r.Value-t.Vent, math.Hypot(sim.SdVent, sim.ModelError().Vent))
	case car.DischargeLine:
		return pipe(t, r.Value, t.Discharge, sim.SdDisch, sim.ModelError().Discharge)
	case car.SuctionLine:
		return pipe(t, r.Value, t.Suction, sim.SdPipe, sim.ModelError().Suction)
	case car.LiquidLine:
		return pipe(t, r.Value, t.Liquid, sim.SdPipe, sim.ModelError().Liquid)
	case car.Cycling:
		if (t.Cycles > 0.05) != (r.Value > 0) {
			return -60 // the clutch stays in, or it does not
		}
		if r.Value == 0 {
			return 0
		}
		return gaussian(math.Log(r.Value/t.Cycles), sim.SdCycles)
	}
	panic("judge: Brute has no density for " + string(q))
}

func pipe(t *sim.Truth, v, at, sd, bias float64) float64 {
	return gaussian(v-(at+sim.PullPipe*(t.Conditions.Ambient-at)), math.Hypot(sd, bias))
}

// needle is the density of a gauge reading: both ends of a swing, or one moment
// of it.
func needle(n sim.Needle, r car.Reading, at func(v, mean float64) float64) float64 {
	if r.Swing {
		if !n.Swings {
			return -60
		}
		return math.Log(0.65) + at(r.Lo, n.Lo) + at(r.Hi, n.Hi)
	}
	if !n.Swings {
		return at(r.Value, n.Mean)
	}
	const moments = 9
	sum := 0.0
	for k := range moments {
		u := (float64(k) + 0.5) / moments
		sum += math.Exp(at(r.Value, n.Lo+u*(n.Hi-n.Lo)))
	}
	return math.Log(0.35*sum/moments + 1e-300)
}

// gaussian is ln of the normal density at e with standard deviation sd.
func gaussian(e, sd float64) float64 { return -0.5*e*e/(sd*sd) - math.Log(sd) }

// BruteWorld is one weather and one kind of car to compare the posteriors in.
func BruteWorld(r *fleet.Rand) sim.World {
	spec := fleet.Complete(r, car.Spec{})
	spec.Size = car.SizeUnknown
	c := sim.DrawConditions(r)
	return sim.World{Spec: spec, Conditions: &c}
}
