package cycle

import "twoneedles/refrig/car"

// Widths of the proportional bands of the capacity controls. Real controls have
// them too; here they also keep the displacement fraction a continuous function
// of the state. judgement
const (
	bandSuction = 15e3  // Pa
	bandFin     = 0.8   // K
	bandHigh    = 100e3 // Pa
	dwell       = 0.45  // where the mean suction pressure of a cycling clutch lies between cut-out and cut-in
	bandHot     = 10.0  // K
	highHold    = 0.92  // mean high side of a compressor cycling on its cut-out, as a share of it
)

// mode is what limits the capacity.
type mode int

const (
	fullOn    mode = iota // clutch in, full stroke
	stroking              // variable displacement or speed under control
	cycleLow              // clutch cycles on suction pressure or fin temperature
	cycleHigh             // clutch cycles on the high-pressure cut-out
	cycleHot              // the compressor's protector cycles on the hot gas
)

// strokeLimits returns the range of the displacement fraction.
func (l *loop) strokeLimits() (lo, hi float64) {
	switch l.mode {
	case cycleLow, cycleHigh, cycleHot:
		lo, hi = 0.01, 1
		if l.f.StrokeStuck > 0 && l.p.Compressor == car.Variable {
			hi = l.f.StrokeStuck
			lo *= hi
		}
		return lo, hi
	case stroking:
		return l.p.StrokeMin, 1
	}
	if l.f.StrokeStuck > 0 && l.p.Compressor == car.Variable {
		return l.f.StrokeStuck, l.f.StrokeStuck
	}
	return 1, 1
}

// law returns the displacement fraction the control asks for in the state at
// hand. Laws on suction or discharge pressure are explicit; the law on fin
// temperature makes the fraction a fourth unknown, because the fin temperature
// depends on the flow.
func (l *loop) law() float64 {
	lo, hi := l.strokeLimits()
	if lo == hi {
		return hi
	}
	var u float64
	switch {
	case l.mode == cycleHigh:
		u = (l.p.HighCut*highHold - (l.pOut - l.c.PAtm)) / bandHigh
	case l.mode == cycleHot:
		u = (l.p.HotCut - l.T2) / bandHot
	case l.p.onFin():
		set := l.p.FinTarget
		if l.mode == cycleLow {
			set = l.p.FinOff + dwell*(l.p.FinOn-l.p.FinOff)
		}
		u = (l.Tfin - set - l.f.FinShift) / bandFin
	default:
		set := l.p.SetPoint
		if l.mode == cycleLow {
			set = l.p.CutOut + dwell*(l.p.CutIn-l.p.CutOut)
		}
		u = (l.ps - l.c.PAtm - set - l.f.CutShift) / bandSuction
	}
	return lo + (hi-lo)*clamp01(u+0.5)
}

// strokeIsUnknown reports whether the fraction is an unknown of its own: where
// the law in force follows a temperature.
func (l *loop) strokeIsUnknown() bool {
	return l.mode == cycleHot || l.p.onFin() && (l.mode == stroking || l.mode == cycleLow)
}

func clamp01(x float64) float64 {
	if x < 0 {
		return 0
	}
	if x > 1 {
		return 1
	}
	return x
}

// firstMode is what limits the capacity if no switch opens.
func (p *Plant) firstMode(f *Fault) mode {
	if (p.Compressor == car.Variable && f.StrokeStuck == 0) || p.Compressor == car.Electric {
		if f.NoCut {
			return fullOn
		}
		return stroking
	}
	return fullOn
}

// nextMode returns the mode that the solution just found calls for; it is the
// mode itself when the solution stands.
func (l *loop) nextMode() mode {
	p := l.p
	pdg := l.pd - l.c.PAtm
	if l.mode != cycleHigh && pdg > p.HighCut {
		return cycleHigh
	}
	if (l.mode == fullOn || l.mode == stroking) && l.T2 > p.HotCut+bandHot/2 {
		return cycleHot
	}
	if l.mode == fullOn && p.hasClutchSwitch() && !l.f.NoCut {
		if p.onFin() {
			if l.Tfin < p.FinOff+l.f.FinShift {
				return cycleLow
			}
		} else if l.ps-l.c.PAtm < p.CutOut+l.f.CutShift {
			return cycleLow
		}
	}
	return l.mode
}

// hasClutchSwitch reports whether a low-side switch cycles the clutch.
func (p *Plant) hasClutchSwitch() bool { return p.Compressor == car.Fixed }
