package cycle

import (
	"math"
	"math/rand/v2"
	"testing"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/num"
	"twoneedles/refrig/reftest"
)

// coilAt evaluates the evaporator alone.
func coilAt(l *loop, m, pe, h4 float64) {
	l.m, l.lnM, l.pe, l.h4 = m, math.Log(m/DesignFlow), pe, h4
	l.satE = l.p.Fluid.Sat(pe)
	l.Te, l.hfgE = l.satE.T, l.satE.HV-l.satE.HL
	l.evaporate()
}

// The surface of a wet coil from a few Newton steps against a bracketed root, over
// more than the coils, airs and altitudes a car can meet.
func TestWetSurfaceAgainstBracketedRoot(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	l := newLoop(roundPlant(t, car.ExpansionValve, car.Fixed), Sound(), summer)
	var worst reftest.Worst
	wet, dry := 0, 0
	for range 20000 {
		l.c.PAtm = between(70e3, 103e3)
		l.Te, l.evapTin = between(245, 290), between(280, 325)
		W := air.HumidityRatio(l.evapTin, between(0, 1), l.c.PAtm)
		l.evapHin = air.Enthalpy(l.evapTin, W)
		ua, g := between(30, 2500), between(0.01, 0.25)
		k := g * moistCp
		ts := l.Te + (l.evapTin-l.Te)*k/(ua+k)
		got := l.wetSurface(ua, g, ts)
		want := ts
		f := func(T float64) float64 {
			hs, _ := air.HSatSlope(T, l.c.PAtm)
			return ua*(T-l.Te) - g*(l.evapHin-hs)
		}
		if f(ts) < 0 {
			root, err := num.Brent("surface", f, ts, 340, 1e-14)
			if err != nil {
				t.Fatal(err)
			}
			want = root
			wet++
		} else {
			dry++
		}
		worst.See(got-want, "a random coil")
	}
	worst.Within(t, "surface temperature, K", 1e-6, "far below what the difference quotients of the solver see (1e-5 of order 10 K)")
	if wet < 5000 || dry < 1000 {
		t.Errorf("%d wet and %d dry coils", wet, dry)
	}
}

func TestCoilLimits(t *testing.T) {
	p := roundPlant(t, car.ExpansionValve, car.Fixed)
	dryAir := summer
	dryAir.Humidity = 0
	l := newLoop(p, Sound(), dryAir)
	coilAt(l, 0.05, 330e3, 260e3)
	// Dry and all boiling: two resistances in series, by hand.
	ua := p.EvapUARef * math.Sqrt(0.05/DesignFlow)
	k := l.evapMa * moistCp * l.evapEff
	want := (l.evapTin - l.Te) / (1/ua + 1/k)
	if l.wetCoil || l.zE < 1 {
		t.Fatalf("wet %v, boiling share %v", l.wetCoil, l.zE)
	}
	reftest.CloseRel(t, "dry duty", l.qEvap, want, 1e-6, "rounding of the duty at zero: 1 W of thousands, squared")

	// Humid air moves more heat and leaves the coil warmer.
	last, lastT := 0.0, 0.0
	for _, rh := range []float64{0, 0.2, 0.4, 0.6, 0.8, 1} {
		humid := summer
		humid.Humidity = rh
		l := newLoop(p, Sound(), humid)
		coilAt(l, 0.05, 330e3, 260e3)
		T, _ := l.airOff()
		if l.qEvap < last || T < lastT {
			t.Errorf("humidity %v: %v W, air off %v K; before %v, %v", rh, l.qEvap, T, last, lastT)
		}
		last, lastT = l.qEvap, T
	}

	// Without resistance the air leaves at the boiling temperature and the vapour
	// of a starved coil at that of the air.
	big := *p
	big.EvapUARef, big.EvapUAAir = 1e9, 1e9
	l = newLoop(&big, Sound(), dryAir)
	coilAt(l, 0.002, 330e3, 260e3)
	T, _ := l.airOff()
	if l.zE >= 1 {
		t.Fatal("a coil without resistance should have surface to spare")
	}
	out := l.Te + (l.h5-l.satE.HV)/l.satE.CpV
	reftest.Close(t, "no resistance: vapour leaves", out, l.evapTin, 1e-3, "exponential of a large number")
	// The first law on the air's side of a dry coil.
	reftest.CloseRel(t, "no resistance: air's side", l.evapMa*moistCp*(l.evapTin-T), l.qEvap, 1e-6, "the same heat, seen from the air")
}

// What the refrigerant takes up the air gives off: enthalpy of the air less that
// of the water that drips off.
func TestCoilAirSideBalance(t *testing.T) {
	var worst reftest.Worst
	p := roundPlant(t, car.ExpansionValve, car.Fixed)
	for _, rh := range []float64{0.1, 0.3, 0.5, 0.7, 0.9} {
		for _, m := range []float64{0.01, 0.03, 0.05, 0.08} {
			c := summer
			c.Humidity = rh
			l := newLoop(p, Sound(), c)
			coilAt(l, m, 330e3, 260e3)
			T, W := l.airOff()
			water := 4186 * (l.Ts - 273.15) * (l.evapWin - W)
			air := l.evapMa * (l.evapHin - air.Enthalpy(T, W) - water)
			worst.See(air/l.qEvap-1, "")
			if W > l.evapWin {
				t.Errorf("humidity %v, flow %v: the coil wets the air", rh, m)
			}
		}
	}
	worst.Within(t, "air's side over refrigerant's side", 0.04, "one heat capacity of moist air for all humidities (1 %), heat of the drips left out of the enthalpy method (1 %), mixing of two streams")
}

func TestCoilIsContinuous(t *testing.T) {
	p := roundPlant(t, car.ExpansionValve, car.Fixed)
	l := newLoop(p, Sound(), summer)
	for name, at := range map[string]func(u float64){
		"flow":           func(u float64) { coilAt(l, 1e-4*math.Pow(2000, u), 330e3, 260e3) },
		"pressure":       func(u float64) { coilAt(l, 0.04, 100e3*math.Pow(12, u), 260e3) },
		"inlet enthalpy": func(u float64) { coilAt(l, 0.04, 330e3, 200e3+180e3*u) },
	} {
		for what, value := range map[string]func() float64{
			"outlet": func() float64 { return l.h5 / 1e5 }, "fin": func() float64 { return l.Tfin },
		} {
			if jump, u := largestJump(func(u float64) float64 { at(u); return value() }, 400); jump > 1e-7 {
				t.Errorf("%s along %s: jumps by %.2g at %.4f", what, name, jump, u)
			}
		}
	}
}
