package cycle

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fast"
)

// holdup gives the mean density of two-phase zones at one pressure.
type holdup struct {
	vapour, liquid float64 // densities, kg/m³
	c              float64 // (ρ_V/ρ_L)^(1−e)
}

// newHoldup takes the slip ratio as (ρ_L/ρ_V)^e; e = 1/3 is Zivi's [Zivi1964].
func newHoldup(s *fast.Sat, e float64) holdup {
	return holdup{s.RhoV, s.RhoL, math.Exp((1 - e) * math.Log(s.RhoV/s.RhoL))}
}

// void returns the mean void fraction between qualities a < b when the wall heat
// is even:
//
//	α(x) = x/(x + (1−x) C),  C = (ρ_V/ρ_L)^(1−e)
//	∫α dx = (b−a)/(1−C) − C/(1−C)² ln((C+(1−C)b)/(C+(1−C)a))
func (h holdup) void(a, b float64) float64 {
	if b-a < 1e-6 {
		x := 0.5 * (a + b)
		return x / (x + (1-x)*h.c)
	}
	d := 1 - h.c
	return 1/d - h.c/(d*d)*math.Log((h.c+d*b)/(h.c+d*a))/(b-a)
}

// density returns the mean density between qualities a < b, kg/m³.
func (h holdup) density(a, b float64) float64 {
	al := h.void(a, b)
	return al*h.vapour + (1-al)*h.liquid
}

// Width of the band of condenser outlet states over which a receiver goes from
// full to empty, as (h − h_L)/h_fg. A receiver that holds a level delivers
// liquid within a kelvin or two of saturation; the finite band makes its level
// a continuous function of the outlet state. judgement
const (
	storeEmpty = 0.01
	storeFull  = -0.02
)

// storeLevel returns the unclamped filled share of the receiver or accumulator.
// An accumulator's level follows from what its bleed hole must let through to
// keep it steady: outlet quality 1 − Bleed·level.
func (l *loop) storeLevel() float64 {
	if l.p.Metering == car.OrificeTube {
		x := (l.h5 - l.satE.HL) / l.hfgE
		return (1 - x) / l.p.Bleed
	}
	e := (l.hMain - l.satC.HL) / l.hfgC
	return (storeEmpty - e) / (storeEmpty - storeFull)
}

// mass returns the refrigerant in the system in kg: Σ ρV over its parts.
func (l *loop) mass() float64 {
	p, c, e := l.p, &l.satC, &l.satE
	z := &l.zones
	cond, evap := newHoldup(c, l.laws.SlipExp), newHoldup(e, l.laws.SlipExp)

	// Subcooled liquid is denser than at saturation; without that a flooded
	// condenser could not hold a large overcharge.
	rhoCold, rhoMean := c.RhoL, c.RhoL
	if l.h3 < c.HL {
		_, rhoCold = p.Fluid.LiquidAt(*c, l.h3)
		rhoMean = 0.5 * (c.RhoL + rhoCold)
	}
	m := p.CondVolume * (z.sh*0.5*(l.rho2+c.RhoV) + z.sc*rhoMean)
	if z.tp > 0 {
		m += p.CondVolume * z.tp * cond.density(z.xOut, z.xIn)
	}
	if p.CondSubFrac > 0 {
		out := clamp01((l.h3 - c.HL) / l.hfgC) // of the pass: zero unless it does not suffice
		vap := cond.density(out, math.Max(clamp01(z.xOut), out))
		m += p.CondVolume * p.CondSubFrac * (z.subLiq*rhoCold + (1-z.subLiq)*vap)
	}
	m += p.DischVolume * l.rho2

	rhoLine := rhoCold
	if x := (l.h3 - c.HL) / l.hfgC; x > 0 {
		x = math.Min(x, 1)
		rhoLine = cond.density(x, x)
	}
	m += p.LiquidVolume * rhoLine

	level := clamp01(l.storeLevel())
	if p.Metering == car.OrificeTube {
		m += p.StoreVolume * (level*e.RhoL + (1-level)*e.RhoV)
	} else {
		m += p.StoreVolume * (level*rhoMean + (1-level)*c.RhoV)
	}

	x4 := math.Max((l.h4-e.HL)/l.hfgE, 0)
	top := math.Min(math.Max(l.xE, x4), 1)
	m += p.EvapVolume * (l.zE*evap.density(x4, top) + (1-l.zE)*e.RhoV)

	rhoS := l.rho1
	if x := (l.h1 - l.satS.HL) / (l.satS.HV - l.satS.HL); x < 1 {
		x = math.Max(x, 0)
		rhoS = newHoldup(&l.satS, l.laws.SlipExp).density(x, x)
	}
	m += p.SuctionVolume * rhoS
	return m
}
