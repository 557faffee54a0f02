package cycle

import (
	"fmt"
	"math"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/reftest"
)

// condenserAt evaluates the condenser alone at a flow, a condensing pressure and
// an inlet temperature.
func condenserAt(l *loop, m, pc, T2 float64) {
	fl := l.p.Fluid
	l.m, l.lnM, l.pc = m, math.Log(m/DesignFlow), pc
	l.satC = fl.Sat(pc)
	l.Tc, l.hfgC = l.satC.T, l.satC.HV-l.satC.HL
	l.pAir = 0
	l.pd, l.pOut = pc, pc
	l.h2 = fl.VapourH(pc, T2)
	l.condense()
}

// The closed form of the condenser against a march of 40 000 slices along it,
// each giving off heat by the conductance of the phase it holds, with the fluid's
// own heat capacity and density at every slice. The closed form takes means of
// heat capacity and density over a zone; that is the tolerance.
func TestCondenserAgainstMarch(t *testing.T) {
	for _, c := range []struct {
		name         string
		m, pc, T2    float64 // kg/s, Pa, K
		sub          float64
		wantTwoPhase bool // at the outlet
	}{
		{"typical", 0.04, 1900e3, 350, 0, false},
		{"small flow, much subcooling", 0.02, 1500e3, 345, 0, false},
		{"large flow, not all condensed", 0.12, 1500e3, 350, 0, true},
		{"high pressure, hot gas", 0.05, 2600e3, 390, 0, false},
		{"subcooling pass", 0.04, 1900e3, 350, 0.15, false},
		{"subcooling pass takes vapour", 0.0475, 1900e3, 350, 0.15, false},
		{"subcooling pass does not suffice", 0.070, 1500e3, 350, 0.15, true},
	} {
		p := roundPlant(t, car.ExpansionValve, car.Fixed)
		p.CondSubFrac = c.sub
		l := newLoop(p, Sound(), summer)
		condenserAt(l, c.m, c.pc, c.T2)
		if got := l.h3 > l.satC.HL; got != c.wantTwoPhase {
			t.Errorf("%s: two-phase outlet %v", c.name, got)
		}

		fl, s := p.Fluid, l.satC
		laws := l.laws
		uaR := p.CondUARef * math.Pow(c.m/DesignFlow, laws.CondRefExp)
		k := func(ref float64) float64 { // conductance to the outside air of a unit of face
			e := 1 - math.Exp(-1/(1/l.condUAAir+1/ref)/l.condC)
			// Recirculation by its own fixed point: inlet air is a mixture.
			x := 0.0
			for range 200 {
				x = p.CondRecirc * (x + e*(1-x))
			}
			return l.condC * e * (1 - x)
		}
		kv, kt, kl := k(laws.CondVapour*uaR), k(uaR), k(laws.CondLiquid*uaR)
		hold := newHoldup(&s, laws.SlipExp)
		const n = 40000
		h, mass := l.h2, 0.0
		for range n {
			var kk, T, rho float64
			switch {
			case h > s.HV:
				T, rho, _ = fl.VapourAt(s, h)
				kk = kv
			case h > s.HL:
				x := (h - s.HL) / l.hfgC
				T, rho, kk = s.T, hold.density(x, x), kt
			default:
				T, rho = fl.LiquidAt(s, h)
				kk = kl
			}
			mass += rho * p.CondVolume / n
			h -= kk * (T - l.condTin) / c.m / n
		}
		reftest.Close(t, c.name+": outlet enthalpy", l.h3, h, 0.012*(l.h2-l.h3), "mean heat capacities of vapour, 1 % of the duty")
		reftest.CloseRel(t, c.name+": duty", l.qCond, c.m*(l.h2-l.h3), 1e-12, "arithmetic")

		l.p.DischVolume, l.p.LiquidVolume, l.p.StoreVolume, l.p.EvapVolume, l.p.SuctionVolume = 0, 0, 0, 0, 0
		reftest.CloseRel(t, c.name+": mass held", l.mass(), mass, 0.03, "mean density of the desuperheating zone; 1 % of duty moves the liquid's edge by 1 % of the face")
	}
}

func TestCondenserLimits(t *testing.T) {
	p := roundPlant(t, car.ExpansionValve, car.Fixed)
	l := newLoop(p, Sound(), summer)
	condenserAt(l, 0.04, 1500e3, 350)
	q0, h2 := l.qCond, l.h2

	big := *p
	big.CondUAAir, big.CondUARef, big.CondRecirc = 1e9, 1e9, 0
	l = newLoop(&big, Sound(), summer)
	condenserAt(l, 0.005, 1500e3, 350) // so little flow that the air's capacity is no limit
	reftest.Close(t, "no resistance: outlet", l.h3, l.condHL, 100, "liquid as cold as the air; its enthalpy at another pressure differs by under 100 J/kg")

	small := *p
	small.CondUARef = 1e-6
	l = newLoop(&small, Sound(), summer)
	condenserAt(l, 0.04, 1500e3, 350)
	reftest.Close(t, "no conductance: outlet", l.h3, h2, 1, "nothing is given off")

	l = newLoop(p, Sound(), summer)
	pAir := l.p.Fluid.PSat(l.condTin)
	condenserAt(l, 0.04, pAir, l.condTin)
	reftest.Close(t, "as warm as the air: duty", l.qCond, 0, 0.01*q0, "rounding of the temperature difference at zero, 0.1 K of 20")

	// Less air or warmer air never helps.
	last := math.Inf(1)
	for _, f := range []float64{1, 0.8, 0.6, 0.4, 0.2, 0.1} {
		dirty := Sound()
		dirty.CondAir = f
		l = newLoop(p, dirty, summer)
		condenserAt(l, 0.04, 1500e3, 350)
		if l.qCond >= last {
			t.Errorf("condenser air %v: %v W, no less than before", f, l.qCond)
		}
		last = l.qCond
	}
}

// Across every border between zones nothing may jump: Newton's method stops at
// jumps. The scan looks at flow, outlet and mass over condensing pressures and
// flows that pass all of them.
func TestCondenserIsContinuous(t *testing.T) {
	for _, sub := range []float64{0, 0.15} {
		p := roundPlant(t, car.ExpansionValve, car.Fixed)
		p.CondSubFrac = sub
		l := newLoop(p, Sound(), summer)
		for _, line := range []struct {
			name string
			at   func(u float64)
		}{
			{"flow", func(u float64) { condenserAt(l, 0.001*math.Pow(400, u), 1500e3, 370) }},
			{"pressure", func(u float64) { condenserAt(l, 0.045, 700e3*math.Pow(5, u), 400) }},
			{"pressure at a trickle", func(u float64) { condenserAt(l, 0.0005, 700e3*math.Pow(2.5, u), 340) }},
			{"inlet temperature", func(u float64) { condenserAt(l, 0.3, 1500e3, 320+120*u) }},
		} {
			for what, value := range map[string]func() float64{
				"outlet": func() float64 { return l.h3 / 1e5 },
				"mass":   func() float64 { return l.mass() },
			} {
				jump, at := largestJump(func(u float64) float64 { line.at(u); return value() }, 400)
				if jump > 1e-9 {
					t.Errorf("sub %v, %s along %s: jumps by %.2g at %.4f (%s)", sub, what, line.name, jump, at, fmt.Sprintf("%+v", l.zones))
				}
			}
		}
	}
}

// largestJump looks for discontinuities of f on 0…1: it halves every one of n
// intervals towards its steeper half until they are so narrow that a continuous
// function could not change there, and returns what change is left.
func largestJump(f func(float64) float64, n int) (jump, at float64) {
	for i := range n {
		a, b := float64(i)/float64(n), float64(i+1)/float64(n)
		fa, fb := f(a), f(b)
		for b-a > 1e-14 && math.Abs(fb-fa) > 1e-12 {
			mid := (a + b) / 2
			fm := f(mid)
			if math.Abs(fm-fa) > math.Abs(fb-fm) {
				b, fb = mid, fm
			} else {
				a, fa = mid, fm
			}
		}
		if d := math.Abs(fb - fa); d > jump || math.IsNaN(d) {
			jump, at = d, a
		}
	}
	return jump, at
}
