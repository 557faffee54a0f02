package cycle

import (
	"math"

	"twoneedles/refrig/car"
)

// Time constants of a cycling clutch. judgement, from the heat capacity of a
// kilogram or two of aluminium and what it holds.
const (
	coilCapacity  = 3500 // J/K, evaporator with the refrigerant boiling in it
	highTau       = 10.0 // s, of the high side towards its steady value: 3 kg of aluminium over 300 W/K
	shellCapacity = 3500 // J/K, of a compressor of some 5 kg
	hotSpan       = 15.0 // K, between letting go and closing again of its protector
	restSpan      = 20.0 // K, that the coil warms while the cut-out keeps the clutch out
	shellSpan     = 12.0 // K, while the protector does; starved, it has little to warm it
	minHalf       = 1.5  // s, shortest on or off time of a clutch
)

// swing fills in what a cycling clutch does to the needles.
func (l *loop) swing(r *Result) {
	r.Cycling = true
	r.Duty = math.Max(r.Stroke, 0.02)
	switch l.mode {
	case cycleHigh:
		l.swingOnCutOut(r)
	case cycleHot:
		l.swingOnProtector(r)
	default:
		l.swingOnSwitch(r)
	}
}

// swingOnCutOut: the high side falls from the cut-out to as far below its mean as
// the cut-out lies above, while the coil warms half of restSpan.
func (l *loop) swingOnCutOut(r *Result) {
	r.HighCutOut = true
	r.HighSwing = [2]float64{l.p.HighCut * (2*highHold - 1), l.p.HighCut}
	capacity, heat := l.refill()
	r.CyclesPerMin = 60 * (1 - r.Duty) / math.Max(0.5*capacity*restSpan/heat, minHalf)
	if r.Duty > 0.98 {
		r.CyclesPerMin = 0
	}
	r.LowSwing = [2]float64{r.Low, l.lowOff(r, restSpan)}
}

// swingOnProtector: the shell cools by hotSpan before the protector closes again.
func (l *loop) swingOnProtector(r *Result) {
	r.Overheated = true
	r.CyclesPerMin = 60 * (1 - r.Duty) * math.Max(l.shell, 50) / (shellCapacity * hotSpan)
	r.LowSwing = [2]float64{r.Low, l.lowOff(r, shellSpan)}
}

// lowOff is where the low side goes, Pa gauge, when the compressor is off longer
// than a switch on the low side would let it and the coil warms by span, K.
func (l *loop) lowOff(r *Result, span float64) float64 {
	rest := l.p.Fluid.PSat(math.Min(l.c.Ambient, l.Te+span)) - l.c.PAtm
	return math.Max(r.Low, math.Min(rest, r.Low+150e3))
}

// swingOnSwitch: the low side or the coil moves between the points at which the
// switch acts; off, heat and vapour come in, on, the surplus of the running
// compressor takes them out.
func (l *loop) swingOnSwitch(r *Result) {
	p, fl := l.p, l.p.Fluid
	var span float64 // of the refrigerant in the coil, K
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
		r.LowSwing[0] = math.Min(r.LowSwing[0], r.Low) // a blocked system is pulled past the switch
		span = fl.TSat(r.LowSwing[1]+l.c.PAtm) - fl.TSat(r.LowSwing[0]+l.c.PAtm)
	}
	capacity, heat := l.refill()
	off := math.Max(capacity*span/heat, minHalf)
	on := math.Max(off*r.Duty/math.Max(1-r.Duty, 0.03), minHalf)
	r.CyclesPerMin = 60 / (on + off)
	// Between clutch engagements the high side relaxes towards saturation a little
	// above the air, without liquid towards the low side; on, towards what a running
	// compressor would hold.
	rest := math.Min(fl.PSat(l.condTin+2)-l.c.PAtm, r.High-0.15*(r.High-r.Low))
	run := rest + (r.High-rest)/math.Max(r.Duty, 0.2)
	a, b := math.Exp(-on/highTau), math.Exp(-off/highTau)
	top := run - (run-rest)*a*(1-b)/(1-a*b)
	bottom := rest + (top-rest)*b
	r.HighSwing = [2]float64{math.Min(bottom, r.High), math.Max(top, r.High)}
}

// refill returns what holds the low side down while the clutch is out, as a heat
// capacity (J/K) per kelvin of saturation, and the heat (W) that lifts it:
//
//	(z C_coil + V h_fg dρ_V/dT) dT/dt = z G (T_air − T_e) + m x h_fg
//
// The wet share z of the coil must warm and the volume fill with vapour. The air
// boils what is wet; an orifice tube stays open and lets vapour of quality x in
// besides, a valve shuts. A starved coil has little to warm and its tube passes
// mostly vapour, so its clutch is back within seconds.
func (l *loop) refill() (capacity, heat float64) {
	p, s := l.p, &l.satE
	volume := p.EvapVolume + p.SuctionVolume
	heat = l.zE * l.evapMa * moistCp * l.evapEff * math.Max(l.evapTin-l.Te, 1)
	if p.Metering == car.OrificeTube {
		volume += p.StoreVolume * (1 - clamp01(l.storeLevel()))
		heat += l.m * clamp01((l.h4-s.HL)/l.hfgE) * l.hfgE
	}
	const dT = 1.0 // K, for the slope
	warm := p.Fluid.Sat(p.Fluid.PSat(l.Te + dT))
	capacity = l.zE*coilCapacity + volume*l.hfgE*(warm.RhoV-s.RhoV)/dT
	return capacity, math.Max(heat, 100)
}
