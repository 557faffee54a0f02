package cycle

import (
	"math"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/fast"
)

// loop is the working state of one solve. A component reads what those before it
// in [loop.residual] have set and sets its own; nothing here survives the solve.
type loop struct {
	p    *Plant
	f    Fault
	c    Conditions
	laws *Laws

	mode   mode
	clutch bool // the fraction phi is a duty, not a stroke
	design bool // the level of the store is given instead of the charge

	// Set once: what the unknowns do not change.
	n                        float64 // compressor speed, 1/s
	coldHL, coldCp           float64 // enthalpy of liquid as cold as the outside air, J/kg, and its slope, J/(kg K)
	condBack, spray          float64 // returning over fresh air at the condenser; how far spray cools it, K
	evapMa, evapTin, evapWin float64 // evaporator's air: kg/s, K, kg/kg
	evapHin, evapEff         float64 // its enthalpy, J/kg, and contact factor; a closed cabin's air changes with the state
	outsideW                 float64 // humidity ratio of the outside air
	airStatic                float64 // partial pressure of air in the condenser per kelvin, Pa/K
	charge, chargeScale      float64 // mass asked for and what its residual is divided by, kg
	lnPMin, lnPMax, lnBest   float64 // logarithms of limits of pressure, Pa, and of the best pressure ratio

	// Set by every evaluation. Pressures, Pa absolute: suction, condensing,
	// discharge, evaporator, before the meter, condenser with air, high port,
	// partial pressure of air.
	ps, pc, pd, pe, pIn, pOut, pPort, pAir float64
	// Condenser's air: inlet K, capacity rate W/K, conductance W/K, and the enthalpy of
	// liquid as cold as it, J/kg.
	condTin, condC, condUAAir, condHL float64
	// Enthalpies, J/kg: compressor in and out, condenser out, evaporator in and
	// out, main part of the condenser out.
	h1, h2, h3, h4, h5, hMain float64
	s1, w                     float64 // suction entropy, J/(kg K); shaft work, J/kg
	shell, qIHX               float64 // W: lost from the compressor, moved by the internal heat exchanger
	rho1, rho2                float64 // kg/m³
	T1, T2, Tc, Te, Ts, Tfin  float64 // K; Ts is the coil's surface where it boils
	hfgC, hfgE                float64 // J/kg
	xIn, xE, zE               float64 // quality before the meter and after the coil; share of the coil that boils
	cpL                       float64 // of the subcooled liquid, J/(kg K)
	phi                       float64 // displacement, speed or duty fraction
	qBoil                     float64 // W, of a coil that boils everywhere
	m, mMeter, qCond, qEvap   float64 // kg/s, W
	lnM                       float64 // ln of m/DesignFlow, which the conductances go with
	short, choke              float64 // pressure drops that did not fit, as shares of pd
	wetCoil                   bool
	zones                     zones
	satS, satC, satE, satIn   fast.Sat

	evals int // residual evaluations so far
}

// coldSpan is the rise above the outside air over which the liquid's enthalpy is
// taken as a line, K; the condenser's air lies within it or nearly.
const coldSpan = 12

// set prepares the loop for a case.
func (l *loop) set(p *Plant, f Fault, c Conditions) {
	l.p, l.f, l.c, l.laws = p, f, c, p.Laws
	if l.laws == nil {
		l.laws = &StandardLaws
	}
	l.n = l.speed()
	l.evaporatorAir()
	back := l.hotShare()
	l.condBack = back / (1 - back)
	if c.WaterOn {
		l.spray = l.sprayDepression()
	}
	a, b := p.Fluid.Sat(p.Fluid.PSat(c.Ambient)), p.Fluid.Sat(p.Fluid.PSat(c.Ambient+coldSpan))
	l.coldHL, l.coldCp = a.HL, (b.HL-a.HL)/coldSpan
	l.pOut = c.PAtm + p.FanStep
	l.condenserAir() // for the start
	l.airStatic = f.AirPressure * airGather(p) / 298
	l.charge, l.chargeScale = p.Charge*f.Charge, p.Charge
	l.lnPMin, l.lnPMax = math.Log(p.Fluid.PMin()*1.02), math.Log(p.Fluid.PMax()*0.995)
	l.lnBest = math.Log(l.laws.BestRatio)
}

// airGather is the ratio of the partial pressure of air in the running condenser
// to that at rest: nearly all of it is swept there and compressed into the
// vapour space of the high side. The shares are judgement.
func airGather(p *Plant) float64 {
	high := 0.75*p.CondVolume + p.DischVolume
	if p.Metering == car.ExpansionValve {
		high += 0.5 * p.StoreVolume
	}
	all := p.CondVolume + p.DischVolume + p.EvapVolume + p.SuctionVolume + p.LiquidVolume + p.StoreVolume
	return 0.7 * all / high
}

// The unknowns: three, and the displacement fraction where the control follows
// the fin temperature.
const (
	nBase = 3
	nAll  = 4
)

type vec [nAll]float64

// dims returns how many unknowns the mode has.
func (l *loop) dims() int {
	if l.strokeIsUnknown() {
		return nAll
	}
	return nBase
}

// residual evaluates the loop at z:
//
//	z = (ln p_s, ln p_c, (h_1 − h_V(p_s))/h_fg(p_s), φ)
//
// and returns, all scaled to order one,
//
//	0 = (m_meter − m_comp)/(m_meter + m_comp)      mass flow
//	0 = (h_1' − h_1)/h_fg                           energy, evaporator and suction line
//	0 = (M − M_charge)/M_label                      charge, or the design level
//	0 = φ_law − φ                                   control, where φ is unknown
//
// Every component is explicit in z, in the order of the calls below. That rests
// on one approximation: the half of the condenser's pressure drop that the
// compressor works against uses [loop.flowGuess] instead of the flow.
func (l *loop) residual(z vec) (r vec) {
	l.evals++
	l.suction(z)
	l.satC = l.p.Fluid.Sat(l.pc)
	l.Tc = l.satC.T
	l.hfgC = l.satC.HV - l.satC.HL
	l.pAir = l.airStatic * l.Tc
	l.pOut = l.pc + l.pAir
	if l.strokeIsUnknown() {
		l.phi = z[3]
	} else {
		l.phi = l.law()
	}
	g := l.flowGuess()
	l.pd = l.pOut + 0.5*l.p.CondDrop*g*g/l.satC.RhoV
	l.compress()
	l.suctionLine()
	l.satE = l.p.Fluid.Sat(l.pe)
	l.Te = l.satE.T
	l.hfgE = l.satE.HV - l.satE.HL
	l.condense()
	l.h4, l.qIHX = l.h3, 0
	l.liquidLine()
	if l.c.cabinShut() {
		l.cabinAir()
	}
	uaR, k := l.evaporate()
	if l.p.IHX > 0 {
		l.exchange()
		l.divideCoil(uaR, k)
	}
	l.inlet()
	l.meter()
	r[0] = l.flowGap()
	r[1] = (l.suctionHeat() - l.h1) / l.hfgE
	if l.design {
		r[2] = l.storeLevel() - l.p.StoreLevel
	} else {
		r[2] = (l.mass() - l.charge) / l.chargeScale
	}
	if l.strokeIsUnknown() {
		r[3] = l.law() - z[3]
	}
	return r
}

// suction sets the state before the compressor from the unknowns.
func (l *loop) suction(z vec) {
	l.ps, l.pc = math.Exp(z[0]), math.Exp(z[1])
	s := l.p.Fluid.Sat(l.ps)
	l.satS = s
	hfg := s.HV - s.HL
	l.h1 = s.HV + z[2]*hfg
	if z[2] >= 0 {
		l.T1, l.rho1, l.s1 = l.p.Fluid.VapourAt(s, l.h1)
		return
	}
	l.T1 = s.T
	l.rho1 = s.RhoV // what liquid comes along flashes on the warm cylinder and takes the room of vapour
	l.s1 = s.SV + z[2]*hfg/s.T
}

// flowGap is the relative difference between what the metering device lets
// through and what the compressor moves. Pressure drops that do not fit into a
// line both say that the compressor moves too much; they push the gap further
// the same way, so that it has no root where a drop does not fit.
func (l *loop) flowGap() float64 {
	return (l.mMeter-l.m)/(l.mMeter+l.m) - 3*(l.short+l.choke)
}

// flowGuess is the flow in kg/s used for the pressure drop of the condenser's
// first half. It depends on the unknowns alone, so that the discharge pressure is
// known before the flow is; 0.65 stands for the volumetric efficiency. An error
// of a third in it is one of a few kPa in the discharge pressure.
func (l *loop) flowGuess() float64 {
	return math.Min(0.65*l.phi*l.p.Displacement*l.n*l.rho1, 2*DesignFlow)
}

// sprayDepression is how far the wet bulb of the outside air lies below its
// temperature, K.
func (l *loop) sprayDepression() float64 {
	return math.Max(l.c.Ambient-air.WetBulb(l.c.Ambient, l.outsideW, l.c.PAtm), 0)
}
