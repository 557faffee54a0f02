package eos

import "math"

// Props is everything at one temperature and density.
type Props struct {
	P      float64 // pressure, Pa
	H      float64 // enthalpy, J/kg
	S      float64 // entropy, J/(kg K)
	U      float64 // internal energy, J/kg
	Cv, Cp float64 // heat capacities, J/(kg K)
	W      float64 // speed of sound, m/s; 0 where the state is unstable
	DPDT   float64 // ∂p/∂T at constant density, Pa/K
	DPDRho float64 // ∂p/∂ρ at constant temperature, Pa m³/kg
}

// At evaluates the equation at temperature T in K and density rho in kg/m³.
// It solves nothing and checks nothing: inside the two-phase region it returns
// the equation's own, unstable values. T and rho must be positive; that they are
// is the caller's business, as it is to stay in the range of the source.
//
//	p = ρRT (1 + Ar01)          h = RT (1 + A10 + Ar01)
//	s = R (A10 − A00)           u = RT A10
//	cv = −R A20                 cp = cv + R (1 + Ar01 − Ar11)²/(1 + 2Ar01 + Ar02)
//	w² = cp/cv ∂p/∂ρ            ∂p/∂ρ = RT (1 + 2Ar01 + Ar02)
//	∂p/∂T = ρR (1 + Ar01 − Ar11)
func (f *Fluid) At(T, rho float64) Props {
	var iso isotherm
	f.res.isotherm(f.eq.Tr/T, &iso)
	return f.at(&iso, T, rho)
}

func (f *Fluid) at(iso *isotherm, T, rho float64) Props {
	delta := rho / f.rhoR
	r := f.res.all(iso, delta)
	i00, i10, i20 := f.eq.Ideal.eval(iso.tau, iso.lnTau)
	a00 := i00 + math.Log(delta) + r.A00
	a10 := i10 + r.A10
	rt := f.rs * T
	dpdt := 1 + r.A01 - r.A11
	dpdrho := 1 + 2*r.A01 + r.A02
	x := Props{
		P:      rho * rt * (1 + r.A01),
		H:      rt * (1 + a10 + r.A01),
		S:      f.rs * (a10 - a00),
		U:      rt * a10,
		Cv:     -f.rs * (i20 + r.A20),
		DPDT:   rho * f.rs * dpdt,
		DPDRho: rt * dpdrho,
	}
	x.Cp = x.Cv + f.rs*dpdt*dpdt/dpdrho
	if w2 := x.Cp / x.Cv * x.DPDRho; w2 > 0 {
		x.W = math.Sqrt(w2)
	}
	return x
}

// Pressure returns the pressure in Pa at temperature T in K and density rho in
// kg/m³.
//
//	p = ρRT (1 + Ar01)
func (f *Fluid) Pressure(T, rho float64) float64 {
	var iso isotherm
	f.res.isotherm(f.eq.Tr/T, &iso)
	p, _ := f.pressure(&iso, T, rho)
	return p
}

// pressure returns p and ∂p/∂ρ on an isotherm.
func (f *Fluid) pressure(iso *isotherm, T, rho float64) (p, dpdrho float64) {
	_, a01, a02 := f.res.density(iso, rho/f.rhoR)
	rt := f.rs * T
	return rho * rt * (1 + a01), rt * (1 + 2*a01 + a02)
}
