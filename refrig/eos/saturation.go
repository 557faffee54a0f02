package eos

import (
	"math"

	"twoneedles/refrig"
)

const (
	// satTMin is the lowest saturation temperature in K. Judgement: below the
	// 10 kPa that the tables of the cycle need, above every triple point.
	satTMin = 195.0
	// satGap is how near the critical point saturation is solved, in K: nearer,
	// the two densities merge and the solution loses its digits.
	satGap = 0.5
)

// Sat is liquid and vapour in equilibrium.
type Sat struct {
	T, P       float64 // K, Pa
	RhoL, RhoV float64 // densities of liquid and vapour, kg/m³
}

func (f *Fluid) satRangeT(T float64) error {
	if !(T >= satTMin && T <= f.SatTMax()) {
		return &refrig.RangeError{Quantity: "saturation temperature of " + f.ID(), Value: T,
			Min: satTMin, Max: f.SatTMax(), Unit: "K", Source: f.Source()}
	}
	return nil
}

func (f *Fluid) satRangeP(p, lo, hi float64) error {
	if !(p >= lo && p <= hi) {
		return &refrig.RangeError{Quantity: "saturation pressure of " + f.ID(), Value: p,
			Min: lo, Max: hi, Unit: "Pa", Source: f.Source()}
	}
	return nil
}

// SatT returns saturation at T in K from the equation itself: equal pressure
// and equal Gibbs energy of both phases,
//
//	J(δ) = δ(1 + Ar01),  K(δ) = Ar01 + Ar00 + ln δ;   J(δL) = J(δV), K(δL) = K(δV)
//
// by Newton's method in (δL, δV), as [Akasaka2008] arranges it.
// Errors: *refrig.RangeError, *refrig.ConvergenceError.
func (f *Fluid) SatT(T float64) (Sat, error) {
	if err := f.satRangeT(T); err != nil {
		return Sat{}, err
	}
	var iso isotherm
	f.res.isotherm(f.eq.Tr/T, &iso)
	rhoL, rhoV := f.startRho(T)
	return f.satNewton(&iso, T, rhoL/f.rhoR, rhoV/f.rhoR)
}

func (f *Fluid) satNewton(iso *isotherm, T, dL, dV float64) (Sat, error) {
	const limit = 40
	dc := f.dc / f.rhoR
	res := math.Inf(1)
	for range limit {
		l00, l01, l02 := f.res.density(iso, dL)
		v00, v01, v02 := f.res.density(iso, dV)
		j := dV*(1+v01) - dL*(1+l01)
		k := v01 + v00 + math.Log(dV/dL) - l01 - l00
		// J' = 1 + 2 A01 + A02,  K' = J'/δ
		jL, jV := 1+2*l01+l02, 1+2*v01+v02
		kL, kV := jL/dL, jV/dV
		det := jV*kL - jL*kV
		stepL := (j*kV - k*jV) / det
		stepV := (j*kL - k*jL) / det
		nL, nV := dL-stepL, dV-stepV
		if !(nL > dc && nV < dc && nV > 0) {
			// On the way to the trivial solution dL = dV, or to nowhere. The
			// starting curves prevent it throughout the range (tested).
			break
		}
		old := res
		res = math.Abs(nL-dL)/dL + math.Abs(nV-dV)/dV
		dL, dV = nL, nV
		// Rounding stops the steps near 1e-14; close to the critical point,
		// where the pressure is flat, earlier. Quadratic convergence means that
		// a step that no longer shrinks is at that floor.
		if res < 1e-14 || (res < 1e-9 && res >= old/2) {
			_, v01, _ := f.res.density(iso, dV)
			return Sat{T: T, P: dV * f.rhoR * f.rs * T * (1 + v01), RhoL: dL * f.rhoR, RhoV: dV * f.rhoR}, nil
		}
	}
	return Sat{}, &refrig.ConvergenceError{What: "saturation of " + f.ID(), Iterations: limit,
		Residual: res, Last: []float64{T, dL * f.rhoR, dV * f.rhoR}}
}

// SatP returns saturation at p in Pa from the equation itself: Newton's method
// of ln p in 1/T over [Fluid.SatT], with the slope of Clausius and Clapeyron,
//
//	dp/dT = (sV − sL) / (1/ρV − 1/ρL).
//
// Errors: *refrig.RangeError, *refrig.ConvergenceError.
func (f *Fluid) SatP(p float64) (Sat, error) {
	lo, err := f.SatT(satTMin)
	if err != nil {
		return Sat{}, err
	}
	hi, err := f.SatT(f.tc - satGap)
	if err != nil {
		return Sat{}, err
	}
	if err := f.satRangeP(p, lo.P, hi.P); err != nil {
		return Sat{}, err
	}
	const limit = 20
	T := math.Min(math.Max(f.startT(p), lo.T), hi.T)
	step := 0.0
	for range limit {
		s, err := f.SatT(T)
		if err != nil {
			return Sat{}, err
		}
		slope := (f.At(T, s.RhoV).S - f.At(T, s.RhoL).S) / (1/s.RhoV - 1/s.RhoL)
		x := 1/T + math.Log(s.P/p)*s.P/slope/(T*T)
		next := math.Min(math.Max(1/x, lo.T), hi.T)
		step = next - T
		T = next
		if math.Abs(step) < 1e-11*T {
			s, err = f.SatT(T)
			return s, err
		}
	}
	return Sat{}, &refrig.ConvergenceError{What: "saturation temperature of " + f.ID(), Iterations: limit,
		Residual: step, Last: []float64{T, p}}
}
