package eos

import (
	"fmt"
	"math"
	"testing"

	"twoneedles/refrig/reftest"
)

// states are three places where terms behave differently: vapour, near the
// critical point (where the narrow Gaussian terms of R-1234yf live), liquid.
var states = []struct{ tau, delta float64 }{{1.1, 0.1}, {1.061, 0.95}, {1.5, 2.6}}

// TestEveryTermDerivative holds each term alone, so that a wrong sign in a small
// one cannot hide behind the others.
func TestEveryTermDerivative(t *testing.T) {
	for _, id := range IDs() {
		f := load(t, id)
		var terms []equation
		for _, p := range f.eq.Power {
			terms = append(terms, equation{Power: []powerTerm{p}})
		}
		for _, g := range f.eq.Gaussian {
			terms = append(terms, equation{Gaussian: []gaussTerm{g}})
		}
		for n := range terms {
			r := newResidual(&terms[n])
			eval := func(tau, delta float64) derivs {
				var iso isotherm
				r.isotherm(tau, &iso)
				return r.all(&iso, delta)
			}
			for _, s := range states {
				d := eval(s.tau, s.delta)
				overTau := func(g func(derivs) float64) float64 {
					return s.tau * diff(func(tau float64) float64 { return g(eval(tau, s.delta)) }, s.tau)
				}
				overDelta := func(g func(derivs) float64) float64 {
					return s.delta * diff(func(delta float64) float64 { return g(eval(s.tau, delta)) }, s.delta)
				}
				a00 := func(d derivs) float64 { return d.A00 }
				a10 := func(d derivs) float64 { return d.A10 }
				a01 := func(d derivs) float64 { return d.A01 }
				for _, c := range []struct {
					name      string
					got, want float64
				}{
					{"A10", d.A10, overTau(a00)},
					{"A01", d.A01, overDelta(a00)},
					{"A20", d.A20, overTau(a10) - d.A10},
					{"A11", d.A11, overDelta(a10)},
					{"A11 the other way", d.A11, overTau(a01)},
					{"A02", d.A02, overDelta(a01) - d.A01},
				} {
					what := fmt.Sprintf("%s term %d %s at τ=%g δ=%g", id, n+1, c.name, s.tau, s.delta)
					// diff errs by the fifth derivative times h⁴ (below 1e-9 of the
					// term's own scale for the steepest, β = 1016) and by rounding
					// 1e-16/h = 1e-12.
					reftest.Close(t, what, c.got, c.want, 1e-8*scale(d), "five-point difference, h = 1e-4")
				}
				var iso isotherm
				r.isotherm(s.tau, &iso)
				b00, b01, b02 := r.density(&iso, s.delta)
				if b00 != d.A00 || b01 != d.A01 || b02 != d.A02 {
					t.Errorf("%s term %d: the short evaluation differs from the full one", id, n+1)
				}
			}
		}
	}
}

// scale is the size of a term with its derivatives; what is smaller than
// rounding of the largest cannot be asked for.
func scale(d derivs) float64 {
	return math.Max(1e-6, math.Abs(d.A00)+math.Abs(d.A10)+math.Abs(d.A01)+
		math.Abs(d.A20)+math.Abs(d.A11)+math.Abs(d.A02))
}

// diff is the five-point difference quotient.
func diff(f func(float64) float64, x float64) float64 {
	h := 1e-4 * x
	return (8*(f(x+h)-f(x-h)) - (f(x+2*h) - f(x-2*h))) / (12 * h)
}

func TestIdealDerivatives(t *testing.T) {
	for _, id := range IDs() {
		ideal := load(t, id).eq.Ideal
		for _, tau := range []float64{0.8, 1, 1.3, 1.9} {
			eval := func(tau float64) (a, b, c float64) { return ideal.eval(tau, math.Log(tau)) }
			_, a10, a20 := eval(tau)
			d1 := tau * diff(func(x float64) float64 { a, _, _ := eval(x); return a }, tau)
			d2 := tau*diff(func(x float64) float64 { _, b, _ := eval(x); return b }, tau) - a10
			reftest.CloseRel(t, fmt.Sprintf("%s ideal A10 at τ=%g", id, tau), a10, d1, 1e-9, "rounding 1e-16·40/1e-4, with room")
			reftest.CloseRel(t, fmt.Sprintf("%s ideal A20 at τ=%g", id, tau), a20, d2, 1e-9, "rounding 1e-16·40/1e-4, with room")
		}
	}
}

// TestPropertySlopes holds the slopes that the flashes step by.
func TestPropertySlopes(t *testing.T) {
	for _, id := range IDs() {
		f := load(t, id)
		for _, s := range states {
			T, rho := f.eq.Tr/s.tau, f.rhoR*s.delta
			x := f.At(T, rho)
			byT := func(g func(Props) float64) float64 {
				return diff(func(T float64) float64 { return g(f.At(T, rho)) }, T)
			}
			byRho := func(g func(Props) float64) float64 {
				return diff(func(rho float64) float64 { return g(f.At(T, rho)) }, rho)
			}
			p := func(x Props) float64 { return x.P }
			h := func(x Props) float64 { return x.H }
			en := func(x Props) float64 { return x.S }
			u := func(x Props) float64 { return x.U }
			hT, hRho := enthalpy.slopes(&x, T, rho)
			sT, sRho := entropy.slopes(&x, T, rho)
			for _, c := range []struct {
				name      string
				got, want float64
			}{
				{"∂p/∂T", x.DPDT, byT(p)},
				{"∂p/∂ρ", x.DPDRho, byRho(p)},
				{"∂h/∂T", hT, byT(h)},
				{"∂h/∂ρ", hRho, byRho(h)},
				{"∂s/∂T", sT, byT(en)},
				{"∂s/∂ρ", sRho, byRho(en)},
				{"cv = ∂u/∂T", x.Cv, byT(u)},
				{"Maxwell: ∂s/∂ρ = −(∂p/∂T)/ρ²", byRho(en), -byT(p) / (rho * rho)},
			} {
				reftest.CloseRel(t, fmt.Sprintf("%s %s at %.1f K %.1f kg/m³", id, c.name, T, rho), c.got, c.want, 1e-6,
					"five-point difference; the Gaussian terms bend most")
			}
		}
	}
}

func load(t testing.TB, id string) *Fluid {
	t.Helper()
	f, err := Load(id)
	if err != nil {
		t.Fatal(err)
	}
	return f
}
