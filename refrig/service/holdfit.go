package service

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// fit is one explanation of how the pressure p went with the time t after the pump
// was shut off:
//
//	tight     p = a
//	leak      p = a + r t                        air enters at the speed of sound: steady
//	moisture  p = a + b (1 − e^(−t/τ))           water evaporates up to its own pressure
//	both      p = a + r t + b (1 − e^(−t/τ))
//
// a is the pressure at t = 0. With τ given, each is linear in the rest.
type fit struct {
	a, r, b, tau float64 // Pa, Pa/s, Pa, s; tau 0 without moisture
	climbs       bool    // r is part of it
	chi2         float64 // sum of squared residuals over the variance of a reading
	ok           bool    // false where the physics forbids it
}

// at returns the fitted pressure at t, Pa.
func (f fit) at(t float64) float64 { return f.a + f.r*t + f.b*f.rise(t) }

// rise returns 1 − e^(−t/τ), 0 without moisture.
func (f fit) rise(t float64) float64 {
	if f.tau == 0 {
		return 0
	}
	return -math.Expm1(-t / f.tau)
}

// params returns how many numbers were fitted.
func (f fit) params() float64 {
	n := 1.0
	if f.climbs {
		n++
	}
	if f.tau > 0 {
		n += 2
	}
	return n
}

// series is the data of a hold test and the standard error of one reading, Pa.
type series struct {
	t, p   []float64
	sigma  float64
	finest float64 // the least that sigma may be
}

// judged returns f with its χ².
func (s series) judged(f fit) fit {
	for i, t := range s.t {
		z := (s.p[i] - f.at(t)) / s.sigma
		f.chi2 += z * z
	}
	f.ok = f.ok && !math.IsNaN(f.chi2) && !math.IsInf(f.chi2, 0)
	return f
}

func (s series) tight() fit { return s.judged(fit{a: stat.Mean(s.p, nil), ok: true}) }

func (s series) leak() fit {
	f := fit{climbs: true}
	f.a, f.r = stat.LinearRegression(s.t, s.p, nil, false)
	f.ok = f.r > 0
	return s.judged(f)
}

// moisture returns the rise of time constant tau to a plateau below ceiling, Pa.
func (s series) moisture(tau, ceiling float64) fit {
	f := fit{tau: tau}
	f.a, f.b = stat.LinearRegression(s.rises(f), s.p, nil, false)
	f.ok = f.b > 0 && f.a+f.b <= ceiling
	return s.judged(f)
}

// both returns a plateau on top of a steady climb. Three straight lines are its
// least-squares solution: what is left of p and of the rise after their own lines in
// t are taken out gives b (the theorem of Frisch, Waugh and Lovell).
func (s series) both(tau, ceiling float64) fit {
	f := fit{tau: tau, climbs: true}
	u := s.rises(f)
	_, f.b = stat.LinearRegression(without(s.t, u), without(s.t, s.p), nil, true)
	rest := append([]float64(nil), s.p...)
	floats.AddScaled(rest, -f.b, u)
	f.a, f.r = stat.LinearRegression(s.t, rest, nil, false)
	f.ok = f.b > 0 && f.r > 0 && f.a+f.b <= ceiling
	return s.judged(f)
}

func (s series) rises(f fit) []float64 {
	u := make([]float64, len(s.t))
	for i, t := range s.t {
		u[i] = f.rise(t)
	}
	return u
}

// without returns y less its regression line in x.
func without(x, y []float64) []float64 {
	a, b := stat.LinearRegression(x, y, nil, false)
	rest := make([]float64, len(y))
	for i := range y {
		rest[i] = y[i] - a - b*x[i]
	}
	return rest
}

// tauSteps is how many time constants are tried before golden sections refine the best.
const tauSteps = 40

// overTau makes fits over the range of time constants.
func (s series) overTau(with func(tau float64) fit) []fit {
	lo, hi := math.Log(taus.lo), math.Log(taus.hi)
	step := (hi - lo) / (tauSteps - 1)
	var fits []fit
	try := func(x float64) float64 {
		f := with(math.Exp(x))
		fits = append(fits, f)
		if !f.ok {
			return math.Inf(1)
		}
		return f.chi2
	}
	bestX, bestChi2 := lo, math.Inf(1)
	for i := range tauSteps {
		x := lo + float64(i)*step
		if y := try(x); y < bestChi2 {
			bestX, bestChi2 = x, y
		}
	}
	bestX = golden(max(lo, bestX-step), min(hi, bestX+step), try)
	// Good readings leave less doubt about τ than the steps above are wide. Walk away
	// from the best on both sides until χ² says no, so that the doubt is in fits too.
	bestChi2 = try(bestX)
	for _, side := range []float64{-1, 1} {
		for d := 1e-4; d < 2*step; d *= 1.3 {
			if x := bestX + side*d; x < lo || x > hi || try(x) > bestChi2+walkReach {
				break
			}
		}
	}
	return fits
}

// walkReach is how far χ² is followed: several times reach95, because scatter beyond
// the gauge's own error lowers every χ² later.
const walkReach = 10 * reach95

// golden returns where f is smallest between lo and hi after 20 golden sections, to a
// fifteen-thousandth of the interval.
func golden(lo, hi float64, f func(float64) float64) float64 {
	const g = 0.6180339887498949 // (√5 − 1)/2
	x1, x2 := hi-g*(hi-lo), lo+g*(hi-lo)
	y1, y2 := f(x1), f(x2)
	for range 20 {
		if y1 < y2 {
			hi, x2, y2 = x2, x1, y1
			x1 = hi - g*(hi-lo)
			y1 = f(x1)
		} else {
			lo, x1, y1 = x1, x2, y2
			x2 = lo + g*(hi-lo)
			y2 = f(x2)
		}
	}
	return (lo + hi) / 2
}

// bestOf returns the fit of the smallest χ²; its ok is false if there is none.
func bestOf(fits []fit) fit {
	best := fit{chi2: math.Inf(1)}
	for _, f := range fits {
		if f.ok && f.chi2 < best.chi2 {
			best = f
		}
	}
	return best
}

// reach95 is the rise of χ² that 95 % of repeated tests stay within, for one number
// of interest (square of 1.96, the normal quantile).
const reach95 = 3.8415

// profile returns value(f) of the best of fits with the limits that hold the truth 95
// times in 100: the widest, over all time constants, that keeps χ² within reach of the
// best (profile likelihood). variance(f) is the variance of the value at that time
// constant over the variance of a reading.
func profile(fits []fit, sigma float64, value, variance func(fit) float64) Estimate {
	best := bestOf(fits)
	e := exactly(value(best))
	for _, f := range fits {
		if spare := best.chi2 + reach95 - f.chi2; f.ok && spare >= 0 {
			half := sigma * math.Sqrt(spare*variance(f))
			e.Lo, e.Hi = min(e.Lo, value(f)-half), max(e.Hi, value(f)+half)
		}
	}
	return e
}

// pressureVariance returns the variance of the fitted pressure at t over that of a
// reading. Regressors made orthogonal to each other add theirs up.
func (s series) pressureVariance(f fit, t float64) float64 {
	v := 1 / float64(len(s.t))
	if f.climbs {
		d := t - stat.Mean(s.t, nil)
		v += d * d / spread(s.t)
	}
	if f.tau > 0 {
		u := s.rises(f)
		d := f.rise(t) - stat.Mean(u, nil)
		if f.climbs {
			a, b := stat.LinearRegression(s.t, u, nil, false)
			d, u = f.rise(t)-a-b*t, without(s.t, u)
		}
		v += d * d / spread(u)
	}
	return v
}

// slopeVariance returns the variance of r over that of a reading, 1/s².
func (s series) slopeVariance(f fit) float64 {
	if f.tau == 0 {
		return 1 / spread(s.t)
	}
	return 1 / spread(without(s.rises(f), s.t))
}

// spread returns the sum of squared distances from the mean.
func spread(x []float64) float64 { return stat.Variance(x, nil) * float64(len(x)-1) }

// improbable tells if chance gives a χ² this large less than once in a hundred.
func improbable(chi2, freedom float64) bool {
	return freedom > 0 && distuv.ChiSquared{K: freedom}.Survival(chi2) < 0.01
}

// falls tells if the pressure sinks, with strong evidence against its own scatter. No
// leak and no water does that: the car cools, or the gauge drifts.
func (s series) falls() bool {
	f := fit{climbs: true}
	f.a, f.r = stat.LinearRegression(s.t, s.p, nil, false)
	scale := max(1, s.judged(f).chi2/float64(len(s.t)-2))
	return f.r < 0 && f.r*f.r > strong*scale*s.sigma*s.sigma*s.slopeVariance(f)
}
