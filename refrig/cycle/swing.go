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
	minHalf       = 1.5  // s, shortest on or off time of a clutch
)

// swing fills in what a cycling clutch does to the needles. The coil moves
// between the temperatures at which the switch acts; off, the cabin air warms
// it, on, the surplus of the running compressor cools it.
func (l *loop) swing(r *Result) {
	p := l.p
	r.Cycling = true
	r.Duty = math.Max(r.Stroke, 0.02)
	capacity, heat := l.refill()
	span := 12.0
	if l.mode == cycleHigh {
		r.HighCutOut = true
		span = 20
		r.HighSwing = [2]float64{p.HighCut * (2*highHold - 1), p.HighCut}
		off := math.Max(capacity*span/heat*0.5, minHalf)
		r.CyclesPerMin = 60 * (1 - r.Duty) / off
		if r.Duty > 0.98 {
			r.CyclesPerMin = 0
		}
		rest := p.Fluid.PSat(math.Min(l.c.Ambient, l.Te+span)) - l.c.PAtm
		r.LowSwing = [2]float64{r.Low, math.Max(r.Low, math.Min(rest, r.Low+150e3))}
		return
	}
	fl := p.Fluid
	if l.mode == cycleHot {
		r.Overheated = true
		off := shellCapacity * hotSpan / math.Max(l.shell, 50)
		r.CyclesPerMin = 60 * (1 - r.Duty) / off
		rest := fl.PSat(math.Min(l.c.Ambient, l.Te+span)) - l.c.PAtm
		r.LowSwing = [2]float64{r.Low, math.Max(r.Low, math.Min(rest, r.Low+150e3))}
		return
	}
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
	off := math.Max(capacity*span/heat, minHalf)
	on := math.Max(off*r.Duty/math.Max(1-r.Duty, 0.03), minHalf)
	r.CyclesPerMin = 60 / (on + off)
	// Between clutch engagements the high side relaxes towards saturation a
	// little above the air; on, towards what a running compressor would hold.
	rest := math.Min(fl.PSat(l.condTin+2)-l.c.PAtm, r.High-0.15*(r.High-r.Low)) // without liquid it sinks towards the low side
	run := rest + (r.High-rest)/math.Max(r.Duty, 0.1)
	run = math.Min(run, rest+5*(r.High-rest))
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
