package fast

import (
	"math"
	"testing"

	"twoneedles/refrig/reftest"
)

// TestNothingFails: whatever a solver asks on its way, the answer is finite.
func TestNothingFails(t *testing.T) {
	odd := []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1e9, -1, 0, 1e-300, 1, 200, 300, 374, 1000, 3e3, 1e4, 1e5, 3e5, 4e5, 1e6, 3.9e6, 4.1e6, 1e7, 1e12, 1e300, -1e300, math.MaxFloat64}
	for _, id := range ids {
		f, _ := both(t, id)
		for _, a := range odd {
			s := f.Sat(a)
			all := []float64{f.TSat(a), f.PSat(a), s.P, s.T, s.HL, s.HV, s.SL, s.SV, s.RhoL, s.RhoV, s.CpL, s.CpV}
			for _, b := range odd {
				T, rho, ent := f.Vapour(a, b)
				U, sigma := f.Liquid(a, b)
				all = append(all, T, rho, ent, U, sigma, f.VapourH(a, b), f.VapourHS(a, b), f.LiquidH(a, b))
			}
			for i, y := range all {
				if math.IsNaN(y) || math.IsInf(y, 0) {
					t.Errorf("%s at %g: result %d is %g", id, a, i, y)
				}
			}
		}
	}
}

func TestClampsAtTheLimits(t *testing.T) {
	for _, id := range ids {
		f, _ := both(t, id)
		if f.Sat(f.PMax()*2) != f.Sat(f.PMax()) || f.Sat(1) != f.Sat(f.PMin()) {
			t.Errorf("%s: saturation is not clamped", id)
		}
		if f.PSat(1000) != f.PMax() || f.PSat(1) != f.PMin() {
			t.Errorf("%s: saturation pressure is not clamped", id)
		}
		p := 1e6
		s := f.Sat(p)
		if T, rho, ent := f.Vapour(p, s.HV-5e4); T != s.T || rho != s.RhoV || ent != s.SV {
			t.Errorf("%s: wet vapour is not clamped", id)
		}
		if T, rho := f.Liquid(p, s.HL+5e4); T != s.T || rho != s.RhoL {
			t.Errorf("%s: boiling liquid is not clamped", id)
		}
		if f.VapourH(p, s.T-9) != s.HV || f.LiquidH(p, s.T+9) != s.HL {
			t.Errorf("%s: temperature is not clamped at saturation", id)
		}
	}
}

// TestAtVariantsAgree: with or without a Sat at hand, the same bits.
func TestAtVariantsAgree(t *testing.T) {
	for _, id := range ids {
		f, _ := both(t, id)
		for _, p := range pressures(f, 20) {
			s := f.Sat(p)
			for _, d := range []float64{-30e3, 2e3, 60e3} {
				T, rho, ent := f.Vapour(p, s.HV+d)
				if a, b, c := f.VapourAt(s, s.HV+d); a != T || b != rho || c != ent {
					t.Errorf("%s VapourAt", id)
				}
				T, rho = f.Liquid(p, s.HL-d)
				if a, b := f.LiquidAt(s, s.HL-d); a != T || b != rho {
					t.Errorf("%s LiquidAt", id)
				}
				if f.VapourHAt(s, s.T+d/1e3) != f.VapourH(p, s.T+d/1e3) ||
					f.LiquidHAt(s, s.T-d/1e3) != f.LiquidH(p, s.T-d/1e3) ||
					f.VapourHSAt(s, s.SV+d/400) != f.VapourHS(p, s.SV+d/400) {
					t.Errorf("%s HAt", id)
				}
			}
		}
	}
}

// TestSplineWeights: cubic B-splines sum to one, and their slopes are slopes.
func TestSplineWeights(t *testing.T) {
	sum := func(w weights) float64 { return w.a + w.b + w.c + w.d }
	for u := 0.0; u <= 1; u += 0.125 {
		w, d := values(u), slopes(u)
		reftest.Close(t, "sum of weights", sum(w), 1, 1e-15, "rounding")
		reftest.Close(t, "sum of slopes", sum(d), 0, 1e-15, "rounding")
		const h = 1e-4
		hi, lo := values(u+h), values(u-h)
		for _, c := range [][3]float64{{d.a, hi.a, lo.a}, {d.b, hi.b, lo.b}, {d.c, hi.c, lo.c}, {d.d, hi.d, lo.d}} {
			reftest.Close(t, "slope", c[0], (c[1]-c[2])/(2*h), 1e-8, "central difference of a cubic: h²/6·3")
		}
	}
}
