package judge

import (
	"math"

	"gonum.org/v1/gonum/floats"

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
	b := &Brute{}
	for _, s := range sim.Each(n, 500, seed, w.Draw) {
		if spoilt(&s.Truth) {
			continue
		}
		b.truths = append(b.truths, s.Truth)
		b.weight = append(b.weight, s.Weight)
		b.class = append(b.class, car.Index(s.Truth.Answer()))
	}
	return b
}

// spoilt tells whether a car has one of the two conditions that are left out.
func spoilt(t *sim.Truth) bool { return t.Cause == car.Gauge || t.Cause == car.NoneOfThese }

// spared takes the two conditions that are left out from what was answered.
func spared(p []float64) []float64 {
	p[car.Index(car.Gauge)], p[car.Index(car.NoneOfThese)] = 0, 0
	floats.Scale(1/floats.Sum(p), p)
	return p
}

// Posterior weighs the library by the readings of c named in use.
func (b *Brute) Posterior(c *car.Case, use []car.Quantity) []float64 {
	k := *c
	k.Readings = c.Readings.Steadied()
	c = &k
	logs := make([]float64, len(b.truths))
	for i := range b.truths {
		logs[i] = math.Log(b.weight[i]) + density(&b.truths[i], c, use)
	}
	return shares(logs, b.class)
}

// shares adds up weights, of which logs are given, by class and brings the sum to one.
func shares(logs []float64, class []int) []float64 {
	most := math.Inf(-1)
	for _, l := range logs {
		most = math.Max(most, l)
	}
	p := make([]float64, len(car.Conditions()))
	sum := 0.0
	for i, l := range logs {
		w := math.Exp(l - most)
		p[class[i]] += w
		sum += w
	}
	for i := range p {
		p[i] /= sum
	}
	return p
}

// density is ln of the density of the readings of c in use if the car is t, up to a
// constant that is the same for every t. It restates sim.Measure as a density: what
// a gauge is off by is the same for all that is read with it, so its readings are
// integrated over that together. (That one thermometer may serve for the weather and
// for the car at rest is left out.)
func density(t *sim.Truth, c *car.Case, use []car.Quantity) float64 {
	var lowSide, highSide []func(zero float64) float64
	sum := 0.0
	atm := t.Conditions.PAtm
	side := func(sd, bias float64) func(v, at float64) float64 {
		return func(v, at float64) float64 { return gaussian(v-at, math.Hypot(sd, bias*(at+atm))) }
	}
	for _, q := range use {
		r, ok := c.Readings[q]
		if !ok {
			continue
		}
		switch q {
		case car.Low:
			lowSide = append(lowSide, func(z float64) float64 {
				return needle(t.Low, moved(r, -z), car.QuiverLow, side(sim.SdReadLow, sim.ModelError().Low.Total()))
			})
		case car.High:
			highSide = append(highSide, func(z float64) float64 {
				return needle(t.High, moved(r, -z), car.QuiverHigh, side(sim.SdReadHigh, sim.ModelError().High.Total()))
			})
		case car.Resting:
			stands := t.Conditions.Ambient
			if c.Rest.Temperature > 0 {
				stands = c.Rest.Temperature
			}
			at, w := sim.RestErrors(c.Rest.Temperature > 0, c.Rest.Soaked)
			rest := make([]float64, len(at))
			for i := range at {
				rest[i] = t.RestAt(stands + at[i])
			}
			lowSide = append(lowSide, func(z float64) float64 {
				p := 0.0
				for i := range rest {
					p += w[i] * math.Exp(gaussian(r.Value-z-rest[i], restRead))
				}
				return math.Log(p + 1e-300)
			})
		case car.Vent:
			sum += gaussian(r.Value-t.Vent, math.Hypot(sim.SdVent, sim.ModelError().Vent.Total()))
		case car.DischargeLine:
			sum += pipe(t, r.Value, t.Discharge, sim.SdDisch, sim.ModelError().Discharge)
		case car.SuctionLine:
			sum += pipe(t, r.Value, t.Suction, sim.SdPipe, sim.ModelError().Suction)
		case car.LiquidLine: // before or after a blockage, half and half
			sum += math.Log(0.5*math.Exp(pipe(t, r.Value, t.Liquid, sim.SdPipe, sim.ModelError().Liquid)) +
				0.5*math.Exp(pipe(t, r.Value, t.CondOut, sim.SdPipe, sim.ModelError().Liquid)) + 1e-300)
		case car.Cycling:
			switch {
			case (t.Cycles > 0.05) != (r.Value > 0): // the clutch stays in, or it does not
				sum -= 60
			case r.Value > 0:
				sum += gaussian(math.Log(r.Value/t.Cycles), sim.SdCycles)
			}
		default:
			panic("judge: Brute has no density for " + string(q))
		}
	}
	for high, group := range [][]func(float64) float64{lowSide, highSide} {
		if len(group) == 0 {
			continue
		}
		at, w := sim.Zeros(high == 1)
		p := 0.0
		for i, z := range at {
			l := 0.0
			for _, f := range group {
				l += f(z)
			}
			p += w[i] * math.Exp(l)
		}
		sum += math.Log(p + 1e-300)
	}
	return sum
}

// restRead widens one look at a gauge at rest so that the nodes of the temperature
// meet: they lie some 20 kPa apart.
const restRead = 12e3 // Pa

// moved is a gauge reading moved by dp.
func moved(r car.Reading, dp float64) car.Reading {
	r.Value, r.Lo, r.Hi = r.Value+dp, r.Lo+dp, r.Hi+dp
	return r
}

func pipe(t *sim.Truth, v, at, sd, bias float64) float64 {
	return gaussian(v-(at+sim.PullPipe*(t.Conditions.Ambient-at)), math.Hypot(sd, bias))
}

// needle is the density of a gauge reading: both ends of a swing, or one moment
// of it. A swing narrower than quiver was taken for a steady needle.
func needle(n sim.Needle, r car.Reading, quiver float64, at func(v, mean float64) float64) float64 {
	if r.Swing {
		if !n.Swings {
			return -60
		}
		return math.Log(1-sim.InPassing) + at(r.Lo, n.Lo) + at(r.Hi, n.Hi)
	}
	if !n.Swings {
		return at(r.Value, n.Mean)
	}
	if n.Hi-n.Lo < quiver {
		return at(r.Value, (n.Lo+n.Hi)/2)
	}
	const moments = 9
	sum := 0.0
	for k := range moments {
		u := (float64(k) + 0.5) / moments
		sum += math.Exp(at(r.Value, n.Lo+u*(n.Hi-n.Lo)))
	}
	return math.Log(sim.InPassing*sum/moments + 1e-300)
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
