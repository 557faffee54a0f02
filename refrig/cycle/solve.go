package cycle

import (
	"math"

	"twoneedles/refrig"
	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/fast"
)

// loop is the working state of one solve: the case, what does not depend on the
// unknowns, and everything the last residual evaluation computed.
type loop struct {
	p    *Plant
	f    *Fault
	c    *Conditions
	laws *Laws

	mode   mode
	clutch bool // the fraction is a duty, not a stroke
	design bool // the level of the store is given instead of the charge

	n                          float64 // compressor speed, 1/s
	condTin, condC, condUAAir  float64
	condHL, cpL                float64
	wetDepression              float64
	evapMa, evapTin, evapWin   float64
	evapHin, evapEff           float64
	airStatic                  float64 // partial pressure of air in the condenser per kelvin, Pa/K
	chargeTarget, chargeNormal float64

	phi, ps, pc, pd, pe, pIn, pOut, pPort, pAir float64
	h1, h2, h2s, h3, h4, h5, hMain, s1, w       float64
	rho1, rho2, T1, T2, Tc, Te, Ts, Tfin        float64
	hfgC, hfgE, xE, zE, xIn                     float64
	m, mMeter, qCond, qEvap                     float64
	Toff, Woff                                  float64
	short, choke                                float64
	wetCoil                                     bool
	zC                                          zones
	satS, satC, satE, satIn                     fast.Sat
	evals                                       int
}

// nAll is the number of unknowns with the displacement fraction, nBase without.
const (
	nBase = 3
	nAll  = 4
)

type vec [nAll]float64

// residual evaluates the loop at z:
//
//	z = (ln p_s, ln p_c, (h_1 − h_V(p_s))/h_fg(p_s), φ)
//
// and returns, all scaled to order one,
//
//	0 = (m_meter − m_comp)/(m_meter + m_comp)      mass flow
//	0 = (h_1' − h_1)/h_fg                           energy, evaporator and suction line
//	0 = (M − M_charge)/M_label                      charge, or the design level
//	0 = φ_law − φ                                   control, where φ is unknown
func (l *loop) residual(z vec) (r vec) {
	l.evals++
	fl := l.p.Fluid
	l.ps = math.Exp(z[0])
	l.pc = math.Exp(z[1])
	l.satS = fl.Sat(l.ps)
	l.satC = fl.Sat(l.pc)
	hfg := l.satS.HV - l.satS.HL
	l.hfgC = l.satC.HV - l.satC.HL
	l.Tc = l.satC.T
	l.h1 = l.satS.HV + z[2]*hfg
	if z[2] >= 0 {
		l.T1, l.rho1, l.s1 = fl.Vapour(l.ps, l.h1)
	} else {
		x := 1 + z[2]
		l.T1 = l.satS.T
		l.rho1 = 1 / (x/l.satS.RhoV + (1-x)/l.satS.RhoL)
		l.s1 = l.satS.SV + z[2]*hfg/l.satS.T
	}
	l.pAir = l.airStatic * l.Tc
	l.pOut = l.pc + l.pAir
	if l.onFin() && l.mode != fullOn {
		l.phi = z[3]
	} else {
		l.phi = l.law()
	}
	l.pd = l.pOut + 0.5*l.p.CondDrop*l.flowGuess()*l.flowGuess()/l.satC.RhoV
	l.compress(l.phi)
	l.suctionLine()
	l.satE = fl.Sat(l.pe)
	l.Te = l.satE.T
	l.hfgE = l.satE.HV - l.satE.HL
	l.condense()
	l.h4 = l.h3
	l.liquidLine()
	l.evaporate()
	l.meter()
	r[0] = (l.mMeter-l.m)/(l.mMeter+l.m) - 3*l.short + 3*l.choke
	r[1] = (l.suctionHeat() - l.h1) / l.hfgE
	if l.design {
		r[2] = l.storeLevel() - l.p.StoreLevel
	} else {
		r[2] = (l.mass() - l.chargeTarget) / l.chargeNormal
	}
	if l.onFin() && l.mode != fullOn {
		r[3] = l.law() - z[3]
	}
	return r
}

// flowGuess is the flow used for the pressure drop of the condenser's first
// half, which the compressor works against. It depends on the unknowns alone,
// so that the discharge pressure is known before the flow is.
func (l *loop) flowGuess() float64 {
	return math.Min(0.65*l.phi*l.p.Displacement*l.n*l.rho1, 2*DesignFlow)
}

// Solve finds the steady state of plant p with fault f under conditions c.
//
// It returns a *refrig.ConvergenceError if no start leads to a state that also
// passes the audit; it never returns an unaudited state without an error.
func Solve(p *Plant, f Fault, c Conditions) (Result, error) {
	l := newLoop(p, &f, &c)
	l.chargeNormal = p.Charge
	l.chargeTarget = p.Charge * f.Charge
	return l.run()
}

func newLoop(p *Plant, f *Fault, c *Conditions) *loop {
	l := &loop{p: p, f: f, c: c, laws: p.Laws}
	if l.laws == nil {
		l.laws = &StandardLaws
	}
	l.n = l.speed()
	if c.WaterOn {
		W := air.HumidityRatio(c.Ambient, c.Humidity, c.PAtm)
		l.wetDepression = math.Max(c.Ambient-air.WetBulb(c.Ambient, W, c.PAtm), 0)
	}
	l.condenserAir()
	l.evaporatorAir()
	l.airStatic = f.AirPressure * airGather(p) / 298
	return l
}

// airGather is the ratio of the partial pressure of air in the running condenser
// to that at rest: nearly all of it is swept there and compressed into the
// vapour space of the high side. The shares are judgement.
func airGather(p *Plant) float64 {
	high := 0.75*p.CondVolume + p.DischVolume
	if p.Metering == car.ExpansionValve {
		high += 0.5 * p.StoreVolume
	}
	all := p.CondVolume + p.DischVolume + p.EvapVolume + p.SuctionVolume + p.LiquidVolume + p.StoreVolume
	return 0.7 * all / high
}

// run finds the mode that stands and its state. A mode may give way to another;
// a mode without a solution gives way to the high-pressure cut-out, which is
// what stops a real system from going where the equations have no state.
func (l *loop) run() (Result, error) {
	l.mode = l.p.firstMode(l.f)
	start := l.start()
	for i := 0; i < 4; i++ {
		l.clutch = l.mode == cycleLow || l.mode == cycleHigh || l.mode == fullOn && l.p.Compressor == car.Fixed
		z, err := l.newtonFrom(start)
		if err != nil {
			if zc, ok := l.heldByClutch(start); ok {
				z, err = zc, nil
			}
		}
		if err != nil {
			z, err = l.creep(start)
		}
		if err != nil {
			return Result{}, err
		}
		l.residual(z)
		next := l.nextMode()
		if next == l.mode {
			return l.result()
		}
		start = z
		start[3] = 0.5
		if l.mode = next; next == cycleHigh { // from beyond the cut-out the law is flat
			start[1] = l.cutOutStart()
		}
	}
	return l.result()
}

// heldByClutch tries the modes in which the clutch cycles, first on the
// high-pressure cut-out and then on the low-side switch. A solution counts only
// if the switch is really at work: a duty of one would mean that the compressor
// could run on, and then it does. (A severe restriction of an orifice tube
// system can have both kinds of solution; the one that needs the higher
// pressure is met first when the compressor starts.)
func (l *loop) heldByClutch(start vec) (vec, bool) {
	mode0, clutch := l.mode, l.clutch
	for _, m := range []mode{cycleHigh, cycleLow} {
		if m == mode0 || m == cycleLow && (!l.p.hasClutchSwitch() || l.f.NoCut) {
			continue
		}
		l.mode, l.clutch = m, true
		at := start
		at[3] = 0.5
		if m == cycleHigh {
			at[1] = l.cutOutStart()
		}
		z, err := l.newtonFrom(at)
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
// Conditions are judgement.
func Size(p *Plant) error {
	f := Sound()
	c := Conditions{Ambient: 308.15, Humidity: 0.4, PAtm: 101325, RPM: 1800, Blower: 1, RamAir: 0.15}
	l := newLoop(p, &f, &c)
	l.design = true
	l.chargeNormal = 1
	l.mode = fullOn
	l.clutch = true
	if p.Compressor != car.Fixed {
		l.mode, l.clutch = stroking, false
	}
	z, err := l.newtonFrom(l.start())
	if err != nil {
		return err
	}
	l.residual(z)
	p.Charge = l.mass()
	return nil
}

// Limits of the iteration.
const (
	tolerance = 3e-6 // on √Σr²; 3e-6 of h_fg is 0.5 J/g, far below any instrument
	maxSteps  = 60
	maxEvals  = 3000
)

var stepLimit = vec{0.4, 0.2, 0.12, 0.3}

// newtonFrom solves from start, then from a few shifted starts.
func (l *loop) newtonFrom(start vec) (vec, error) {
	shifts := [...]vec{{}, {-0.35, 0.15, 0.1, -0.3}, {0.3, -0.1, -0.03, 0.3}, {-0.9, 0.1, 0.2, -0.4},
		{0.5, 0.3, 0.0, 0.4}, {-0.5, -0.2, 0.25, 0}, {-1.4, 0.25, 0.3, -0.45}, {0.1, -0.3, -0.1, 0.1}}
	var best vec
	bestN := math.Inf(1)
	l.evals = 0
	for _, s := range shifts {
		z := start
		for i := range z {
			z[i] += s[i]
		}
		l.bound(&z)
		z, n := l.newton(z)
		if n < tolerance {
			return z, nil
		}
		if n < bestN {
			best, bestN = z, n
		}
		if l.evals > maxEvals {
			break
		}
	}
	return best, &refrig.ConvergenceError{What: "refrigerant loop", Iterations: l.evals, Residual: bestN, Last: best[:]}
}

func (l *loop) bound(z *vec) {
	fl := l.p.Fluid
	lo := math.Log(fl.PMin() * 1.02)
	hi := math.Log(fl.PMax() * 0.995)
	z[1] = math.Min(math.Max(z[1], lo+0.3), hi)
	z[0] = math.Min(math.Max(z[0], lo), z[1]-0.03)
	z[2] = math.Min(math.Max(z[2], -0.9), 0.75)
	slo, shi := l.strokeLimits()
	z[3] = math.Min(math.Max(z[3], slo), shi)
}

func (l *loop) dims() int {
	if l.onFin() && l.mode != fullOn {
		return nAll
	}
	return nBase
}

func norm(r vec, n int) float64 {
	s := 0.0
	for i := 0; i < n; i++ {
		s += r[i] * r[i]
	}
	return math.Sqrt(s)
}

// newton runs Newton's method with a difference Jacobian, kept by Broyden's
// update while it serves, and backtracking. It returns the best iterate and the
// norm of its residual.
func (l *loop) newton(z vec) (vec, float64) {
	n := l.dims()
	r := l.residual(z)
	rn := norm(r, n)
	var J [nAll]vec
	fresh := false
	for step := 0; step < maxSteps && rn >= tolerance; step++ {
		if step == 0 {
			l.jacobian(&J, z, r, n)
			fresh = true
		}
		d, ok := solveDense(J, r, n)
		if !ok {
			if fresh {
				return z, rn
			}
			l.jacobian(&J, z, r, n)
			fresh = true
			continue
		}
		scale := 1.0
		for i := 0; i < n; i++ {
			if a := math.Abs(d[i]); a*scale > stepLimit[i] {
				scale = stepLimit[i] / a
			}
		}
		var zn, rnew vec
		nn := math.Inf(1)
		tries := 7
		if !fresh {
			tries = 2
		}
		for t := 0; t < tries; t++ {
			zn = z
			for i := 0; i < n; i++ {
				zn[i] -= scale * d[i]
			}
			l.bound(&zn)
			rnew = l.residual(zn)
			nn = norm(rnew, n)
			if nn < rn*(1-0.05*scale) {
				break
			}
			scale *= 0.4
		}
		if !(nn < rn) {
			if fresh {
				return z, rn
			}
			l.jacobian(&J, z, r, n)
			fresh = true
			continue
		}
		good := nn < 0.6*rn
		if good {
			broyden(&J, z, zn, r, rnew, n)
			fresh = false
		}
		z, r, rn = zn, rnew, nn
		if !good && rn >= tolerance {
			l.jacobian(&J, z, r, n)
			fresh = true
		}
	}
	return z, rn
}

func (l *loop) jacobian(J *[nAll]vec, z, r vec, n int) {
	const h = 1e-5
	for j := 0; j < n; j++ {
		zj := z
		zj[j] += h
		step := h
		b := zj
		if l.bound(&b); b[j] != zj[j] { // at an upper bound difference the other way
			zj[j] = z[j] - h
			step = -h
		}
		rj := l.residual(zj)
		for i := 0; i < n; i++ {
			J[i][j] = (rj[i] - r[i]) / step
		}
	}
}

func broyden(J *[nAll]vec, z, zn, r, rn vec, n int) {
	var dz, dr vec
	s := 0.0
	for i := 0; i < n; i++ {
		dz[i] = zn[i] - z[i]
		dr[i] = rn[i] - r[i]
		s += dz[i] * dz[i]
	}
	if s == 0 {
		return
	}
	for i := 0; i < n; i++ {
		e := dr[i]
		for j := 0; j < n; j++ {
			e -= J[i][j] * dz[j]
		}
		for j := 0; j < n; j++ {
			J[i][j] += e * dz[j] / s
		}
	}
}

// solveDense solves J d = r by elimination with row pivoting.
func solveDense(J [nAll]vec, r vec, n int) (d vec, ok bool) {
	for k := 0; k < n; k++ {
		p := k
		for i := k + 1; i < n; i++ {
			if math.Abs(J[i][k]) > math.Abs(J[p][k]) {
				p = i
			}
		}
		if !(math.Abs(J[p][k]) > 1e-14) {
			return d, false
		}
		J[k], J[p] = J[p], J[k]
		r[k], r[p] = r[p], r[k]
		for i := k + 1; i < n; i++ {
			f := J[i][k] / J[k][k]
			for j := k; j < n; j++ {
				J[i][j] -= f * J[k][j]
			}
			r[i] -= f * r[k]
		}
	}
	for i := n - 1; i >= 0; i-- {
		s := r[i]
		for j := i + 1; j < n; j++ {
			s -= J[i][j] * d[j]
		}
		d[i] = s / J[i][i]
	}
	return d, true
}
