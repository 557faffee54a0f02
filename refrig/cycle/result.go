package cycle

import (
	"math"

	"twoneedles/refrig/car"
)

// Result is a steady state of the loop and what instruments on it would show.
type Result struct {
	// What the gauges show, Pa above the local atmosphere. Where the clutch
	// cycles these are means over the cycle and LowSwing, HighSwing the lowest
	// and the highest reading.
	Low, High           float64
	Cycling             bool
	LowSwing, HighSwing [2]float64
	CyclesPerMin        float64 // clutch engagements per minute; 0 if it stays in
	Duty                float64 // share of the time the clutch is in
	HighCutOut          bool    // it is the high-pressure cut-out that cycles

	// Temperatures, K.
	Evaporating, Condensing         float64
	Vent, Fin                       float64
	DischargeLine, SuctionLine      float64
	CondenserIn, CondenserOut       float64
	LiquidLine                      float64
	EvapSuperheat, SuctionSuperheat float64 // K; negative where the vapour is wet: −(1−x) h_fg/c_p
	Subcooling                      float64 // K at the condenser outlet; negative where it still condenses

	MassFlow float64 // kg/s
	Cooling  float64 // W, refrigerant side
	Power    float64 // W at the shaft
	Rejected float64 // W
	Stroke   float64 // displacement, speed or duty fraction
	Level    float64 // filled share of the receiver or accumulator, clamped to 0…1
	Charge   float64 // kg in the system
	LiquidIn float64 // quality before the metering device, below zero if subcooled
	Icing    bool    // the coil's surface is below freezing and wet
	States   [4]Point
	Evals    int // residual evaluations spent
	Audit    Audit
}

// Point is one corner of the cycle on the pressure–enthalpy diagram.
type Point struct{ P, H, T float64 } // Pa absolute, J/kg, K

func (l *loop) result() (Result, error) {
	p, c := l.p, l.c
	r := Result{
		Low: l.ps - c.PAtm, Evaporating: l.Te, Condensing: l.Tc,
		Vent: l.vent(), Fin: l.Tfin,
		CondenserIn: l.T2, DischargeLine: l.T2, SuctionLine: l.T1,
		EvapSuperheat:    (l.h5 - l.satE.HV) / l.satE.CpV,
		SuctionSuperheat: (l.h1 - l.satS.HV) / l.satS.CpV,
		Subcooling:       (l.satC.HL - l.h3) / l.cpL,
		MassFlow:         l.m, Cooling: l.qEvap, Rejected: l.qCond, Power: l.m * l.w,
		Stroke: l.phi, Level: clamp01(l.storeLevel()), Charge: l.mass(), LiquidIn: l.xIn,
		Icing: l.wetCoil && l.Ts < 272.65,
		Evals: l.evals,
	}
	if l.h3 > l.satC.HL {
		r.CondenserOut = l.Tc
	} else {
		r.CondenserOut = l.Tc - r.Subcooling
	}
	r.LiquidLine = math.Min(r.CondenserOut, l.satIn.T)
	if p.HighPort == car.PortLiquid {
		r.High = l.pPort - c.PAtm
	} else {
		r.High = l.pd - c.PAtm
	}
	r.States = [4]Point{
		{l.ps, l.h1, l.T1}, {l.pd, l.h2, l.T2}, {l.pc, l.h3, r.CondenserOut}, {l.pe, l.h4, l.Te},
	}
	r.LowSwing = [2]float64{r.Low, r.Low}
	r.HighSwing = [2]float64{r.High, r.High}
	r.Duty = 1
	if l.mode == cycleLow || l.mode == cycleHigh {
		l.swing(&r)
	}
	r.Audit = l.audit()
	return r, r.Audit.err()
}

// Time constants of a cycling clutch. judgement, from the heat capacity of a
// kilogram or two of aluminium and what it holds.
const (
	coilCapacity = 3500 // J/K, evaporator with the refrigerant boiling in it
	highTau      = 25.0 // s, of the high side towards its steady value
	minHalf      = 2.0  // s, shortest on or off time of a clutch
)

// swing fills in what a cycling clutch does to the needles. The coil moves
// between the temperatures at which the switch acts; off, the cabin air warms
// it, on, the surplus of the running compressor cools it. A starved coil has
// little boiling refrigerant to move and therefore cycles faster.
func (l *loop) swing(r *Result) {
	p := l.p
	r.Cycling = true
	r.Duty = math.Max(r.Stroke, 0.02)
	capacity := coilCapacity * (0.25 + 0.75*l.zE)
	span := 12.0
	if l.mode == cycleHigh {
		r.HighCutOut = true
		span = 20
		r.HighSwing = [2]float64{p.HighCut * (2*highHold - 1), p.HighCut}
		off := math.Max(capacity*span/math.Max(r.Cooling, 200)*0.5, minHalf)
		r.CyclesPerMin = 60 * (1 - r.Duty) / off
		if r.Duty > 0.98 {
			r.CyclesPerMin = 0
		}
		rest := p.Fluid.PSat(math.Min(l.c.Ambient, l.Te+span)) - l.c.PAtm
		r.LowSwing = [2]float64{r.Low, math.Max(r.Low, math.Min(rest, r.Low+150e3))}
		return
	}
	fl := p.Fluid
	if p.onFin() {
		lo := p.FinOff + l.f.FinShift
		span = p.FinOn - p.FinOff
		dT := lo - r.Fin
		low := fl.PSat(l.Te+dT) - l.c.PAtm - (l.pe - l.ps)
		high := fl.PSat(math.Min(l.Te+dT+span+6, l.c.Ambient)) - l.c.PAtm // off, the coil floods: it warms more than its fins
		r.LowSwing = [2]float64{math.Min(low, r.Low), math.Max(high, r.Low)}
		span += 4
	} else {
		r.LowSwing = [2]float64{p.CutOut + l.f.CutShift, p.CutIn + l.f.CutShift}
		span = fl.TSat(r.LowSwing[1]+l.c.PAtm) - fl.TSat(r.LowSwing[0]+l.c.PAtm)
	}
	off := math.Max(capacity*span/math.Max(r.Cooling, 200), minHalf)
	on := math.Max(off*r.Duty/math.Max(1-r.Duty, 0.03), minHalf)
	r.CyclesPerMin = 60 / (on + off)
	// Between clutch engagements the high side relaxes towards saturation a
	// little above the air; on, towards what a running compressor would hold.
	rest := fl.PSat(l.condTin+2) - l.c.PAtm
	run := rest + (r.High-rest)/math.Max(r.Duty, 0.1)
	run = math.Min(run, rest+2.2*(r.High-rest))
	a, b := math.Exp(-on/highTau), math.Exp(-off/highTau)
	top := run - (run-rest)*a*(1-b)/(1-a*b)
	bottom := rest + (top-rest)*b
	r.HighSwing = [2]float64{math.Min(bottom, r.High), math.Max(top, r.High)}
}
