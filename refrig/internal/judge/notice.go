package judge

import (
	"math"
	"slices"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/sim"
)

// How often a visit that is another car's can be noticed: by the answer, and by Bayes'
// rule with nothing in between, which no observer of the same readings can beat.

// Suspected is how suspicious an earlier visit is to the fitted answer and to brute force.
type Suspected struct{ Fitted, Brute float64 }

// Caught is the share of wrong visits that are more suspicious than what a share alarms of
// the right ones are beyond.
func Caught(right, wrong []Suspected, alarms float64) (fitted, brute float64) {
	at := func(of func(Suspected) float64) float64 {
		var s []float64
		for _, k := range right {
			s = append(s, of(k))
		}
		slices.Sort(s)
		limit, n := s[len(s)-1-int(alarms*float64(len(s)))], 0.0
		for _, k := range wrong {
			n += b2f(of(k) > limit)
		}
		return n / math.Max(float64(len(wrong)), 1)
	}
	return at(func(k Suspected) float64 { return k.Fitted }), at(func(k Suspected) float64 { return k.Brute })
}

// Stranger weighs what was read then and now as one car's against two cars'.
type Stranger struct{ same, other *BrutePairs }

// NewStranger simulates n cars met twice and n that are met in place of another, of w, as
// [NewBrutePairs] does.
func NewStranger(w sim.World, n int, seed uint64) *Stranger {
	return &Stranger{newBrutePairs(w, n, seed, sim.NotWrong), newBrutePairs(w, n, seed+1, sim.AnotherCar)}
}

// Suspicion is ln of how much likelier the needles and the vent of both visits are if the
// earlier is another car's. What is read today is as likely either way.
func (s *Stranger) Suspicion(c *car.Case) float64 {
	then, now := c.Earlier[0].Readings, c.Readings.Steadied()
	return s.other.evidence(then, nil) + s.same.evidence(nil, now) - s.same.evidence(then, now)
}

// evidence is ln of the density of what was read over the library.
func (b *BrutePairs) evidence(then, now car.Readings) float64 {
	logs := make([]float64, len(b.now))
	sim.Parallel(len(b.now), 200, 1, func(_, lo, hi int, _ *fleet.Rand) {
		for i := lo; i < hi; i++ {
			logs[i] = math.Log(metDensity(&b.then[i], &b.now[i], then, now) + 1e-300)
		}
	})
	most, sum, all := slices.Max(logs), 0.0, 0.0
	for i, l := range logs {
		sum += b.weight[i] * math.Exp(l-most)
		all += b.weight[i]
	}
	return most + math.Log(sum/all)
}

// metDensity is what exp of pairDensity is, in one step in place of thousands: what the
// model is off by for this car, and what a good gauge or a worn one is, are taken as normal,
// and a needle that swings as read somewhere in its swing.
func metDensity(t0, t1 *sim.Truth, then, now car.Readings) float64 {
	e := sim.ModelError()
	p := 1.0
	for _, side := range []struct {
		q     car.Quantity
		gauge *gauge
		read  float64
		error fleet.Error
		of    func(*sim.Truth) sim.Needle
	}{
		{car.Low, &lowGauge, sim.SdReadLow, e.Low, func(t *sim.Truth) sim.Needle { return t.Low }},
		{car.High, &highGauge, sim.SdReadHigh, e.High, func(t *sim.Truth) sim.Needle { return t.High }},
	} {
		var off, fresh, own [2]float64 // of each visit: how far off, variance that is drawn anew, deviation that stays
		var has [2]bool
		for i, k := range []struct {
			t    *sim.Truth
			read car.Readings
		}{{t0, then}, {t1, now}} {
			r, ok := k.read[side.q]
			if !ok {
				continue
			}
			n, swing := side.of(k.t), 0.0
			switch {
			case r.Swing && !n.Swings:
				return 0
			case r.Swing:
				r.Value, p = (r.Lo+r.Hi)/2, p*(1-sim.InPassing)
			case n.Swings:
				swing, p = (n.Hi-n.Lo)/math.Sqrt(12), p*sim.InPassing
			}
			abs := n.Mean + k.t.Conditions.PAtm
			has[i], off[i], own[i] = true, r.Value-n.Mean, side.error.Between*abs
			fresh[i] = side.read*side.read + swing*swing + math.Pow(side.error.Within*abs, 2)
		}
		p *= side.gauge.overBoth(has, off, fresh, own)
	}
	var off, fresh, own [2]float64
	var has [2]bool
	for i, k := range []struct {
		t    *sim.Truth
		read car.Readings
	}{{t0, then}, {t1, now}} {
		if r, ok := k.read[car.Vent]; ok {
			has[i], off[i], own[i] = true, r.Value-k.t.Vent, e.Vent.Between
			fresh[i] = sim.SdVent*sim.SdVent + e.Vent.Within*e.Vent.Within
		}
	}
	return p * normalPair(has, off, fresh, own)
}

// gauge is how many gauges are good or worn, and by what variance their zero is off.
type gauge [2]struct{ share, variance float64 }

func gaugeOf(high bool) (g gauge) {
	at, w := sim.Zeros(high) // of a good one and of a worn one, in turns
	for i := range at {
		g[i%2].share += w[i]
		g[i%2].variance += w[i] * at[i] * at[i]
	}
	for i := range g {
		g[i].variance /= g[i].share
	}
	return g
}

var lowGauge, highGauge = gaugeOf(false), gaugeOf(true)

// overBoth is [normalPair] over what the gauges of both visits may be.
func (g *gauge) overBoth(has [2]bool, off, fresh, own [2]float64) float64 {
	sum := 0.0
	for _, a := range g {
		for _, b := range g {
			sum += a.share * b.share * normalPair(has, off, [2]float64{fresh[0] + a.variance, fresh[1] + b.variance}, own)
		}
	}
	return sum
}

// normalPair is the density of one or two normal variates that share a part.
func normalPair(has [2]bool, off, fresh, own [2]float64) float64 {
	v := [2]float64{fresh[0] + own[0]*own[0], fresh[1] + own[1]*own[1]}
	switch {
	case has[0] && has[1]:
		c := own[0] * own[1]
		det := v[0]*v[1] - c*c
		return math.Exp(-0.5*(v[1]*off[0]*off[0]+v[0]*off[1]*off[1]-2*c*off[0]*off[1])/det) / math.Sqrt(det)
	case has[0]:
		return math.Exp(-0.5*off[0]*off[0]/v[0]) / math.Sqrt(v[0])
	case has[1]:
		return math.Exp(-0.5*off[1]*off[1]/v[1]) / math.Sqrt(v[1])
	}
	return 1
}

// Notice draws n pairs each of the world w, which the library of s is of, with the readings
// of set, which may hold needles and vent: right ones, and some with another car's visit.
func Notice(m *diagnose.Model, w sim.World, s *Stranger, set ReadingSet, n int, seed uint64) (right, wrong []Suspected, err error) {
	for _, k := range []struct {
		of sim.Wrong
		to *[]Suspected
	}{{sim.NotWrong, &right}, {sim.AnotherCar, &wrong}} {
		for _, p := range Pairs(w, n, seed+uint64(k.of), k.of) {
			c := set.KeepEarlier(set.Keep(p.Case), 1)
			if len(c.Earlier) == 0 || spoilt(&p.Truth) {
				continue
			}
			r, err := m.Answer(c)
			if err != nil {
				return nil, nil, err
			}
			*k.to = append(*k.to, Suspected{r.Memory.Wrong, s.Suspicion(&c)})
		}
	}
	return right, wrong, nil
}
