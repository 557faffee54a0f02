package cycle

import "math"

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
