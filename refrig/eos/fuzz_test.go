package eos

import (
	"errors"
	"math"
	"testing"

	"twoneedles/refrig"
)

// FuzzFlash: any two numbers give a finite state that satisfies the equation, or
// a typed error.
func FuzzFlash(f *testing.F) {
	for _, p := range []float64{0, -1, 1e-300, 1, 6e3, 101325, 1.9e6, 4.0179e6, 4.02e6, 4.059276e6, 4.06e6, 60e6, 9e99, math.NaN(), math.Inf(1)} {
		for _, v := range []float64{-1e6, 0, 200, 310, 400e3, 410e3, 1e3, 1.7e3, 9e99, math.NaN(), math.Inf(-1)} {
			f.Add(p, v)
		}
	}
	f.Fuzz(func(t *testing.T, p, v float64) {
		for _, id := range IDs() {
			fl := load(t, id)
			for name, flash := range map[string]func(p, v float64) (refrig.State, error){"PT": fl.PT, "PH": fl.PH, "PS": fl.PS} {
				s, err := flash(p, v)
				if err != nil {
					typed(t, err)
					continue
				}
				x := fl.At(s.T, s.Rho)
				for _, y := range []float64{s.T, s.P, s.H, s.S, s.Rho, s.Quality} {
					if math.IsNaN(y) || math.IsInf(y, 0) {
						t.Fatalf("%s %s(%g, %g) = %+v", id, name, p, v, s)
					}
				}
				// Where the pressure is flat, near the critical point, a density
				// good to 1e-9 is all one can ask; far from it that is far more.
				if s.Phase != refrig.TwoPhase && !(math.Abs(x.P-p) <= 1e-6*p+1e-9*s.Rho*math.Abs(x.DPDRho)) {
					t.Fatalf("%s %s(%g, %g) = %+v, whose pressure is %g", id, name, p, v, s, x.P)
				}
			}
			for name, sat := range map[string]func(float64) (Sat, error){
				"SatT": fl.SatT, "SatP": fl.SatP, "FastSatT": fl.FastSatT, "FastSatP": fl.FastSatP} {
				s, err := sat(v)
				if err != nil {
					typed(t, err)
				} else if !(s.T > 0 && s.P > 0 && s.RhoL > s.RhoV && s.RhoV > 0) {
					t.Fatalf("%s %s(%g) = %+v", id, name, v, s)
				}
			}
		}
		for _, id := range LookalikeIDs() {
			if y, err := LookalikePSat(id, p); err != nil {
				typed(t, err)
			} else if !(y > 0) {
				t.Fatal(id, p, y)
			}
		}
	})
}

func typed(t *testing.T, err error) {
	t.Helper()
	var r *refrig.RangeError
	var c *refrig.ConvergenceError
	if !errors.As(err, &r) && !errors.As(err, &c) {
		t.Fatalf("untyped error %T: %v", err, err)
	}
	if c != nil {
		t.Logf("not converged: %v", err)
	}
	if r != nil && (r.Quantity == "" || r.Source == "" || !(r.Min < r.Max)) {
		t.Fatalf("range error without quantity, limits or source: %+v", r)
	}
}
