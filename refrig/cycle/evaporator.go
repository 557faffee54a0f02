package cycle

import (
	"math"

	"twoneedles/refrig/air"
)

// Evaporator constants. Judgement unless noted.
const (
	moistCp      = 1020 // J/(kg K), of air with about 1 % water
	ductSurround = 8    // K, how far the duct's surroundings lie above ambient
)

// evaporate sets the outlet enthalpy h5, the duty and the air leaving the coil
// from the inlet enthalpy h4 and the pressure pe. The boiling part of the coil
// is at one temperature; its air side is either dry or wet, whichever moves more
// heat (Braun's rule for the enthalpy-potential model):
//
//	dry  q = (T_a − T_e)/(1/UA_r + 1/(m_a c_p e))
//	wet  UA_r (T_s − T_e) = m_a e (h_a − h_sat(T_s))
//
// with e = 1 − exp(−UA_a/(m_a c_p)). What the boiling part does not need
// superheats the vapour.
func (l *loop) evaporate() {
	p, s := l.p, l.satE
	m, ma := l.m, l.evapMa
	uaR := p.EvapUARef * math.Pow(m/DesignFlow, l.laws.EvapRefExp)
	e := l.evapEff
	k := ma * moistCp * e
	q := (l.evapTin - l.Te) / (1/uaR + 1/k)
	Ts := l.Te + q/uaR
	wet := false
	if Tw, qw := l.wetSurface(uaR, ma*e); qw > q {
		Ts, q, wet = Tw, qw, true
	}
	l.Ts, l.wetCoil = Ts, wet
	Ttp := l.evapTin - e*(l.evapTin-Ts) // air leaving the boiling part
	Wtp := l.evapWin
	if wet {
		Wtp -= e * math.Max(l.evapWin-l.wSat(Ts), 0)
	}

	q = smoothMax(q, 1, 1) // W; air colder than the coil boils nothing
	need := m * (s.HV - l.h4) / q
	if need >= 1 {
		l.h5 = l.h4 + q/m
		l.zE = 1
		l.xE = (l.h5 - s.HL) / l.hfgE
		l.qEvap = q
		l.Toff, l.Woff, l.Tfin = Ttp, Wtp, Ts
		return
	}
	l.zE, l.xE = need, 1
	rest := 1 - need
	cpV := s.CpV
	uaV := l.laws.EvapVapour * uaR
	kV := 1 / (1/uaV + 1/k) // conductance of the whole coil if all vapour
	lift := l.evapTin - l.Te
	dT := lift * (1 - math.Exp(-rest*kV/(m*cpV)))
	l.h5 = s.HV + cpV*dT
	qV := m * cpV * dT
	l.qEvap = m * (l.h5 - l.h4)
	Tsh := l.evapTin - qV/math.Max(rest*ma*moistCp, 1e-9)
	l.Toff = need*Ttp + rest*Tsh
	l.Woff = need*Wtp + rest*l.evapWin
	l.Tfin = need*Ts + rest*Tsh
}

// wetSurface solves UA (Ts − Te) = G (h_a − h_sat(Ts)) for the surface
// temperature by Newton's method (the left side less the right is increasing
// and convex, so four steps from the cold end suffice; a test holds this to a
// bisection) and returns it with the heat in W.
func (l *loop) wetSurface(ua, g float64) (Ts, q float64) {
	Ts = l.Te + 0.3*(l.evapTin-l.Te)
	for i := 0; i < 4; i++ {
		hs, dhs := air.HSatSlope(Ts, l.c.PAtm)
		f := ua*(Ts-l.Te) - g*(l.evapHin-hs)
		step := f / (ua + g*dhs)
		Ts -= step
		if math.Abs(step) < 1e-7 {
			break
		}
	}
	return Ts, ua * (Ts - l.Te)
}

// wSat returns the humidity ratio of saturated air at T.
func (l *loop) wSat(T float64) float64 { return air.HumidityRatio(T, 1, l.c.PAtm) }

// evaporatorAir sets what the unknowns do not change.
func (l *loop) evaporatorAir() {
	p, c := l.p, l.c
	share := c.Blower * l.f.EvapAir
	l.evapMa = p.EvapFlow * share * c.PAtm / 101325
	l.evapTin, l.evapWin = c.cabinAir()
	l.evapTin += p.BlowerPower * c.Blower * c.Blower * c.Blower / (l.evapMa * moistCp)
	l.evapHin = air.Enthalpy(l.evapTin, l.evapWin)
	uaA := p.EvapUAAir * math.Pow(share, l.laws.EvapAirExp)
	l.evapEff = 1 - math.Exp(-uaA/(l.evapMa*moistCp))
}

// vent returns the air temperature at the vent in K.
func (l *loop) vent() float64 {
	around := l.c.Ambient + ductSurround
	return around + (l.Toff-around)*math.Exp(-l.p.DuctUA/(l.evapMa*moistCp))
}
