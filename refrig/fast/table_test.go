package fast

import (
	"fmt"
	"math"
	"testing"

	"twoneedles/refrig/eos"
	"twoneedles/refrig/reftest"
)

// Errors stated in the package comment, over the whole of the tables.
const (
	tolP   = 1e-5 // relative
	tolH   = 20.0 // J/kg
	tolRho = 1e-4 // relative
	tolT   = 0.02 // K: tolH over the smallest heat capacity, 0.5 kJ/(kg K), halved
	tolS   = 0.1  // J/(kg K): tolH over the lowest temperature
	stated = "stated in the package comment"
)

func both(t testing.TB, id string) (*Fluid, *eos.Fluid) {
	t.Helper()
	f, err := Load(id)
	if err != nil {
		t.Fatal(err)
	}
	e, err := eos.Load(id)
	if err != nil {
		t.Fatal(err)
	}
	return f, e.ExtrapolatedTo(700) // the tables reach a little beyond the sources
}

// TestTablesAreCurrent fails when an equation was changed and mktables.go was
// not run.
func TestTablesAreCurrent(t *testing.T) {
	if len(ids) != len(eos.IDs()) {
		t.Errorf("tables for %v, equations for %v", ids, eos.IDs())
	}
	for _, id := range ids {
		f, e := both(t, id)
		if f.EquationHash() != e.Hash() {
			t.Errorf("%s: made from other coefficients; run go run mktables.go in refrig/fast", id)
		}
	}
	if _, err := Load("R999"); err == nil {
		t.Error("an unknown fluid loads")
	}
}

// pressures walks through the table in steps that meet no node.
func pressures(f *Fluid, n int) []float64 {
	ps := []float64{f.PMin(), f.PMax()}
	for i := range n {
		x := f.head.XLo + (f.head.XHi-f.head.XLo)*(float64(i)+0.37)/float64(n)
		ps = append(ps, f.head.PC/math.Pow(1+x*x, 4))
	}
	return ps
}

func TestSaturation(t *testing.T) {
	for _, id := range ids {
		f, e := both(t, id)
		var temp, psat, h, s, rho, cp, inverse reftest.Worst
		for _, p := range pressures(f, 500) {
			got := f.Sat(p)
			want, err := e.SatP(got.P)
			if err != nil {
				t.Fatal(err)
			}
			l, v := e.At(want.T, want.RhoL), e.At(want.T, want.RhoV)
			at := fmt.Sprintf("%.6g Pa", p)
			temp.See(got.T-want.T, at)
			temp.See(f.TSat(p)-got.T, at)
			psat.See(f.PSat(want.T)/p-1, at)
			inverse.See(f.PSat(got.T)/p-1, at)
			h.See(got.HL-l.H, at)
			h.See(got.HV-v.H, at)
			s.See(got.SL-l.S, at)
			s.See(got.SV-v.S, at)
			rho.See(got.RhoL/want.RhoL-1, at)
			rho.See(got.RhoV/want.RhoV-1, at)
			cp.See(got.CpL/l.Cp-1, at)
			cp.See(got.CpV/v.Cp-1, at)
		}
		temp.Within(t, id+" T", 1e-4, "judgement; steepest 3 % of p per K, so below tolP")
		psat.Within(t, id+" p", tolP, stated)
		inverse.Within(t, id+" PSat(TSat(p))", 1e-6, "one Newton step; ends are clamped")
		h.Within(t, id+" h", tolH, stated)
		s.Within(t, id+" s", tolS, "tolH over the lowest temperature")
		rho.Within(t, id+" ρ", tolRho, stated)
		cp.Within(t, id+" cp", 1e-3, "judgement: only slopes are made of it")
	}
}

func TestVapour(t *testing.T) {
	for _, id := range ids {
		f, e := both(t, id)
		var temp, rho, s, h, hs, trip reftest.Worst
		for _, p := range pressures(f, 120) {
			tsat := f.TSat(p)
			hot := math.Max(430, tsat+110)
			for j := 1; j <= 60; j++ {
				// Squares crowd the steps towards saturation, where cp bends.
				T := tsat + (hot-tsat)*float64(j*j)/3600
				want, err := e.PT(p, T)
				if err != nil {
					t.Fatal(err)
				}
				at := fmt.Sprintf("%.6g Pa, %.6g K", p, T)
				gotT, gotRho, gotS := f.Vapour(p, want.H)
				temp.See(gotT-T, at)
				rho.See(gotRho/want.Rho-1, at)
				s.See(gotS-want.S, at)
				h.See(f.VapourH(p, T)-want.H, at)
				hs.See(f.VapourHS(p, want.S)-want.H, at)
				trip.See(f.VapourH(p, gotT)-want.H, at)
			}
		}
		temp.Within(t, id+" T(p, h)", tolT, stated)
		rho.Within(t, id+" ρ(p, h)", tolRho, stated)
		s.Within(t, id+" s(p, h)", tolS, "tolH over the lowest temperature")
		h.Within(t, id+" h(p, T)", tolH, stated)
		hs.Within(t, id+" h(p, s)", tolH, stated)
		trip.Within(t, id+" h(p, T(p, h))", tolH/2, "one Newton step from a rough start near the critical point; part of the stated error")
	}
}

func TestLiquid(t *testing.T) {
	for _, id := range ids {
		f, e := both(t, id)
		var temp, rho, h, trip reftest.Worst
		for _, p := range pressures(f, 120) {
			tsat := f.TSat(p)
			for j := 1; j <= 60; j++ {
				T := tsat - (tsat-198)*float64(j*j)/3600
				want, err := e.PT(p, T)
				if err != nil {
					t.Fatal(err)
				}
				at := fmt.Sprintf("%.6g Pa, %.6g K", p, T)
				gotT, gotRho := f.Liquid(p, want.H)
				temp.See(gotT-T, at)
				rho.See(gotRho/want.Rho-1, at)
				h.See(f.LiquidH(p, T)-want.H, at)
				trip.See(f.LiquidH(p, gotT)-want.H, at)
			}
		}
		temp.Within(t, id+" T(p, h)", tolT, stated)
		rho.Within(t, id+" ρ(p, h)", tolRho, stated)
		h.Within(t, id+" h(p, T)", tolH, stated)
		trip.Within(t, id+" h(p, T(p, h))", tolH/2, "as for vapour")
	}
}

// TestFarTighterWhereCarsRun: the common states, away from the critical point.
func TestFarTighterWhereCarsRun(t *testing.T) {
	for _, id := range ids {
		f, e := both(t, id)
		var h, rho reftest.Worst
		for p := 150e3; p < 2.5e6; p *= 1.07 {
			for _, superheat := range []float64{1, 7, 25, 60} {
				T := f.TSat(p) + superheat
				want, err := e.PT(p, T)
				if err != nil {
					t.Fatal(err)
				}
				at := fmt.Sprintf("%.4g Pa, %.4g K", p, T)
				h.See(f.VapourH(p, T)-want.H, at)
				_, r, _ := f.Vapour(p, want.H)
				rho.See(r/want.Rho-1, at)
			}
		}
		h.Within(t, id+" h", tolH/10, stated)
		rho.Within(t, id+" ρ", tolRho/10, stated)
	}
}
