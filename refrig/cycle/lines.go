package cycle

import (
	"math"

	"twoneedles/refrig/fast"
)

const (
	bayRise    = 18   // K, engine bay above ambient. judgement
	vapourCp   = 900  // J/(kg K), suction vapour, for the gain of heat only
	throatCd   = 0.7  // discharge coefficient of a blockage. common practice
	minOverlap = 1000 // Pa that every drop leaves downstream
)

// throat returns the pressure drop in Pa of flow m through a blockage of area a.
func throat(m, a, rho float64) float64 {
	if a <= 0 {
		return 0
	}
	v := m / (throatCd * a)
	return v * v / (2 * rho)
}

// liquidLine sets pressure and quality before the metering device. A pressure
// drop beyond what the line has is not cut off but reported to the residual of
// mass flow, which keeps that residual monotone.
func (l *loop) liquidLine() {
	s := l.satC
	rho := s.RhoL
	if l.h3 > s.HL {
		x := (l.h3 - s.HL) / l.hfgC
		rho = 1 / (x/s.RhoV + (1-x)/s.RhoL)
	}
	l.pPort = l.pOut
	drop := l.p.LiquidDrop*l.m*l.m/rho + throat(l.m, l.f.LiquidArea, rho)
	pIn := l.pc - drop // the refrigerant's own pressure: air stays in the condenser
	l.short = 0
	if floor := l.pe + minOverlap; pIn < floor {
		l.short = (floor - pIn) / l.pd
		pIn = floor
	}
	l.pIn = pIn
	l.satIn = l.p.Fluid.Sat(pIn)
	if l.p.PortAfter {
		l.pPort = math.Min(l.pOut, pIn+l.pAir)
	}
}

// inlet sets the quality before the metering device.
func (l *loop) inlet() { l.xIn = (l.h4 - l.satIn.HL) / (l.satIn.HV - l.satIn.HL) }

// suctionLine sets the evaporator pressure from the suction pressure.
func (l *loop) suctionLine() {
	rho := l.rho1
	drop := l.p.SuctionDrop*l.m*l.m/rho + throat(l.m, l.f.SuctionArea, rho)
	top := 0.95 * l.pc
	pe := l.ps + drop
	l.choke = 0
	if pe > top {
		l.choke = (pe - top) / l.pd
		pe = top
	}
	l.pe = pe
}

// exchange moves heat from the liquid to the suction line in an internal heat
// exchanger of effectiveness ε, referred to the vapour:
//
//	q = ε m c_p (T_3 − T_5)
//
// after which the coil is divided anew for the colder liquid. T_5 is taken from
// before: colder liquid leaves the vapour a little less superheat, so q errs on the
// small side and never runs uphill.
func (l *loop) exchange() {
	s := &l.satE
	T3 := l.Tc
	if l.h3 < l.satC.HL {
		T3 -= (l.satC.HL - l.h3) / l.cpL
	}
	T5 := l.Te + math.Max(l.h5-s.HV, 0)/s.CpV
	l.qIHX = l.p.IHX * l.m * s.CpV * math.Max(T3-T5, 0)
	l.h4 = l.h3 - l.qIHX/l.m
}

// suctionHeat returns the enthalpy at the compressor inlet: the vapour warms in the
// exchanger and then towards the engine bay on its way.
func (l *loop) suctionHeat() float64 {
	h := l.h5 + l.qIHX/l.m
	T := l.Te
	if h > l.satE.HV {
		T += (h - l.satE.HV) / l.satE.CpV
	}
	bay := l.c.Ambient + bayRise
	return h + vapourCp*(bay-T)*(1-math.Exp(-l.p.SuctionUA/(vapourCp*l.m)))
}

// entropy returns J/(kg K) at p and h, anywhere.
func entropy(f *fast.Fluid, p, h float64) float64 {
	s := f.Sat(p)
	switch {
	case h >= s.HV:
		_, _, e := f.VapourAt(s, h)
		return e
	case h >= s.HL:
		return s.SL + (h-s.HL)/s.T
	}
	T, _ := f.Liquid(p, h)
	return f.Sat(f.PSat(T)).SL // liquid: entropy hardly depends on pressure
}
