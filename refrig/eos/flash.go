package eos

import (
	"math"

	"twoneedles/refrig"
	"twoneedles/refrig/internal/num"
)

// given is the second property of a flash at known pressure. Both rise with
// temperature at constant pressure, so either fixes the state.
type given int

const (
	enthalpy given = iota
	entropy
)

func (g given) of(x *Props) float64 {
	if g == enthalpy {
		return x.H
	}
	return x.S
}

// slopes returns ∂/∂T at constant ρ and ∂/∂ρ at constant T:
//
//	∂h/∂T = cv + (∂p/∂T)/ρ     ∂h/∂ρ = (∂p/∂ρ − (T/ρ) ∂p/∂T)/ρ
//	∂s/∂T = cv/T               ∂s/∂ρ = −(∂p/∂T)/ρ²
func (g given) slopes(x *Props, T, rho float64) (dT, dRho float64) {
	if g == enthalpy {
		return x.Cv + x.DPDT/rho, (x.DPDRho - T/rho*x.DPDT) / rho
	}
	return x.Cv / T, -x.DPDT / (rho * rho)
}

// overT is the slope ∂/∂T at constant pressure.
func (g given) overT(x *Props, T float64) float64 {
	if g == enthalpy {
		return x.Cp
	}
	return x.Cp / T
}

func (g given) rangeError(f *Fluid, v, lo, hi float64) error {
	e := &refrig.RangeError{Quantity: "enthalpy of " + f.ID(), Value: v, Min: lo, Max: hi, Unit: "J/kg", Source: f.Source()}
	if g == entropy {
		e.Quantity, e.Unit = "entropy of "+f.ID(), "J/(kg K)"
	}
	return e
}

// PH returns the state at p in Pa and h in J/kg.
// Errors: *refrig.RangeError, *refrig.ConvergenceError.
func (f *Fluid) PH(p, h float64) (refrig.State, error) { return f.flash(enthalpy, p, h) }

// PS returns the state at p in Pa and s in J/(kg K).
// Errors: *refrig.RangeError, *refrig.ConvergenceError.
func (f *Fluid) PS(p, s float64) (refrig.State, error) { return f.flash(entropy, p, s) }

func (f *Fluid) flash(g given, p, v float64) (refrig.State, error) {
	if err := f.rangeP(p); err != nil {
		return refrig.State{}, err
	}
	if math.IsNaN(v) {
		return refrig.State{}, g.rangeError(f, v, math.Inf(-1), math.Inf(1))
	}
	sat, err := f.FastSatP(p)
	if err != nil {
		return f.flashAlone(g, p, v)
	}
	xV := f.At(sat.T, sat.RhoV)
	if v >= g.of(&xV) {
		T := sat.T + (v-g.of(&xV))/g.overT(&xV, sat.T)
		return f.flashNewton(g, p, v, T, sat.RhoV*sat.T/T, refrig.Vapour)
	}
	xL := f.At(sat.T, sat.RhoL)
	if v <= g.of(&xL) {
		T := sat.T - (g.of(&xL)-v)/g.overT(&xL, sat.T)
		rho := sat.RhoL
		if cold, err := f.FastSatT(T); err == nil {
			rho = cold.RhoL // a liquid follows temperature, hardly pressure
		}
		return f.flashNewton(g, p, v, T, rho, refrig.Liquid)
	}
	q := (v - g.of(&xL)) / (g.of(&xV) - g.of(&xL))
	return refrig.State{
		T: sat.T, P: p, Phase: refrig.TwoPhase, Quality: q,
		H:   xL.H + q*(xV.H-xL.H),
		S:   xL.S + q*(xV.S-xL.S),
		Rho: 1 / (1/sat.RhoL + q*(1/sat.RhoV-1/sat.RhoL)),
	}, nil
}

// flashNewton solves p(T, ρ) = p and g(T, ρ) = v from a start in the right
// phase. If the start was too far, it falls back on bracketing the temperature.
func (f *Fluid) flashNewton(g given, p, v, T, rho float64, phase refrig.Phase) (refrig.State, error) {
	const limit = 12
	for range limit {
		x := f.At(T, rho)
		gT, gRho := g.slopes(&x, T, rho)
		det := x.DPDT*gRho - gT*x.DPDRho
		dp, dv := p-x.P, v-g.of(&x)
		dT := (dp*gRho - dv*x.DPDRho) / det
		dRho := (dv*x.DPDT - dp*gT) / det
		// A first step may point beyond the range; shorten, do not give up.
		scale := 1 / math.Max(1, math.Max(math.Abs(dT)/(0.15*T), math.Abs(dRho)/(0.5*rho)))
		T += dT * scale
		rho += dRho * scale
		if math.Abs(dT) < 1e-6*T && math.Abs(dRho) < 1e-6*rho {
			// Quadratic: what is left is below 1e-11; first-order corrections
			// bring h and s along.
			return f.settle(g, p, v, T, rho, phase)
		}
		if !(T > satTMin/2 && T < 2*f.tmax && x.DPDRho > 0) {
			break
		}
	}
	return f.flashBracket(g, p, v)
}

// settle checks a solution against the range and completes the state.
func (f *Fluid) settle(g given, p, v, T, rho float64, phase refrig.Phase) (refrig.State, error) {
	if err := f.flashRange(p, T); err != nil {
		return refrig.State{}, err
	}
	x := f.At(T, rho)
	if !(x.DPDRho > 0) {
		return f.flashBracket(g, p, v)
	}
	s := refrig.State{T: T, P: p, H: x.H, S: x.S, Rho: rho, Phase: phase}
	if g == enthalpy {
		s.H = v
	} else {
		s.S = v
	}
	return s, nil
}

// flashAlone handles pressures without saturation: below the coldest one,
// above the critical one, and the gap between.
func (f *Fluid) flashAlone(g given, p, v float64) (refrig.State, error) {
	top := f.satLimit(f.SatTMax())
	if p <= top.P || p > f.pc {
		return f.flashBracket(g, p, v)
	}
	// In the gap: outside the dome's top there is no doubt about the phase.
	xL, xV := f.At(top.T, top.RhoL), f.At(top.T, top.RhoV)
	if v > g.of(&xL) && v < g.of(&xV) {
		return refrig.State{}, f.criticalError(p)
	}
	return f.flashBracket(g, p, v)
}

// flashBracket finds the temperature between the limits of the fluid at which
// g(p, T) = v. It is slow and sure.
func (f *Fluid) flashBracket(g given, p, v float64) (refrig.State, error) {
	tLo, tHi := satTMin, f.tmax
	if sat, err := f.FastSatP(p); err == nil {
		// The saturation temperature separates the phases; stay on one side.
		if xV := f.At(sat.T, sat.RhoV); v >= g.of(&xV) {
			tLo = sat.T * (1 + 1e-9)
		} else {
			tHi = sat.T * (1 - 1e-9)
		}
	} else if top := f.satLimit(f.SatTMax()); p > top.P && p <= f.pc {
		if xV := f.At(top.T, top.RhoV); v >= g.of(&xV) {
			tLo = f.tc
		} else {
			tHi = top.T
		}
	}
	var failed error
	at := func(T float64) float64 {
		s, err := f.PT(p, T)
		if err != nil {
			failed = err
			return math.NaN()
		}
		if g == enthalpy {
			return s.H
		}
		return s.S
	}
	lo, hi := at(tLo), at(tHi)
	if failed == nil && !(v >= lo && v <= hi) {
		return refrig.State{}, g.rangeError(f, v, lo, hi)
	}
	if failed != nil {
		return refrig.State{}, failed
	}
	T, err := num.Brent("temperature of "+f.ID(), func(T float64) float64 { return at(T) - v }, tLo, tHi, 1e-12)
	if failed != nil {
		return refrig.State{}, failed
	}
	if err != nil {
		return refrig.State{}, err
	}
	return f.PT(p, T)
}
