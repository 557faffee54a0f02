package judge

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/sim"
)

// BrutePairs is [Brute] for a car met once before: every car of the library has a truth
// then and a truth today, and what the model is off by for the car itself is integrated
// over both visits together. It knows the needles and the vent.
type BrutePairs struct {
	then, now []sim.Truth
	weight    []float64
	class     []int
}

// NewBrutePairs simulates n cars of w, whose Conditions and Met must be set.
func NewBrutePairs(w sim.World, n int, seed uint64) *BrutePairs {
	return newBrutePairs(w, n, seed, sim.NotWrong)
}

func newBrutePairs(w sim.World, n int, seed uint64, wrong sim.Wrong) *BrutePairs {
	w.Flatten = 0.5
	b := &BrutePairs{}
	for _, k := range Pairs(w, n, seed, wrong) {
		if spoilt(&k.Truth) {
			continue
		}
		b.then, b.now = append(b.then, k.Then[0]), append(b.now, k.Truth)
		b.weight = append(b.weight, k.Weight)
		b.class = append(b.class, car.Index(k.Truth.Answer()))
	}
	return b
}

// Posterior weighs the library by the needles and the vent of both visits of c; of today
// alone if it has no earlier one.
func (b *BrutePairs) Posterior(c *car.Case) []float64 {
	now := c.Readings.Steadied()
	var then car.Readings
	if len(c.Earlier) > 0 {
		then = c.Earlier[0].Readings
	}
	logs := make([]float64, len(b.now))
	sim.Parallel(len(b.now), 200, 1, func(_, lo, hi int, _ *fleet.Rand) {
		for i := lo; i < hi; i++ {
			logs[i] = math.Log(b.weight[i]) + pairDensity(&b.then[i], &b.now[i], then, now)
		}
	})
	return shares(logs, b.class)
}

// pairDensity is ln of the density of what was read then and now if the car was t0 and
// is t1: a sum over what the model may be off by for this car, of products over the
// visits, of sums over what the gauge of the visit may be off by.
func pairDensity(t0, t1 *sim.Truth, then, now car.Readings) float64 {
	e := sim.ModelError()
	sum := 0.0
	for _, side := range []struct {
		q       car.Quantity
		high    bool
		sd      float64
		between float64
		within  float64
		quiver  float64
		of      func(*sim.Truth) sim.Needle
	}{
		{car.Low, false, sim.SdReadLow, e.Low.Between, e.Low.Within, car.QuiverLow, func(t *sim.Truth) sim.Needle { return t.Low }},
		{car.High, true, sim.SdReadHigh, e.High.Between, e.High.Within, car.QuiverHigh, func(t *sim.Truth) sim.Needle { return t.High }},
	} {
		at, w := sim.Zeros(side.high)
		visit := func(t *sim.Truth, read car.Readings, bias float64) float64 {
			r, ok := read[side.q]
			if !ok {
				return 1
			}
			n, atm, p := side.of(t), t.Conditions.PAtm, 0.0
			move := func(g float64) float64 { return (g+atm)*bias - atm }
			n.Mean, n.Lo, n.Hi = move(n.Mean), move(n.Lo), move(n.Hi)
			for i, z := range at {
				p += w[i] * math.Exp(needle(n, moved(r, -z), side.quiver, func(v, mean float64) float64 {
					return gaussian(v-mean, math.Hypot(side.sd, side.within*(mean+atm)))
				}))
			}
			return p
		}
		p := 0.0
		const steps = 17 // over what fleet.Normal draws, a quarter of its deviation apart
		for k := range steps {
			x := -2.2 + 4.4*float64(k)/(steps-1)
			bias := math.Exp(side.between * x)
			p += math.Exp(-x*x/2) * visit(t0, then, bias) * visit(t1, now, bias)
		}
		sum += math.Log(p + 1e-300)
	}
	r1, ok1 := now[car.Vent]
	r0, ok0 := then[car.Vent]
	fresh, own := math.Hypot(sim.SdVent, e.Vent.Within), e.Vent.Between
	switch {
	case ok0 && ok1: // two normal variates that share own²
		v, c := fresh*fresh+own*own, own*own
		d0, d1 := r0.Value-t0.Vent, r1.Value-t1.Vent
		det := v*v - c*c
		sum -= 0.5 * (v*(d0*d0+d1*d1) - 2*c*d0*d1) / det
	case ok0:
		sum += gaussian(r0.Value-t0.Vent, math.Hypot(fresh, own))
	case ok1:
		sum += gaussian(r1.Value-t1.Vent, math.Hypot(fresh, own))
	}
	return sum
}

// PairComparison is log-loss in bit on the same cars met twice: the fitted answer and
// brute force, each without and with the earlier visit.
type PairComparison struct {
	Cars                  float64
	Fitted, FittedWith    float64
	Brute, BruteWith      float64
	Top1Fitted, Top1Brute float64 // with
}

// CompareBrutePairs scores them on pairs of the world of the library with the readings
// of set, which may hold needles and vent.
func CompareBrutePairs(m *diagnose.Model, pairs []sim.Pair, set ReadingSet, b *BrutePairs) (PairComparison, error) {
	var k PairComparison
	fitted := Posterior(m)
	for i := range pairs {
		t := &pairs[i].Truth
		if spoilt(t) {
			continue
		}
		with := set.KeepEarlier(set.Keep(pairs[i].Case), 1)
		if len(with.Earlier) == 0 {
			continue
		}
		without := with
		without.Earlier = nil
		truth := car.Index(t.Answer())
		bits := func(p []float64) float64 { return -math.Log2(math.Max(p[truth], 1e-4)) }
		p, err := fitted(without)
		if err != nil {
			return k, err
		}
		k.Fitted += bits(spared(p))
		if p, err = fitted(with); err != nil {
			return k, err
		}
		p = spared(p)
		k.FittedWith += bits(p)
		first, _ := twoBest(p)
		k.Top1Fitted += b2f(first == truth)
		k.Brute += bits(b.Posterior(&without))
		p = b.Posterior(&with)
		k.BruteWith += bits(p)
		first, _ = twoBest(p)
		k.Top1Brute += b2f(first == truth)
		k.Cars++
	}
	for _, v := range k.means() {
		*v /= math.Max(k.Cars, 1)
	}
	return k, nil
}

func (k *PairComparison) means() []*float64 {
	return []*float64{&k.Fitted, &k.FittedWith, &k.Brute, &k.BruteWith, &k.Top1Fitted, &k.Top1Brute}
}

// Add takes the cars of other into the means.
func (k *PairComparison) Add(other PairComparison) {
	all := math.Max(k.Cars+other.Cars, 1)
	from := other.means()
	for i, v := range k.means() {
		*v = (*v*k.Cars + *from[i]*other.Cars) / all
	}
	k.Cars += other.Cars
}

// BrutePairWorld is one kind of car in one weather today, met once before in another.
func BrutePairWorld(r *fleet.Rand) sim.World {
	w := BruteWorld(r)
	c := sim.DrawConditions(r)
	w.Met = &sim.Meeting{Months: []float64{3, 12, 30}[r.IntN(3)], Charge: float64(r.IntN(2)), Conditions: &c}
	return w
}
