package service

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
)

// decades is a range in which one order of size is as likely as another before the
// test (log-uniform): what is said of a number of which nothing else is known.
type decades struct{ lo, hi float64 }

// What can be, before the test; all judgement. They tell a straight rise from a very
// slow evaporation: a leak is straight at every rate, water only in a corner of what
// it can do.
var (
	// climbs, Pa/s: from a micron a minute, which no shop's test shows, to a hole
	// against which the pump would have pulled no vacuum.
	climbs = decades{0.002, 50}
	// taus, s: time constants of evaporation, from a film of water in a line to wet
	// desiccant. Slower water looks like a leak in any test a shop waits for.
	taus = decades{20, 3600}
)

const (
	// leastPlateau is the lowest rise to a level that counts as one, Pa: forty microns.
	leastPlateau = 5.0
	// sigmaSteps are the errors of a reading that are tried.
	sigmaSteps = 4
	// nodes of an integral of a bell curve over at most reach standard deviations on
	// either side: errors of a percent, where factors of twenty decide.
	nodes = 10
	reach = 5.0
	// faraway is where a likelihood counts as nothing, as a logarithm: a 10⁻⁸th.
	faraway = 18.0
)

// weights are the logarithms of how probable the readings are under each explanation,
// averaged over all that it leaves open (marginal likelihood): one that could have
// explained any readings gains little by explaining these. Only differences count.
type weights struct{ tight, leak, moisture, both float64 }

// weigh averages over the climb, the plateau up to highest, its time constant and the
// error of a reading. The time constants are those of fits, which lie close together
// where χ² is small. The pressure at the start may be anything in all four.
func (s series) weigh(fits []fit, highest float64) weights {
	least := math.Inf(1) // sum of squared residuals of the best fit, Pa²
	taus := []float64{}
	for _, f := range append([]fit{s.tight(), s.leak()}, fits...) {
		if f.tau > 0 {
			taus = append(taus, f.tau)
		}
		if f.ok {
			least = min(least, f.chi2*s.sigma*s.sigma)
		}
	}
	slices.Sort(taus)
	curves := make([]moments, len(taus))
	for i, tau := range taus {
		curves[i] = s.moments(tau)
	}
	share := shares(taus)
	plateaus := decades{leastPlateau, max(2*leastPlateau, highest)}
	straight := curves[0]
	var logs [4][]float64
	for i := range sigmaSteps {
		sigma := s.sigma * math.Pow(s.finest/s.sigma, float64(i)/(sigmaSteps-1))
		scale := -float64(len(s.t)-1)*math.Log(sigma/s.sigma) - least/(2*sigma*sigma)
		var moisture, both float64
		// A curve that cannot come within far of the best adds nothing.
		far := least + 2*faraway*sigma*sigma
		for j, m := range curves {
			if m.yy-m.uy*m.uy/m.uu < far {
				moisture += share[j] * plateaus.mean(m.uy/m.uu, sigma/math.Sqrt(m.uu),
					func(b float64) float64 { return m.likelihood(0, b, sigma, least) })
			}
			uu, uy := m.uu-m.tu*m.tu/m.tt, m.uy-m.tu*m.ty/m.tt // without their own lines in t
			if m.yy-m.ty*m.ty/m.tt-uy*uy/uu < far {
				both += share[j] * plateaus.mean(uy/uu, sigma/math.Sqrt(uu),
					func(b float64) float64 { return m.overClimbs(b, sigma, least) })
			}
		}
		for k, p := range [4]float64{
			straight.likelihood(0, 0, sigma, least), straight.overClimbs(0, sigma, least), moisture, both,
		} {
			logs[k] = append(logs[k], scale+math.Log(p))
		}
	}
	return weights{floats.LogSumExp(logs[0]), floats.LogSumExp(logs[1]), floats.LogSumExp(logs[2]), floats.LogSumExp(logs[3])}
}

// shares returns the part of the range of time constants, on a logarithmic scale, that
// each of the sorted taus stands for (trapezoids).
func shares(sorted []float64) []float64 {
	out := make([]float64, len(sorted))
	all := math.Log(taus.hi / taus.lo)
	for i := 1; i < len(sorted); i++ {
		half := math.Log(sorted[i]/sorted[i-1]) / (2 * all)
		out[i-1] += half
		out[i] += half
	}
	return out
}

// moments are the sums of products of the deviations of time t, rise u = 1 − e^(−t/τ)
// and pressure y from their means.
type moments struct{ tt, uu, yy, tu, ty, uy float64 }

func (s series) moments(tau float64) moments {
	u := s.rises(fit{tau: tau})
	t0, u0, y0 := stat.Mean(s.t, nil), stat.Mean(u, nil), stat.Mean(s.p, nil)
	var m moments
	for i := range s.t {
		t, u, y := s.t[i]-t0, u[i]-u0, s.p[i]-y0
		m.tt, m.uu, m.yy = m.tt+t*t, m.uu+u*u, m.yy+y*y
		m.tu, m.ty, m.uy = m.tu+t*u, m.ty+t*y, m.uy+u*y
	}
	return m
}

// likelihood is that of climb r and plateau b, over that of a fit which leaves least.
func (m moments) likelihood(r, b, sigma, least float64) float64 {
	rest := m.yy - 2*r*m.ty - 2*b*m.uy + r*r*m.tt + 2*r*b*m.tu + b*b*m.uu
	return math.Exp((least - rest) / (2 * sigma * sigma))
}

// overClimbs is the likelihood of plateau b, averaged over the climbs.
func (m moments) overClimbs(b, sigma, least float64) float64 {
	return climbs.mean((m.ty-b*m.tu)/m.tt, sigma/math.Sqrt(m.tt),
		func(r float64) float64 { return m.likelihood(r, b, sigma, least) })
}

// mean averages f over d, where f is a bell curve around the centre, of a standard
// deviation of width.
func (d decades) mean(centre, width float64, f func(x float64) float64) float64 {
	lo, hi := max(d.lo, centre-reach*width), min(d.hi, centre+reach*width)
	if !(lo < hi) {
		return 0
	}
	step := math.Log(hi/lo) / nodes
	var sum float64
	for i := range nodes {
		sum += f(lo * math.Exp((float64(i)+0.5)*step))
	}
	return sum * step / math.Log(d.hi/d.lo)
}
