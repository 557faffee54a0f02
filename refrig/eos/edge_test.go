package eos

import (
	"errors"
	"math"
	"strings"
	"testing"

	"twoneedles/refrig"
)

// TestFlashAlwaysConverges sweeps a dense grid: where there is no answer it must
// be for range, never for want of convergence.
func TestFlashAlwaysConverges(t *testing.T) {
	for _, id := range IDs() {
		f := load(t, id)
		states, refused := 0, 0
		try := func(what string, p, v float64, s refrig.State, err error) {
			states++
			var r *refrig.RangeError
			switch {
			case err == nil:
				if !(s.T >= f.TMin()*(1-1e-9) && s.T <= f.TMax()*(1+1e-9)) {
					t.Errorf("%s %s(%g, %g): %g K is out of range", id, what, p, v, s.T)
				}
			case errors.As(err, &r):
				refused++
			default:
				t.Errorf("%s %s(%g, %g): %v", id, what, p, v, err)
			}
		}
		ps := []float64{10, 1e3, 5e3, 20e3, 100e3, 500e3, 2e6, 3e6, 20e6, 60e6}
		for _, r := range []float64{.98, .985, .988, .99, .995, .999, 1, 1.0001, 1.001, 1.01, 1.05, 1.3} {
			ps = append(ps, r*f.pc)
		}
		for _, p := range ps {
			for i := range 100 {
				u := float64(i) / 99
				s, err := f.PT(p, 190+u*(f.TMax()-180))
				try("PT", p, 190+u*(f.TMax()-180), s, err)
				h := 80e3 + u*500e3
				s, err = f.PH(p, h)
				try("PH", p, h, s, err)
				e := 500 + u*2000
				s, err = f.PS(p, e)
				try("PS", p, e, s, err)
			}
		}
		if refused > states*2/3 {
			t.Errorf("%s: %d of %d refused", id, refused, states)
		}
	}
}

// TestPropertiesRiseAlongIsobars: temperature rises with enthalpy at constant
// pressure, across the phases and without a jump.
func TestPropertiesRiseAlongIsobars(t *testing.T) {
	for _, id := range IDs() {
		f := load(t, id)
		for _, p := range []float64{30e3, 300e3, 1.5e6, 3.3e6, 5e6, 10e6} {
			last, lastRho := 0.0, math.Inf(1)
			hot, err := f.PT(p, f.TMax())
			if err != nil {
				t.Fatal(err)
			}
			for h := 150e3; h < hot.H; h += 500 {
				s, err := f.PH(p, h)
				if err != nil {
					t.Fatalf("%s PH(%g, %g): %v", id, p, h, err)
				}
				if s.T < last-1e-9 || s.Rho >= lastRho {
					t.Fatalf("%s at %g Pa, %g J/kg: T %g after %g, ρ %g after %g", id, p, h, s.T, last, s.Rho, lastRho)
				}
				if last > 0 && s.T-last > 1.5 { // cp is above 500 J/(kg K) everywhere: at most 1 K a step
					t.Errorf("%s at %g Pa, %g J/kg: temperature jumps by %g K", id, p, h, s.T-last)
				}
				last, lastRho = s.T, s.Rho
			}
		}
	}
}

func TestOutOfRangeSaysValueLimitsSource(t *testing.T) {
	f := load(t, "R134a")
	_, err := f.SatT(120)
	if want := "saturation temperature of R134a 120 K is outside 195 to 373.712 K [TillnerRoth1994]"; err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
	for name, call := range map[string]func() error{
		"SatP of vacuum":         func() error { _, err := f.SatP(0); return err },
		"FastSatP of vacuum":     func() error { _, err := f.FastSatP(0); return err },
		"FastSatP beyond":        func() error { _, err := f.FastSatP(5e6); return err },
		"SatT of NaN":            func() error { _, err := f.SatT(math.NaN()); return err },
		"PT of negative p":       func() error { _, err := f.PT(-1, 300); return err },
		"PT too hot":             func() error { _, err := f.PT(1e5, 500); return err },
		"PH too hot":             func() error { _, err := f.PH(1e5, 900e3); return err },
		"PS too cold":            func() error { _, err := f.PS(1e5, 100); return err },
		"PH of NaN":              func() error { _, err := f.PH(1e5, math.NaN()); return err },
		"PT in the critical gap": func() error { _, err := f.PT(4.03e6, 374); return err },
		"PH in the critical gap": func() error { _, err := f.PH(4.03e6, 390e3); return err },
		"lookalike too cold":     func() error { _, err := LookalikePSat("R290", 200); return err },
	} {
		var r *refrig.RangeError
		if err := call(); !errors.As(err, &r) {
			t.Errorf("%s: %v", name, err)
		} else if r.Source == "" || r.Unit == "" || !strings.Contains(r.Quantity, "R") {
			t.Errorf("%s: %+v", name, r)
		}
	}
	if _, err := LookalikePSat("R134a", 300); err == nil {
		t.Error("R134a is not a lookalike of itself")
	}
}

func TestExtrapolatedFluidGoesOn(t *testing.T) {
	f := load(t, "R1234yf")
	if _, err := f.PT(1e6, 450); err == nil {
		t.Error("450 K is outside the source's range")
	}
	s, err := f.ExtrapolatedTo(480).PT(1e6, 450)
	if err != nil || s.T != 450 {
		t.Error(s, err)
	}
	if _, err := f.PT(1e6, 450); err == nil {
		t.Error("extrapolation leaks into the original")
	}
}
