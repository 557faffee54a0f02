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

// evaporate sets the outlet enthalpy h5, the duty and the temperature of the fins
// from the inlet enthalpy h4 and the pressure pe. The boiling part of the coil
// is at one temperature; its air side is either dry or wet, whichever moves more
// heat (Braun's rule for the enthalpy-potential model):
//
//	dry  q = (T_a − T_e)/(1/UA_r + 1/(m_a c_p e))
//	wet  UA_r (T_s − T_e) = m_a e (h_a − h_sat(T_s))
//
// with e = 1 − exp(−UA_a/(m_a c_p)). What the boiling part does not need
// superheats the vapour. It returns the conductances, W/K, of refrigerant and air.
func (l *loop) evaporate() (uaR, k float64) {
	ma, e := l.evapMa, l.evapEff
	uaR = l.p.EvapUARef * math.Exp(l.laws.EvapRefExp*l.lnM)
	k = ma * moistCp * e
	q := (l.evapTin - l.Te) / (1/uaR + 1/k)
	dry := l.Te + q/uaR
	l.Ts = l.wetSurface(uaR, ma*e, dry)
	if l.wetCoil = l.Ts > dry; l.wetCoil {
		q = uaR * (l.Ts - l.Te)
	}

	l.qBoil = smoothMax(q, 1, 1) // W; air colder than the coil boils nothing
	l.divideCoil(uaR, k)
	return uaR, k
}

// divideCoil shares the coil between boiling and superheating for liquid that comes
// in with enthalpy h4, given what a coil that boils everywhere takes up.
func (l *loop) divideCoil(uaR, k float64) {
	s, m, q := &l.satE, l.m, l.qBoil
	need := math.Max(m*(s.HV-l.h4)/q, 0)
	if need >= 1 {
		l.h5 = l.h4 + q/m
		l.zE = 1
		l.xE = (l.h5 - s.HL) / l.hfgE
		l.qEvap = q
		l.Tfin = l.Ts
		return
	}
	l.zE, l.xE = need, 1
	rest := 1 - need
	uaV := l.laws.EvapVapour * uaR
	kV := 1 / (1/uaV + 1/k)     // conductance of the whole coil if all vapour
	hIn := math.Max(l.h4, s.HV) // where charge is nearly gone vapour comes in
	lift := l.evapTin - l.Te - (hIn-s.HV)/s.CpV
	l.h5 = hIn + s.CpV*lift*(1-math.Exp(-rest*kV/(m*s.CpV)))
	l.qEvap = m * (l.h5 - l.h4)
	l.Tfin = need*l.Ts + rest*l.airOffVapour()
}

// wetSurface solves UA (Ts − Te) = G (h_a − h_sat(Ts)) for the surface
// temperature in K, or returns dry, the surface temperature of a dry coil, where
// that is higher. The left side less the right rises with Ts and is convex, so
// Newton's steps from the dry value, which is colder, overshoot once and then
// come down; a test holds this to a bisection.
func (l *loop) wetSurface(ua, g, dry float64) float64 {
	Ts := dry
	for i := range 12 {
		hs, dhs := air.HSatSlope(Ts, l.c.PAtm)
		f := ua*(Ts-l.Te) - g*(l.evapHin-hs)
		if i == 0 && f >= 0 {
			return dry
		}
		step := f / (ua + g*dhs)
		Ts -= step
		if math.Abs(step) < 1e-4 { // K; the next would be some 1e-10 K
			break
		}
	}
	return Ts
}

// airOffVapour returns the temperature in K of the air that leaves the part of
// the coil that holds vapour.
func (l *loop) airOffVapour() float64 {
	rest := 1 - l.zE
	q := l.m * (l.h5 - math.Max(l.h4, l.satE.HV))
	return l.evapTin - q/math.Max(rest*l.evapMa*moistCp, 1e-9)
}

// airOff returns temperature (K) and humidity ratio of the air after the coil,
// the mixture of what passed its boiling and its vapour part.
func (l *loop) airOff() (T, W float64) {
	T = l.evapTin - l.evapEff*(l.evapTin-l.Ts)
	W = l.evapWin
	if l.wetCoil {
		W -= l.evapEff * math.Max(l.evapWin-air.HumidityRatio(l.Ts, 1, l.c.PAtm), 0)
	}
	if rest := 1 - l.zE; rest > 0 {
		T = l.zE*T + rest*l.airOffVapour()
		W = l.zE*W + rest*l.evapWin
	}
	return T, W
}

// evaporatorAir sets what the unknowns do not change.
func (l *loop) evaporatorAir() {
	p, c := l.p, &l.c
	share := c.Blower * l.f.EvapAir
	l.evapMa = p.EvapFlow * share * c.PAtm / 101325
	uaA := p.EvapUAAir * math.Pow(share, l.laws.EvapAirExp)
	l.evapEff = 1 - math.Exp(-uaA/(l.evapMa*moistCp))
	l.outsideW = air.HumidityRatio(c.Ambient, c.Humidity, c.PAtm)
	l.setEvaporatorAir(c.Ambient, l.outsideW)
}

// setEvaporatorAir sets the state of the air before the coil: T (K) and W (kg/kg)
// with the blower's heat.
func (l *loop) setEvaporatorAir(T, W float64) {
	b := l.c.Blower
	l.evapTin = T + l.p.BlowerPower*b*b*b/(l.evapMa*moistCp)
	l.evapWin = W
	l.evapHin = air.Enthalpy(l.evapTin, l.evapWin)
}

// vent returns the air temperature at the vent in K.
func (l *loop) vent() float64 {
	off, _ := l.airOff()
	around := l.c.Ambient + ductSurround
	return around + (off-around)*math.Exp(-l.p.DuctUA/(l.evapMa*moistCp))
}
