package eos

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/reftest"
)

func TestSaturationIdentities(t *testing.T) {
	for _, id := range IDs() {
		f := load(t, id)
		var pressure, gibbs, clapeyron reftest.Worst
		last := Sat{RhoL: math.Inf(1)}
		for T := satTMin; T < f.SatTMax(); T += 1.7 {
			s, err := f.SatT(T)
			if err != nil {
				t.Fatal(err)
			}
			l, v := f.At(T, s.RhoL), f.At(T, s.RhoV)
			at := fmt.Sprintf("%.2f K", T)
			// A stiff liquid turns the last bit of its density into
			// 1e-16 ρ ∂p/∂ρ of pressure; measure in that.
			pressure.See((l.P-v.P)/(s.P+s.RhoL*l.DPDRho), at)
			pressure.See((v.P-s.P)/s.P, at)
			gibbs.See((l.H-T*l.S-v.H+T*v.S)/(f.rs*T), at)
			if !(s.P > last.P && s.RhoL < last.RhoL && s.RhoV > last.RhoV && s.RhoL > s.RhoV) {
				t.Errorf("%s at %s: saturation is not monotone: %+v after %+v", id, at, s, last)
			}
			last = s
			if T < f.SatTMax()-1 && T > satTMin+1 {
				p := func(T float64) float64 {
					s, err := f.SatT(T)
					if err != nil {
						t.Fatal(err)
					}
					return s.P
				}
				slope := (8*(p(T+.02)-p(T-.02)) - (p(T+.04) - p(T-.04))) / .24
				clapeyron.See(rel((v.H-l.H)/(T*(1/s.RhoV-1/s.RhoL)), slope), at)
			}
		}
		pressure.Within(t, id+" equal pressures", 1e-13, "rounding of sums of some 20 terms")
		gibbs.Within(t, id+" equal Gibbs energies, in RT", 1e-12, "rounding of h and Ts of some hundred RT")
		clapeyron.Within(t, id+" Clausius–Clapeyron", 1e-8, "five-point difference, h = 0.02 K: rounding 1e-14/1e-4, truncation less")
	}
}

// eachPhase calls back with states spread over the range, supercritical too.
func eachPhase(t *testing.T, f *Fluid, n int, with func(s refrig.State)) {
	t.Helper()
	rng := rand.New(rand.NewPCG(1, 2))
	lo, _ := f.SatRangeP()
	seen := map[refrig.Phase]int{}
	for range n {
		p := lo * math.Exp(rng.Float64()*math.Log(10e6/lo))
		T := satTMin + rng.Float64()*(f.TMax()-satTMin)
		if math.Abs(p/f.pc-1) < 0.1 && math.Abs(T/f.tc-1) < 0.01 {
			continue // too near the critical point
		}
		s, err := f.PT(p, T)
		if err != nil {
			t.Fatalf("%s at %g Pa, %g K: %v", f.ID(), p, T, err)
		}
		seen[s.Phase]++
		with(s)
	}
	for _, p := range []refrig.Phase{refrig.Liquid, refrig.Vapour, refrig.Supercritical} {
		if seen[p] < n/50 {
			t.Errorf("%s: only %d of %d states are %v", f.ID(), seen[p], n, p)
		}
	}
}

func TestRoundTrips(t *testing.T) {
	for _, id := range IDs() {
		f := load(t, id)
		var p, T, rho reftest.Worst
		eachPhase(t, f, 3000, func(s refrig.State) {
			at := fmt.Sprintf("%.6g Pa, %.6g K, %v", s.P, s.T, s.Phase)
			x := f.At(s.T, s.Rho)
			p.See((x.P-s.P)/(s.P+s.Rho*x.DPDRho), at)
			for _, back := range []func() (refrig.State, error){
				func() (refrig.State, error) { return f.PH(s.P, s.H) },
				func() (refrig.State, error) { return f.PS(s.P, s.S) },
			} {
				b, err := back()
				if err != nil {
					t.Errorf("%s at %s: %v", id, at, err)
					continue
				}
				if b.Phase != s.Phase {
					t.Errorf("%s at %s: comes back as %v", id, at, b.Phase)
				}
				T.See(b.T-s.T, at)
				rho.See(rel(b.Rho, s.Rho), at)
			}
		})
		p.Within(t, id+" p(T, ρ(p, T)) = p", 1e-12, "last Newton step is quadratic from 1e-7")
		T.Within(t, id+" T back from (p,h), (p,s)", 1e-6, "demanded")
		rho.Within(t, id+" ρ back from (p,h), (p,s)", 1e-8, "tolerance of T times expansion")
	}
}

func TestTwoPhaseRoundTrip(t *testing.T) {
	for _, id := range IDs() {
		f := load(t, id)
		for _, p := range []float64{50e3, 300e3, 1.5e6, 3e6} {
			sat, err := f.SatP(p)
			if err != nil {
				t.Fatal(err)
			}
			l, v := f.At(sat.T, sat.RhoL), f.At(sat.T, sat.RhoV)
			for _, q := range []float64{0.01, 0.3, 0.99} {
				h, s := l.H+q*(v.H-l.H), l.S+q*(v.S-l.S)
				for _, flash := range []func() (refrig.State, error){
					func() (refrig.State, error) { return f.PH(p, h) },
					func() (refrig.State, error) { return f.PS(p, s) },
				} {
					st, err := flash()
					if err != nil {
						t.Fatal(err)
					}
					at := fmt.Sprintf("%s %g Pa q %g ", id, p, q)
					if st.Phase != refrig.TwoPhase {
						t.Errorf("%s: %v", at, st.Phase)
					}
					reftest.Close(t, at+"T", st.T, sat.T, tolT, "demanded")
					reftest.Close(t, at+"q", st.Quality, q, 1e-8, "expansions good to 1e-9")
					reftest.CloseRel(t, at+"v", 1/st.Rho, (1-q)/sat.RhoL+q/sat.RhoV, 1e-7, "lever rule, expansions good to 1e-9")
					reftest.Close(t, at+"h", st.H, h, 1e-3, "expansions good to 1e-9")
				}
			}
		}
	}
}

// TestVapourIsAnIdealGasWhenThin: all residual terms vanish with density.
func TestVapourIsAnIdealGasWhenThin(t *testing.T) {
	for _, id := range IDs() {
		f := load(t, id)
		s, err := f.PT(1, 300)
		if err != nil {
			t.Fatal(err)
		}
		reftest.CloseRel(t, id+" ρ at 1 Pa", s.Rho, f.MolarMass()/(8.314*300), 1e-4, "gas constant to four digits; second virial coefficient is −0.5 dm³/mol")
		x := f.At(s.T, s.Rho)
		reftest.CloseRel(t, id+" cp − cv = R", x.Cp-x.Cv, f.rs, 1e-5, "virial terms at 1 Pa")
		reftest.CloseRel(t, id+" w² = γRT", x.W*x.W, x.Cp/x.Cv*f.rs*300, 1e-5, "virial terms at 1 Pa")
	}
}
