package cycle_test

import (
	"math"
	"testing"

	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
)

// Newton's method stops at a jump, and a jump of the model is a jump of the
// needles: no residual of any mode may have one. Straight lines between random
// points in the space of unknowns are cut into intervals and each is halved
// towards its steeper half until it is 1e-13 wide; a continuous function has
// nothing left there. (An earlier throw-away model taught it: three such
// jumps, each of about a hundredth, made most of its failures.)
func TestResidualsAreContinuous(t *testing.T) {
	const intervals, narrow = 40, 1e-13
	// A residual of order one with slopes up to 1e4 changes by 1e-9 over such an
	// interval; square roots at zero pressure difference by √1e-13 = 3e-7.
	const allowed = 2e-6
	plants := 30
	if testing.Short() {
		plants = 10
	}
	jumps := 0
	for seed := range uint64(plants) {
		p, f, c, err := randomCase(seed + 5e6)
		if err != nil {
			continue
		}
		r := fleet.NewRand(seed)
		for name, m := range cycle.Modes {
			res, n := cycle.Residual(p, f, c, m)
			for range 2 {
				a, b := randomState(r), randomState(r)
				at := func(u float64) [4]float64 {
					var z [4]float64
					for i := range z {
						z[i] = a[i] + u*(b[i]-a[i])
					}
					return res(z)
				}
				for k := range n {
					u, d := jump(func(u float64) float64 { return at(u)[k] }, intervals, narrow)
					if d > allowed {
						jumps++
						if jumps < 20 {
							t.Errorf("seed %d, %s, residual %d jumps by %.2g at %.4f of the line %.5v %.5v (%v)", seed+5e6, name, k, d, u, a, b, fault(f))
						}
					}
				}
			}
		}
	}
	if jumps > 0 {
		t.Errorf("%d jumps", jumps)
	}
}

// randomState is a point among the unknowns: suction 60…700 kPa, condensing from
// a little above that to 3.3 MPa, a third of the heat of vaporisation wet to a
// third superheated, any stroke.
func randomState(r *fleet.Rand) [4]float64 {
	ps := uniform(r, math.Log(60e3), math.Log(700e3))
	return [4]float64{ps, uniform(r, ps+0.1, math.Log(3.3e6)), uniform(r, -0.35, 0.35), uniform(r, 0.05, 1)}
}

// jump returns the largest change of f that is left in an interval of the given
// width within 0…1, and where.
func jump(f func(float64) float64, n int, width float64) (at, most float64) {
	for i := range n {
		a, b := float64(i)/float64(n), float64(i+1)/float64(n)
		fa, fb := f(a), f(b)
		for b-a > width && math.Abs(fb-fa) > 1e-9 {
			mid := (a + b) / 2
			if fm := f(mid); math.Abs(fm-fa) > math.Abs(fb-fm) {
				b, fb = mid, fm
			} else {
				a, fa = mid, fm
			}
		}
		if d := math.Abs(fb - fa); !(d <= most) {
			at, most = a, d
		}
	}
	return at, most
}
