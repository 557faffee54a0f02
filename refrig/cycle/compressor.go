package cycle

import (
	"math"

	"twoneedles/refrig/car"
)

// Constants of the compressor. The forms are textbook; the numbers are judgement
// within the range published for open piston and scroll compressors of cars,
// and are spread by package fleet where a plant carries its own.
const (
	reexpansion = 0.95 // 1/n, n the polytropic exponent of the clearance gas
	refSpeed    = 32.0 // 1/s, where EtaV0 and EtaIs are given
	flowFloor   = 1e-4 // kg/s, smooth lower limit of the net flow
	hotGasCp    = 1100 // J/(kg K), hot gas, for the loss of heat only
	leakHeatMax = 3.0  // gross / net flow beyond which leaking gas heats no further
)

// speed returns the shaft speed in 1/s.
func (l *loop) speed() float64 {
	if l.p.Compressor == car.Electric {
		return l.p.MaxSpeed
	}
	return l.c.RPM / 60 * l.p.PulleyRatio * l.f.Speed
}

// compress sets the net mass flow (kg/s) and the discharge enthalpy (J/kg) from
// the suction state, the discharge pressure and the displacement fraction.
//
//	η_v = η_v0 − c ((p_d/p_s)^(1/n) − 1) − speed term
//	m   = φ V_d N η_v ρ_1 − A_leak √(2 ρ_d (p_d − p_s))
//	h_2 = h_1 + w − UA (T_2 − T_bay)/m,  w = (h_2s − h_1)/η_is · m_gross/m
//
// where φ is the displacement, speed or duty fraction. The shell's loss goes with
// the gas temperature, so that a trickle leaves it no hotter than a hot shell is.
func (l *loop) compress() {
	p, n := l.p, l.n
	lr := math.Log(l.pd / l.ps)
	etaV := p.EtaV0 - p.Clearance*(math.Exp(reexpansion*lr)-1)
	if p.Compressor != car.Electric {
		etaV -= l.laws.SpeedPenalty * (n - refSpeed) * 60 / 1000
	}
	etaV = smoothMax(etaV, 0.05, 0.02) * l.f.EtaV
	gross := l.phi * p.Displacement * n * etaV * l.rho1
	leak := 0.0
	if l.f.LeakArea > 0 {
		leak = l.f.LeakArea * math.Sqrt(2*l.satC.RhoV*math.Max(l.pd-l.ps, 0))
	}
	net := gross - leak
	l.m = 0.5 * (net + math.Sqrt(net*net+4*flowFloor*flowFloor))
	l.lnM = math.Log(l.m / DesignFlow)

	off := lr - l.lnBest
	eta := p.EtaIs * (1 - l.laws.RatioPenalty*off*off)
	if !l.clutch {
		eta *= 0.6 + 0.4*math.Sqrt(l.phi) // part stroke: friction and leakage stay. judgement
	}
	eta = smoothMax(eta, 0.2, 0.02)
	h2s := p.Fluid.VapourHS(l.pd, l.s1)
	through := math.Min(gross/l.m, leakHeatMax)
	if through < 1 {
		through = 1
	}
	l.w = (h2s - l.h1) / eta * through
	hot := l.h1 + l.w
	T := l.satC.T
	if hot > l.satC.HV {
		T, _, _ = p.Fluid.VapourAt(l.satC, hot)
	}
	drop := p.ShellUA * (T - l.c.Ambient - bayRise) / (l.m + p.ShellUA/hotGasCp)
	drop = math.Min(drop, 0.95*math.Max(hot-l.satC.HL, 0)) // a trickle may condense in the shell, no more
	l.h2, l.shell = hot-drop, l.m*drop
}

// smoothMax is max(x, lo) rounded over a width of about w.
func smoothMax(x, lo, w float64) float64 {
	d := x - lo
	return lo + 0.5*(d+math.Sqrt(d*d+w*w))
}
