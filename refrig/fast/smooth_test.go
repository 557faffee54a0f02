package fast

import (
	"fmt"
	"math"
	"testing"

	"twoneedles/refrig/reftest"
)

// TestMeetsSaturationExactly: no jump where a state leaves the dome.
func TestMeetsSaturationExactly(t *testing.T) {
	for _, id := range ids {
		f, _ := both(t, id)
		for _, p := range pressures(f, 200) {
			s := f.Sat(p)
			const d = 1e-3 // J/kg
			T, rho, ent := f.Vapour(p, s.HV+d)
			at := fmt.Sprintf("%s %.4g Pa ", id, p)
			reftest.Close(t, at+"T of vapour", T, s.T, 2*d/400, "1 mJ/kg over cp")
			reftest.CloseRel(t, at+"ρ of vapour", rho, s.RhoV, 1e-6, "1 mJ/kg")
			reftest.Close(t, at+"s of vapour", ent, s.SV, 2*d/200, "1 mJ/kg over T")
			T, rho = f.Liquid(p, s.HL-d)
			reftest.Close(t, at+"T of liquid", T, s.T, 2*d/400, "1 mJ/kg over cp")
			reftest.CloseRel(t, at+"ρ of liquid", rho, s.RhoL, 1e-6, "1 mJ/kg")
			reftest.Close(t, at+"h(p, s) above", f.VapourHS(p, s.SV+1e-6), s.HV, 2e-3, "1e-6 J/(kg K) times T")
			reftest.Close(t, at+"h(p, s) below", f.VapourHS(p, s.SV-1e-6), s.HV, 2e-3, "1e-6 J/(kg K) times T")
			reftest.Close(t, at+"h(p, s) of liquid", f.VapourHS(p, s.SL), s.HL, 1e-6, "end of the lever")
			// The slope dh/ds is T on both sides.
			up := (f.VapourHS(p, s.SV+0.01) - s.HV) / 0.01
			down := (s.HV - f.VapourHS(p, s.SV-0.01)) / 0.01
			reftest.CloseRel(t, at+"dh/ds across", up, down, 1e-3, "errors of the tables over the latent heat, near the critical point")
		}
	}
}

// TestNoSeams: first derivatives do not jump across cells, in either direction.
// At each border the slopes just before and just behind must agree as well as
// two slopes within a cell do.
func TestNoSeams(t *testing.T) {
	for _, id := range ids {
		f, _ := both(t, id)
		for _, g := range []struct {
			name  string
			cells int
			at    func(p, h float64) float64
			h     float64
		}{
			{"TSat", satCells, func(p, _ float64) float64 { return f.TSat(p) }, 0},
			{"HV", satCells, func(p, _ float64) float64 { return f.Sat(p).HV / 1e3 }, 0},
			{"RhoL", satCells, func(p, _ float64) float64 { return f.Sat(p).RhoL }, 0},
			{"T of vapour", phaseCellsX, func(p, h float64) float64 { T, _, _ := f.Vapour(p, h); return T }, 480e3},
			{"ρ of vapour", phaseCellsX, func(p, h float64) float64 { _, r, _ := f.Vapour(p, h); return r }, 480e3},
			{"T of liquid", phaseCellsX, func(p, h float64) float64 { T, _ := f.Liquid(p, h); return T }, 105e3},
			{"h of vapour", phaseCellsX, func(p, T float64) float64 { return f.VapourH(p, T) / 1e3 }, 400},
		} {
			for i := 1; i < g.cells; i++ {
				x := f.head.XLo + (f.head.XHi-f.head.XLo)*float64(i)/float64(g.cells)
				p := f.head.PC / math.Pow(1+x*x, 4)
				d := 1e-5 * p
				before := (g.at(p-d, g.h) - g.at(p-2*d, g.h)) / d
				across := (g.at(p+d, g.h) - g.at(p-d, g.h)) / (2 * d)
				behind := (g.at(p+2*d, g.h) - g.at(p+d, g.h)) / d
				if jump := math.Abs(behind - before); jump > 2e-3*math.Abs(across)+1e-3*math.Abs(g.at(p, g.h))/p {
					t.Errorf("%s %s: slope jumps from %g to %g at %g Pa", id, g.name, before, behind, p)
				}
			}
		}
		p := 1e6
		s := f.Sat(p)
		end := f.vapour.end - s.HV
		for j := 1; j <= phaseCellsY; j++ { // the last border is the end of the table
			u := float64(j) / phaseCellsY
			h := s.HV + u*f.vapour.soft*end/(end+f.vapour.soft-u*end)
			slope := func(a, b float64) float64 {
				Ta, _, _ := f.Vapour(p, a)
				Tb, _, _ := f.Vapour(p, b)
				return (Tb - Ta) / (b - a)
			}
			before, behind := slope(h-2, h-1), slope(h+1, h+2)
			reftest.CloseRel(t, fmt.Sprintf("%s ∂T/∂h at %g J/kg", id, h), behind, before, 1e-4, "curvature over 3 J/kg, rounding 1e-13/1")
		}
	}
}

// TestTrends: what a solver relies on to find its way.
func TestTrends(t *testing.T) {
	for _, id := range ids {
		f, _ := both(t, id)
		lo, hi := f.PMin(), f.PMax()
		lastT, lastV := 0.0, math.Inf(1)
		for i := range 2000 {
			p := lo * math.Exp(math.Log(hi/lo)*float64(i)/1999)
			s := f.Sat(p)
			if !(s.T > lastT && 1/s.RhoV < lastV && s.HL < s.HV && s.SL < s.SV && s.RhoL > s.RhoV && s.CpL > 0 && s.CpV > 0) {
				t.Fatalf("%s at %g Pa: %+v", id, p, s)
			}
			lastT, lastV = s.T, 1/s.RhoV
			last, lastRho, lastS := 0.0, math.Inf(1), 0.0
			for y := 0.0; y < 400e3; y += 9e3 { // beyond the end of the table too
				T, rho, ent := f.Vapour(p, s.HV+y)
				if !(T > last && rho < lastRho && ent > lastS) {
					t.Fatalf("%s at %g Pa, %g J/kg above saturation: not monotone", id, p, y)
				}
				last, lastRho, lastS = T, rho, ent
			}
		}
	}
}
