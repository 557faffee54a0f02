package cycle

import (
	"math"

	"twoneedles/refrig/car"
)

// Constants of the condenser that are not part of [Laws].
const (
	airBlanket   = 2     // of ln condensing conductance per mole fraction of air; a few per cent take a third and more (textbook). judgement
	wetUA        = 1.6   // gain of the air-side conductance when sprayed. judgement
	wetApproach  = 0.25  // share of the wet-bulb depression left in sprayed air. judgement
	airCp        = 1006  // J/(kg K), dry air near 300 K
	bonnetShut   = 1.5   // growth of the share of returning air under a shut bonnet. judgement
	ramClears    = 4     // how fast other air from in front does away with it. judgement
	fanBand      = 120e3 // Pa, of the switch of the fans; a real one steps over some 300 kPa. judgement
	mostHot      = 0.6   // largest share of returning air. judgement
	mostRadiator = 25    // K, that the radiator warms the air at most: beyond, the engine boils. judgement
	gapWidth     = 0.2   // K, rounding of the condensing-minus-air temperature at zero
)

// condense sets the condenser's zones, its outlet enthalpy and its duty from the
// inlet enthalpy h2. The coil is a slab in cross flow: every part meets air at
// the inlet temperature, so each zone of area fraction w is explicit,
//
//	T − T_air decays as exp(−w C ε/(m c_p))    one phase
//	m Δh = w C ε (T_c − T_air)                   two-phase
//
// with C the air's capacity rate, ε = 1 − exp(−UA/C), and recirculated outlet
// air folded into ε.
func (l *loop) condense() {
	l.condenserAir()
	p, s := l.p, &l.satC
	m := l.m
	uaR := p.CondUARef * math.Exp(l.laws.CondRefExp*l.lnM)
	eps := func(ref float64) float64 {
		ua := 1 / (1/l.condUAAir + 1/ref)
		e := 1 - math.Exp(-ua/l.condC)
		return e / (1 + e*l.condBack)
	}
	kTP := l.condC * eps(uaR*math.Exp(-airBlanket*l.pAir/l.pd))
	d := l.Tc - l.condTin
	gap := 0.5 * (d + math.Sqrt(d*d+gapWidth*gapWidth))

	z := zones{main: 1 - p.CondSubFrac}
	x := 1.0 // quality entering the two-phase zone
	var T2, cpV, kSH float64
	if l.h2 > s.HV {
		kSH = l.condC * eps(l.laws.CondVapour*uaR)
		T2, l.rho2, _ = p.Fluid.VapourAt(*s, l.h2)
		cpV = (l.h2 - s.HV) / math.Max(T2-l.Tc, 1e-6)
		z.sh = m * cpV / kSH * math.Log(1+(T2-l.Tc)/gap)
	} else {
		T2 = l.Tc
		x = (l.h2 - s.HL) / l.hfgC
		l.rho2 = 1 / (x/s.RhoV + (1-x)/s.RhoL)
	}
	l.T2 = T2
	z.tp = m * x * l.hfgC / (kTP * gap)
	z.xIn = x

	// The liquid's heat capacity, averaged over all the way it could cool.
	// Within a kelvin of the air there is nothing left to cool and the quotient
	// loses its digits; there it fades into the value at saturation.
	cpL := s.CpL
	if d > 0 {
		cpL += math.Min(d, 1) * ((s.HL-l.condHL)/d - cpL)
	}
	l.cpL = cpL
	liquid := func(h, w float64) float64 { // subcool from h over area w
		kSC := l.condC * eps(l.laws.CondLiquid*uaR)
		Tin := l.Tc - (s.HL-h)/cpL
		return h - cpL*(Tin-l.condTin)*(1-math.Exp(-w*kSC/(m*cpL)))
	}
	switch rest := z.main - z.sh - z.tp; {
	case rest >= 0:
		l.hMain = liquid(s.HL, rest)
		z.sc = rest
	case z.sh < z.main:
		z.tp = z.main - z.sh
		z.xOut = x - z.tp*kTP*gap/(m*l.hfgC)
		l.hMain = s.HL + z.xOut*l.hfgC
	default:
		z.sh, z.tp, z.xOut = z.main, 0, 1
		air := l.Tc - gap // the air's temperature, rounded as above
		T := air + (T2-air)*math.Exp(-z.main*kSH/(m*cpV))
		l.hMain = s.HV + cpV*(T-l.Tc)
	}
	l.h3 = l.hMain
	if sub := p.CondSubFrac; sub > 0 {
		l.h3, z.subLiq = l.subcoolPass(sub, kTP*gap, liquid)
	}
	l.zones = z
	l.qCond = m * (l.h2 - l.h3)
}

// subcoolPass returns the enthalpy after the face that follows an integral
// receiver, and the share of that face that holds liquid. Vapour reaching it
// condenses first.
func (l *loop) subcoolPass(sub, kGap float64, liquid func(h, w float64) float64) (h, wet float64) {
	s := &l.satC
	if l.hMain <= s.HL {
		return liquid(l.hMain, sub), 1
	}
	need := l.m * (l.hMain - s.HL) / kGap
	if need >= sub {
		return l.hMain - sub*kGap/l.m, 0
	}
	return liquid(s.HL, sub-need), 1 - need/sub
}

// zones is how the condenser's face divides, as shares of the whole face.
type zones struct {
	main       float64 // face before an integral receiver
	sh, tp, sc float64 // desuperheating, condensing, subcooling within main
	xIn, xOut  float64 // quality at the ends of the condensing zone
	subLiq     float64 // liquid share of the face after the receiver
}

// hotShare is the share of the air at the condenser's inlet that has been through
// condenser and radiator before. It grows at idle, where the fan's air is slow, and
// with the bonnet shut over it, and falls where other air comes from in front.
// Published: at idle the inlet air is up to 18 K warmer than outside [SAE1689].
func (l *loop) hotShare() float64 {
	p, c := l.p, &l.c
	s := p.CondRecirc
	if p.Compressor != car.Electric {
		s *= 1 + p.CondIdle*clamp01((1500-c.RPM)/750)
	}
	if c.BonnetShut {
		s *= bonnetShut
	}
	s /= 1 + ramClears*c.RamAir/p.CondFlow
	return math.Min(s, mostHot)
}

// fanAir returns the fans' flow in m³/s. An electric fan runs in stages by the high
// side's pressure; a fan that steps up at one pressure and down at another spends,
// on average, a growing share of its time in the higher stage between them, which
// is what is taken here. That keeps the high side up on a cool day. A fan on the
// engine follows its speed.
func (l *loop) fanAir() float64 {
	p, c := l.p, &l.c
	stage := p.FanLow + (1-p.FanLow)/(1+math.Exp(-(l.pOut-c.PAtm-p.FanStep)/fanBand))
	fan := p.CondFlow * l.f.CondAir * stage
	slow := 0.0 // 1 at 750/min
	if p.Compressor != car.Electric {
		fan *= 1 - p.CondMechFan + p.CondMechFan*c.RPM/1500
		slow = clamp01((1500 - c.RPM) / 750)
	}
	return fan * (1 - slow*(1-l.f.IdleAir))
}

// condenserAir sets inlet temperature, capacity rate, air-side conductance and the
// factor of the effectiveness for returning air. Air that returns with share s has
// taken up the radiator's heat Q besides the condenser's own:
//
//	T_in = T_amb + (s/(1−s)) (Q/C + T_out − T_in)
//
// The last two terms are the condenser's and go into its effectiveness.
func (l *loop) condenserAir() {
	p, c := l.p, &l.c
	flow := l.fanAir() + c.RamAir
	l.condTin = c.Ambient + p.CondPreheat + l.f.CondHeat
	if p.Compressor != car.Electric {
		C := flow * c.PAtm / (287.05 * c.Ambient) * airCp
		l.condTin += l.condBack * math.Min(p.EngineHeat/C, mostRadiator)
	}
	l.condUAAir = p.CondUAAir * math.Exp(l.laws.CondAirExp*math.Log(flow/p.CondFlow))
	if c.WaterOn {
		l.condTin -= (1 - wetApproach) * l.spray
		l.condUAAir *= wetUA
	}
	l.condHL = l.coldHL + l.coldCp*(l.condTin-c.Ambient)
	rho := c.PAtm / (287.05 * l.condTin) // dry air, ideal gas
	l.condC = flow * rho * airCp
}
