package cycle

import (
	"math"

	"twoneedles/refrig"
)

// Limits of the iteration.
const (
	tolerance = 3e-6 // on √Σr²; 3e-6 of h_fg is 0.5 J/g, far below any instrument
	maxSteps  = 60   // of one Newton run
	maxEvals  = 3000 // residual evaluations from all starts together
	diffStep  = 1e-5 // of the difference quotients; the unknowns are of order one
)

// stepLimit is the longest step in each unknown: about e^0.4 in suction and
// e^0.2 in condensing pressure, 0.12 h_fg, 0.3 of the stroke. judgement
var stepLimit = vec{0.4, 0.2, 0.12, 0.3}

// shifts are the starts tried in turn, relative to the first guess: lower and
// higher suction, warmer and wetter, shorter and longer stroke. Nearly all cases
// need the first only; the others were added where random cars failed.
var shifts = [...]vec{{}, {-0.35, 0.15, 0.1, -0.3}, {0.3, -0.1, -0.03, 0.3}, {-0.9, 0.1, 0.2, -0.4},
	{0.5, 0.3, 0.0, 0.4}, {-0.5, -0.2, 0.25, 0}, {-1.4, 0.25, 0.3, -0.45}, {0.1, -0.3, -0.1, 0.1}}

// newtonFrom solves from start, then from the shifted starts. The error is a
// *refrig.ConvergenceError with the best iterate.
func (l *loop) newtonFrom(start vec) (vec, error) {
	var best vec
	bestN := math.Inf(1)
	begin := l.evals
	for _, s := range shifts {
		z := start
		for i := range z {
			z[i] += s[i]
		}
		l.bound(&z)
		z, n := l.newton(z)
		if l.solved(n) {
			return z, nil
		}
		if n < bestN {
			best, bestN = z, n
		}
		if l.evals-begin > maxEvals {
			break
		}
	}
	last := append([]float64(nil), best[:]...)
	return best, &refrig.ConvergenceError{What: "refrigerant loop", Iterations: l.evals - begin, Residual: bestN, Last: last}
}

// newtonOnce solves from start alone.
func (l *loop) newtonOnce(start vec) (vec, error) {
	l.bound(&start)
	z, n := l.newton(start)
	if l.solved(n) {
		return z, nil
	}
	return z, &refrig.ConvergenceError{What: "refrigerant loop", Residual: n}
}

// solved reports whether newton, which left the loop evaluated at its last
// iterate, ended in a state that can be: a residual can also vanish where a
// trickle meets a pressure drop that does not fit.
func (l *loop) solved(norm float64) bool {
	return norm < tolerance && l.short+l.choke < auditClose
}

// bound keeps z inside the tables and the pressures in order.
func (l *loop) bound(z *vec) {
	z[1] = math.Min(math.Max(z[1], l.lnPMin+0.3), l.lnPMax)
	z[0] = math.Min(math.Max(z[0], l.lnPMin), z[1]-0.03)
	z[2] = math.Min(math.Max(z[2], -0.9), 0.75)
	slo, shi := l.strokeLimits()
	z[3] = math.Min(math.Max(z[3], slo), shi)
}

// newton runs Newton's method with a difference Jacobian, kept by Broyden's
// update while it serves, and backtracking. It returns the best iterate and the
// norm of its residual.
func (l *loop) newton(z vec) (vec, float64) {
	n := l.dims()
	r := l.residual(z)
	rn := norm(r, n)
	var J [nAll]vec
	stale, fresh := true, false // must be made anew; was made at this z
	for step := 0; step < maxSteps && rn >= tolerance; step++ {
		if stale {
			l.jacobian(&J, z, r, n)
			stale, fresh = false, true
		}
		var zn, rnew vec
		nn := math.Inf(1)
		if d, ok := solveDense(J, r, n); ok {
			tries := 7
			if !fresh {
				tries = 2 // a kept Jacobian that needs more is better made anew
			}
			zn, rnew, nn = l.search(z, d, rn, n, tries)
		}
		switch {
		case nn < 0.6*rn:
			broyden(&J, z, zn, r, rnew, n)
			fresh = false
		case nn < rn:
			stale = true
		case fresh:
			return z, rn // no way down from here
		default:
			stale = true
			continue
		}
		z, r, rn = zn, rnew, nn
	}
	return z, rn
}

// search goes from z along −d, shortened to the step limits, and halves the step
// (by 0.4) until the residual falls enough or the tries are spent.
func (l *loop) search(z, d vec, rn float64, n, tries int) (zn, rnew vec, nn float64) {
	scale := 1.0
	for i := range n {
		if a := math.Abs(d[i]); a*scale > stepLimit[i] {
			scale = stepLimit[i] / a
		}
	}
	for range tries {
		zn = z
		for i := range n {
			zn[i] -= scale * d[i]
		}
		l.bound(&zn)
		rnew = l.residual(zn)
		nn = norm(rnew, n)
		if nn < rn*(1-0.05*scale) {
			break
		}
		scale *= 0.4
	}
	return zn, rnew, nn
}

// jacobian fills J[i][j] = ∂r_i/∂z_j by difference quotients, taken the other way
// at an upper bound.
func (l *loop) jacobian(J *[nAll]vec, z, r vec, n int) {
	for j := range n {
		step := diffStep
		zj := z
		zj[j] += step
		b := zj
		if l.bound(&b); b[j] != zj[j] {
			step = -diffStep
			zj[j] = z[j] + step
		}
		rj := l.residual(zj)
		for i := range n {
			J[i][j] = (rj[i] - r[i]) / step
		}
	}
}

// broyden updates J by the step from z to zn: J += (Δr − J Δz) Δzᵀ/|Δz|².
func broyden(J *[nAll]vec, z, zn, r, rn vec, n int) {
	var dz vec
	s := 0.0
	for i := range n {
		dz[i] = zn[i] - z[i]
		s += dz[i] * dz[i]
	}
	if s == 0 {
		return
	}
	for i := range n {
		e := rn[i] - r[i]
		for j := range n {
			e -= J[i][j] * dz[j]
		}
		for j := range n {
			J[i][j] += e * dz[j] / s
		}
	}
}

// norm is √Σr² over the first n.
func norm(r vec, n int) float64 {
	s := 0.0
	for _, x := range r[:n] {
		s += x * x
	}
	return math.Sqrt(s)
}

// solveDense solves J d = r by elimination with row pivoting; ok is false where J
// is singular.
func solveDense(J [nAll]vec, r vec, n int) (d vec, ok bool) {
	for k := range n {
		p := k
		for i := k + 1; i < n; i++ {
			if math.Abs(J[i][k]) > math.Abs(J[p][k]) {
				p = i
			}
		}
		if !(math.Abs(J[p][k]) > 1e-14) {
			return d, false
		}
		J[k], J[p] = J[p], J[k]
		r[k], r[p] = r[p], r[k]
		for i := k + 1; i < n; i++ {
			f := J[i][k] / J[k][k]
			for j := k; j < n; j++ {
				J[i][j] -= f * J[k][j]
			}
			r[i] -= f * r[k]
		}
	}
	for i := n - 1; i >= 0; i-- {
		s := r[i]
		for j := i + 1; j < n; j++ {
			s -= J[i][j] * d[j]
		}
		d[i] = s / J[i][i]
	}
	return d, true
}
