package cycle

import (
	"math"

	"twoneedles/refrig/car"
)

// orifice returns the flow in kg/s through a short tube of bore D and length L
// with liquid of density rhoL, subcooled by sc (K), at pressure pin and inlet
// temperature Tin, or with quality x > 0. Choked flow after [Payne2004]:
//
//	m = A √(ρ_L p_crit) · C_tp ·
//	    (a1 + a2 P3 + a3 P9 + a4 P6 + a5 ln(L/D)) / (1 + a6 P3 + a7 P9²)
//	P3 = (p_in − p_sat(T_in))/p_crit, P6 = ρ_V/ρ_L, P9 = SC/T_crit
//
// The coefficients were read from a published implementation, not from the
// paper. The two-phase factor of the paper is singular at low pressure; we use
// (ρ_mix/ρ_L)^0.4, within about 10 % of it at 14 bar and x ≤ 0.1 (judgement),
// and cap the flow by an unchoked orifice, which takes over near zero Δp.
func (l *loop) orifice() float64 {
	p, s := l.p, l.satIn
	area := math.Pi / 4 * p.OrificeBore * p.OrificeBore * l.f.MeterArea
	pcrit, tcrit := p.Fluid.PCrit(), p.Fluid.TCrit()
	p3, p9, two := 0.0, 0.0, 1.0
	rho := s.RhoL
	if l.xIn <= 0 {
		sc := (s.HL - l.h4) / s.CpL
		p9 = sc / tcrit
		p3 = math.Max(l.pIn-p.Fluid.PSat(s.T-sc), 0) / pcrit
	} else {
		rho = 1 / (l.xIn/s.RhoV + (1-l.xIn)/s.RhoL)
		two = math.Pow(rho/s.RhoL, 0.4)
	}
	if l.laws.PlainOrifice {
		return plainOrifice(area, rho, l.pIn, l.pe, p3*pcrit)
	}
	p6 := s.RhoV / s.RhoL
	num := 0.38811 + 11.427*p3 - 14.194*p9 + 1.0703*p6 - 0.091928*math.Log(p.OrificeLength/p.OrificeBore)
	den := 1 + 21.425*p3 - 581.95*p9*p9
	choked := area * math.Sqrt(s.RhoL*pcrit) * math.Max(num, 0.03) / math.Max(den, 0.8) * two
	open := 0.75 * area * math.Sqrt(2*rho*math.Max(l.pIn-l.pe, 0))
	return choked * open / math.Sqrt(choked*choked+open*open+1e-18)
}

// plainOrifice returns the flow of Bernoulli's law with a discharge coefficient
// of 0.62 from pin to where the liquid flashes, cold liquid a little below its
// saturation pressure, or to the pressure behind the orifice if that is higher.
// over is the excess of pin over the saturation pressure. judgement
func plainOrifice(area, rho, pin, pe, over float64) float64 {
	drop := math.Min(over+0.25*(pin-over), pin-pe)
	return 0.62 * area * math.Sqrt(2*rho*math.Max(drop, 0))
}

// valve returns the flow in kg/s through the thermostatic valve:
//
//	m = C A(SH) √(2 ρ (p_in − p_e))
//
// A(SH) rises smoothly from nearly shut to full open over ValveGain above the
// static superheat, and is throttled above the maximum operating pressure.
// C = 0.7 for a sharp throat (common practice).
func (l *loop) valve() float64 {
	p, s := l.p, l.satIn
	rho := s.RhoL
	if l.xIn > 0 {
		rho = 1 / (l.xIn/s.RhoV + (1-l.xIn)/s.RhoL)
	}
	open := l.f.ValveOpening
	if !l.f.ValveStuck {
		sh := (l.h5 - l.satE.HV) / l.satE.CpV // below zero where the outlet is wet
		u := (sh-p.ValveSH)/p.ValveGain - 0.5
		over := (l.pe - p.ValveMOP) / 40e3 // throttles over 0.4 bar. judgement
		open = (0.02 + 0.98/(1+math.Exp(-4*u))) * (0.05 + 0.95/(1+math.Exp(4*over)))
	}
	return 0.7 * p.ValveArea * l.f.MeterArea * open * math.Sqrt(2*rho*math.Max(l.pIn-l.pe, 0))
}

// meter sets the flow through the metering device.
func (l *loop) meter() {
	if l.p.Metering == car.OrificeTube {
		l.mMeter = l.orifice()
	} else {
		l.mMeter = l.valve()
	}
}
