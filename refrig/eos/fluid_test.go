package eos

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/reftest"
)

// TestColumnSums guards the coefficients against slips that no engineering test
// would see. The sums were made by another program from the reference copy.
func TestColumnSums(t *testing.T) {
	for _, id := range IDs() {
		e := load(t, id).eq
		var s columnSums
		row := func(i int) {
			if s.Terms++; i != s.Terms {
				t.Errorf("%s: row %d is numbered %d", id, s.Terms, i)
			}
		}
		for _, p := range e.Power {
			row(p.I)
			s.N, s.T, s.D, s.L = s.N+p.N, s.T+p.T, s.D+float64(p.D), s.L+float64(p.L)
		}
		for _, g := range e.Gaussian {
			row(g.I)
			s.N, s.T, s.D = s.N+g.N, s.T+g.T, s.D+float64(g.D)
			s.Eta, s.Epsilon, s.Beta, s.Gamma = s.Eta+g.Eta, s.Epsilon+g.Epsilon, s.Beta+g.Beta, s.Gamma+g.Gamma
		}
		w := e.Sums
		if s.Terms != w.Terms {
			t.Errorf("%s: %d terms, want %d", id, s.Terms, w.Terms)
		}
		for _, c := range []struct {
			name      string
			got, want float64
		}{
			{"n", s.N, w.N}, {"t", s.T, w.T}, {"d", s.D, w.D}, {"l", s.L, w.L},
			{"η", s.Eta, w.Eta}, {"ε", s.Epsilon, w.Epsilon}, {"β", s.Beta, w.Beta}, {"γ", s.Gamma, w.Gamma},
		} {
			reftest.Close(t, id+" Σ"+c.name, c.got, c.want, 1e-12*math.Max(1, math.Abs(c.want)), "rounding of a sum of at most 22")
		}
	}
}

// TestCheckPoints evaluates each equation where the reference library printed it
// to ten digits. A sum does not see two rows exchanging an exponent; this does.
func TestCheckPoints(t *testing.T) {
	for _, id := range IDs() {
		f := load(t, id)
		if len(f.eq.Check) < 5 {
			t.Errorf("%s: %d check points", id, len(f.eq.Check))
		}
		for _, c := range f.eq.Check {
			x := f.At(c.T, c.Rho)
			at := fmt.Sprintf("%s, %s: ", id, c.Src)
			// ρ is printed to ten digits; a stiff liquid turns half a unit of the
			// last into ∂p/∂ρ times as much.
			half := 0.5 * math.Pow(10, math.Floor(math.Log10(c.Rho))-9)
			reftest.Close(t, at+"p", x.P, c.P, half*x.DPDRho+1e-9*c.P, "ten printed digits of ρ")
			reftest.CloseRel(t, at+"h", x.H, c.H, 1e-8, "ten printed digits")
			reftest.CloseRel(t, at+"s", x.S, c.S, 1e-8, "ten printed digits")
			reftest.CloseRel(t, at+"cp", x.Cp, c.Cp, 1e-8, "ten printed digits")
			reftest.CloseRel(t, at+"w", x.W, c.W, 1e-8, "ten printed digits")
		}
	}
}

// TestCriticalPoint: the critical isotherm has a horizontal inflection there.
func TestCriticalPoint(t *testing.T) {
	for _, id := range IDs() {
		f := load(t, id)
		T, p, rho := f.Critical()
		x := f.At(T, rho)
		curve := diff(func(rho float64) float64 { return f.At(T, rho).DPDRho }, rho)
		reftest.Close(t, id+" ∂p/∂ρ", x.DPDRho*rho/p, 0, 1e-6, "critical point known to ten digits; slope grows as its square")
		reftest.Close(t, id+" ∂²p/∂ρ²", curve*rho*rho/p, 0, 1e-3, "difference quotient of the slope")
	}
}

// TestReferenceState: IIR, 200 kJ/kg and 1 kJ/(kg K) for liquid at 0 °C.
func TestReferenceState(t *testing.T) {
	for _, id := range IDs() {
		f := load(t, id)
		s, err := f.SatT(273.15)
		if err != nil {
			t.Fatal(err)
		}
		x := f.At(s.T, s.RhoL)
		reftest.Close(t, id+" h", x.H, 200e3, 1e-6, "constants to 16 digits times 200 kJ/kg times cancellation")
		reftest.Close(t, id+" s", x.S, 1e3, 1e-8, "constants to 16 digits")
	}
}

func TestFluidFilesAreStrict(t *testing.T) {
	b, err := files.ReadFile("fluids/R134a.json")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := parse([]byte(strings.Replace(string(b), `"Tr_K"`, `"Tr"`, 1))); err == nil {
		t.Error("a misspelt key is accepted")
	}
	for _, id := range IDs() {
		f := load(t, id)
		if _, ok := refrig.Ref(f.Source()); !ok {
			t.Errorf("%s: source %q is not in the bibliography", id, f.Source())
		}
		if f.ID() != id || f.Name() == "" || !(f.MolarMass() > 0.1 && f.MolarMass() < 0.13) {
			t.Errorf("%s: %q %q %g", id, f.ID(), f.Name(), f.MolarMass())
		}
	}
	if _, err := Load("R999"); err == nil {
		t.Error("an unknown fluid loads")
	}
}
