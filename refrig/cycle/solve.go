package cycle

import (
	"math"

	"twoneedles/refrig/car"
)

// Solve finds the steady state of plant p with fault f under conditions c.
//
// It returns a *refrig.RangeError for weather or a fault beyond the equations, a
// *refrig.ConvergenceError if no start leads to a state, and an
// *[AuditError] if the state found does not close; it never returns an unaudited
// state without an error. The search is the same for the same arguments.
func Solve(p *Plant, f Fault, c Conditions) (Result, error) {
	if err := check(p, &f, &c); err != nil {
		return Result{}, err
	}
	var l loop
	l.set(p, f, c)
	return l.run(l.start())
}

// run finds the mode that stands and its state, looking first at start.
func (l *loop) run(start vec) (Result, error) {
	l.mode = l.p.firstMode(&l.f)
	for range 5 { // each of the five modes at most once
		l.clutch = l.mode != stroking && (l.mode != fullOn || l.p.Compressor == car.Fixed)
		z, err := l.find(start)
		if err != nil {
			return Result{}, err
		}
		l.residual(z)
		next := l.nextMode()
		if next == l.mode {
			break
		}
		start = z
		start[3] = 0.5
		if l.mode = next; next == cycleHigh { // from beyond the cut-out the law is flat
			start[1] = l.cutOutStart()
		}
	}
	return l.result()
}

// scattered is how many starts are tried at last.
const scattered = 40

// find returns a state of the mode at hand. Where none is found the mode gives
// way to a cycling clutch, which is what stops a real system from going where the
// equations have no state; else the state is followed from the sound car; at last
// starts from all over are tried, spread evenly and always the same. Of a
// thousand searches for random cars 12 needed the second of these, 2 the third
// and 1 the fourth.
func (l *loop) find(start vec) (vec, error) {
	z, err := l.newtonFrom(start)
	if err == nil {
		return z, nil
	}
	if z, ok := l.heldByClutch(start, l.newtonFrom); ok {
		return z, nil
	}
	if z, err := l.creep(start); err == nil {
		return z, nil
	}
	for k := range scattered {
		z := l.scatter(k)
		if z, err := l.newtonOnce(z); err == nil {
			return z, nil
		}
		if z, ok := l.heldByClutch(z, l.newtonOnce); ok {
			return z, nil
		}
	}
	return z, err
}

// scatter returns the k-th of the starts spread over the box of states that a
// car can have, by the additive recurrence of the fractional parts of √2, √3, √5
// and √7.
func (l *loop) scatter(k int) vec {
	lo, hi := vec{-1.5, -0.5, -0.1, -0.5}, vec{1, 0.4, 0.3, 0.5}
	z := l.start()
	for i, a := range [...]float64{math.Sqrt2, 1.7320508, 2.2360680, 2.6457513} {
		_, u := math.Modf(float64(k+1) * a)
		z[i] += lo[i] + (hi[i]-lo[i])*u
	}
	return z
}

// heldByClutch tries the modes in which the clutch cycles, first on the
// high-pressure cut-out and then on the low-side switch. A solution counts only
// if the switch is really at work: a duty of one would mean that the compressor
// could run on, and then it does. (A severe restriction of an orifice tube
// system can have both kinds of solution; the one that needs the higher
// pressure is met first when the compressor starts.)
func (l *loop) heldByClutch(start vec, solve func(vec) (vec, error)) (vec, bool) {
	mode0, clutch := l.mode, l.clutch
	for _, m := range [...]mode{cycleHigh, cycleLow} {
		if m == mode0 || m == cycleLow && (!l.p.hasClutchSwitch() || l.f.NoCut) {
			continue
		}
		l.mode, l.clutch = m, true
		at := start
		at[3] = 0.5
		if m == cycleHigh {
			at[1] = l.cutOutStart()
		}
		z, err := solve(at)
		if err == nil {
			l.residual(z)
			if _, hi := l.strokeLimits(); l.phi < hi {
				return z, true
			}
		}
	}
	l.mode, l.clutch = mode0, clutch
	return start, false
}

// cutOutStart is ln of the condensing pressure that the cut-out holds on average.
func (l *loop) cutOutStart() float64 {
	return math.Log(math.Max(l.p.HighCut*highHold+l.c.PAtm-l.pAir, 0.3*l.p.HighCut))
}

// start is a guess from constant approaches: coil a few kelvin above freezing,
// condenser 18 K above its air.
func (l *loop) start() vec {
	fl := l.p.Fluid
	te := math.Min(l.evapTin-10, 276)
	te = math.Max(te, 262)
	tc := math.Min(l.condTin+18, fl.TCrit()-12)
	return vec{math.Log(fl.PSat(te)), math.Log(fl.PSat(tc)), 0.03, 0.5}
}

// Size sets p.Charge to the mass that fills the store to p.StoreLevel in the
// weather a maker charges for (35 °C, 40 % humidity, 1800/min, some road wind).
// The conditions are judgement. The error is a *refrig.ConvergenceError.
func Size(p *Plant) error {
	var l loop
	l.set(p, Sound(), Conditions{Ambient: 308.15, Humidity: 0.4, PAtm: 101325, RPM: 1800, Blower: 1, RamAir: 0.15})
	l.design = true
	l.mode, l.clutch = fullOn, true
	if p.Compressor != car.Fixed {
		l.mode, l.clutch = stroking, false
	}
	z, err := l.newtonFrom(l.start())
	for k := 0; err != nil && k < scattered; k++ {
		if at, e := l.newtonOnce(l.scatter(k)); e == nil {
			z, err = at, nil
		}
	}
	if err != nil {
		return err
	}
	l.residual(z)
	p.Charge = l.mass()
	return nil
}
