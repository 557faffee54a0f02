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
	Overheated          bool    // it is the compressor's protector that cycles

	// Temperatures, K.
	Evaporating, Condensing         float64
	Vent, Fin                       float64
	DischargeLine, SuctionLine      float64
	CondenserIn, CondenserOut       float64
	CondenserAir                    float64 // air at its inlet
	LiquidLine                      float64
	EvapSuperheat, SuctionSuperheat float64 // K; negative where the vapour is wet: −(1−x) h_fg/c_p
	Subcooling                      float64 // K at the condenser outlet; negative where it still condenses

	MassFlow float64 // kg/s
	Cooling  float64 // W, refrigerant side
	Power    float64 // W at the shaft
	Rejected float64 // W
	Exchange float64 // W from the liquid to the suction line in an internal heat exchanger
	Shell    float64 // W lost from the compressor's shell
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
	p, c := l.p, &l.c
	r := Result{
		Low: l.ps - c.PAtm, Evaporating: l.Te, Condensing: l.Tc,
		Vent: l.vent(), Fin: l.Tfin,
		CondenserIn: l.T2, DischargeLine: l.T2, SuctionLine: l.T1,
		CondenserAir:     l.condTin + l.condBack*l.qCond/l.condC,
		EvapSuperheat:    (l.h5 - l.satE.HV) / l.satE.CpV,
		SuctionSuperheat: (l.h1 - l.satS.HV) / l.satS.CpV,
		Subcooling:       (l.satC.HL - l.h3) / l.cpL,
		MassFlow:         l.m, Cooling: l.qEvap, Rejected: l.qCond, Power: l.m * l.w, Shell: l.shell, Exchange: l.qIHX,
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
	if l.mode != fullOn && l.mode != stroking {
		l.swing(&r)
	}
	r.Audit = l.audit()
	return r, r.Audit.check()
}
