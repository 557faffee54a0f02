package num

import (
	"math"

	"twoneedles/refrig"
)

// Brent returns a root of f between a and b, where f must change sign, to
// within tol relative to the root (and never closer than the spacing of
// floats). what names the unknown in errors.
//
// Method: [Brent1973] ch. 4, from memory: inverse quadratic interpolation, kept
// inside a bracket that is halved whenever interpolation gains too little. A NaN
// from f ends the search with a *refrig.ConvergenceError, as does the limit of
// 100 steps; so does a bracket without a change of sign.
func Brent(what string, f func(float64) float64, a, b, tol float64) (float64, error) {
	const limit = 100
	fa, fb := f(a), f(b)
	fail := func(n int, x, fx float64) (float64, error) {
		return 0, &refrig.ConvergenceError{What: what, Iterations: n, Residual: fx, Last: []float64{x}}
	}
	if !(fa <= 0 && fb >= 0 || fa >= 0 && fb <= 0) {
		return fail(0, b, fb)
	}
	c, fc := a, fa
	d := b - a
	e := d
	for n := range limit {
		if fb > 0 == (fc > 0) {
			c, fc = a, fa
			d = b - a
			e = d
		}
		if math.Abs(fc) < math.Abs(fb) {
			a, b, c = b, c, b
			fa, fb, fc = fb, fc, fb
		}
		near := 2e-16*math.Abs(b) + tol/2*math.Abs(b)
		m := (c - b) / 2
		if math.Abs(m) <= near || fb == 0 {
			return b, nil
		}
		if math.Abs(e) < near || math.Abs(fa) <= math.Abs(fb) {
			d, e = m, m
		} else {
			var p, q float64
			s := fb / fa
			if a == c {
				p, q = 2*m*s, 1-s
			} else {
				t, r := fa/fc, fb/fc
				p = s * (2*m*t*(t-r) - (b-a)*(r-1))
				q = (t - 1) * (r - 1) * (s - 1)
			}
			if p > 0 {
				q = -q
			}
			p = math.Abs(p)
			if 2*p < math.Min(3*m*q-math.Abs(near*q), math.Abs(e*q)) {
				e, d = d, p/q
			} else {
				d, e = m, m
			}
		}
		a, fa = b, fb
		if math.Abs(d) > near {
			b += d
		} else {
			b += math.Copysign(near, m)
		}
		fb = f(b)
		if math.IsNaN(fb) {
			return fail(n+1, b, fb)
		}
	}
	return fail(limit, b, fb)
}
