package cycle_test

import (
	"fmt"
	"math"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fast"
	"twoneedles/refrig/reftest"
)

const psi = 6894.757 // Pa [NIST811]

// The charge curve has a flat with an edge at either end, and both are where shops
// find them. Below: 5 % of the cooling is gone once 20 to 28 % of the charge are,
// "once 20 to 30 % are gone" as the trade says (common practice) and a little below
// the 75…79 % at which the shop tests hardly saw it [ShopTests]. Above, on a valve
// car: the high side is 20 psi up at 120 to 130 % (common practice: such a car
// tolerates a fifth too much and no more). The tolerance on either side is 8 % of
// the charge, about what one make's receiver differs from the next. An accumulator
// takes up more and no figure was found for it; there only the lower end is held.
//
// A variable compressor makes up for what is lost by more stroke, so that its edge
// is that of a compressor at full stroke; held there for the lower end.
func TestChargeCurve(t *testing.T) {
	for _, kind := range []string{orifice, valve, variable} {
		p := typical(t, kind, car.R134a)
		at := func(q float64) cycle.Result {
			return solve(t, p, hot, func(f *cycle.Fault) { f.Charge = q })
		}
		atFullStroke := func(q float64) cycle.Result {
			return solve(t, p, hot, func(f *cycle.Fault) { f.Charge, f.StrokeStuck = q, 1 })
		}
		sound, full := at(1), atFullStroke(1)
		short := 1.0 // where 5 % of the cooling are gone
		for ; short > 0.4 && atFullStroke(short).Cooling > 0.95*full.Cooling; short -= 0.005 {
		}
		over := 1.0 // where the high side is 20 psi up
		for ; over < 1.6 && at(over).High < sound.High+20*psi; over += 0.005 {
		}
		t.Logf("%s: −5 %% of cooling at %.2f of the label, +20 psi at %.2f; receiver or accumulator %.2f full", kind, short, over, sound.Level)
		reftest.Close(t, kind+": charge at −5 % of cooling", short, 0.76, 0.12, "72…80 %, and 8 % for another car")
		if kind != orifice {
			reftest.Close(t, kind+": charge at +20 psi", over, 1.25, 0.13, "120…130 %, and 8 % for another car")
		}
		// Within the flat nobody can read charge off the needles: 88…110 % on any car.
		// (The published bound is 75…110 % for all cars together, common practice.)
		for _, q := range []float64{0.88, 0.94, 1.05, 1.10} {
			r := at(q)
			if d := math.Abs(r.Low - sound.Low); d > 1*psi {
				t.Errorf("%s at %.2f: low side %.1f psi from the label's", kind, q, d/psi)
			}
			if d := math.Abs(r.High - sound.High); d > 5*psi {
				t.Errorf("%s at %.2f: high side %.1f psi from the label's", kind, q, d/psi)
			}
		}
		// Below it high side and cooling fall with charge; far above, subcooling grows.
		below, empty := atFullStroke(short-0.05), atFullStroke(short-0.3)
		if !(empty.High < below.High && below.High < full.High && empty.Cooling < below.Cooling && below.Cooling < full.Cooling) {
			t.Errorf("%s: high side %.0f, %.0f, %.0f Pa and cooling %.0f, %.0f, %.0f W as charge is lost", kind,
				full.High, below.High, empty.High, full.Cooling, below.Cooling, empty.Cooling)
		}
		if kind != orifice {
			if fat := at(over); fat.Subcooling < sound.Subcooling+3 {
				t.Errorf("%s: subcooling %.1f K at %.2f, %.1f at the label", kind, fat.Subcooling, over, sound.Subcooling)
			}
		}
	}
}

// A sound car has subcooled liquid: 5 to 15 K at the condenser's outlet (common
// practice), a valve car in all weathers, an orifice tube when it is warm and the
// engine runs at test speed. The suction line of a sound orifice tube car is 5 to
// 15 K above saturation at the compressor (common practice).
func TestSoundCarsAreSubcooled(t *testing.T) {
	for _, kind := range []string{orifice, valve, variable} {
		p := typical(t, kind, car.R134a)
		for _, T := range []float64{298, 303, 308, 313} {
			c := hot
			c.Ambient = T
			r := solve(t, p, c, nil)
			if r.Cycling {
				continue
			}
			reftest.Close(t, fmt.Sprintf("%s, %v K: subcooling, K", kind, T), r.Subcooling, 10, 6, "5…15 K and one for reading it")
			if kind == orifice {
				reftest.Close(t, fmt.Sprintf("%s, %v K: superheat at the compressor, K", kind, T), r.SuctionSuperheat, 10, 6, "5…15 K and one for reading it")
			}
		}
	}
}

// A trade association took charge out of real cars on a shop floor [ShopTests].
// The temperature it was done at is given for the valve car only (about 100 °F);
// the cars are other cars than ours. The tolerance asks for the finding — the
// needles hardly move — and is the width at which a technician would call a
// change one: 4 psi low, 7 psi high, 1.5 °F at the vent.
func TestShopTests(t *testing.T) {
	day := cycle.Conditions{Ambient: 310.9, Humidity: 0.35, PAtm: 101325, RPM: 1500, Blower: 1}
	o := typical(t, orifice, car.R134a)
	a, b := solve(t, o, day, nil), solve(t, o, day, func(f *cycle.Fault) { f.Charge = 0.75 })
	why := "what a technician would call a change; another car"
	reftest.Close(t, "orifice tube, 25 % short: high side, psi", (b.High-a.High)/psi, -2, 7, why)
	reftest.Close(t, "orifice tube, 25 % short: low side, psi", (b.Low-a.Low)/psi, -3, 4, why)
	reftest.Close(t, "orifice tube, 25 % short: vent, °F", (b.Vent-a.Vent)*1.8, 0.6, 1.5, why)
	if b.DischargeLine < a.DischargeLine+3 {
		// "+21.6 % compressor temperature": where and in which degrees was not read.
		t.Errorf("discharge line from %.1f to %.1f K; the shop test's compressor ran hotter", a.DischargeLine, b.DischargeLine)
	}
	v := typical(t, valve, car.R134a)
	full := solve(t, v, day, nil)
	reftest.Close(t, "valve, 28 oz: high side, psi", full.High/psi, 300, 60, "another car: the spread of our fleet is ±17 % (5…95 %)")
	for _, c := range []struct{ oz, psi float64 }{{26, 295}, {22, 295}} {
		r := solve(t, v, day, func(f *cycle.Fault) { f.Charge = c.oz / 28 })
		reftest.Close(t, "valve: fall of the high side, psi", (full.High-r.High)/psi, 300-c.psi, 7, why)
	}
}

// R-1234yf dropped into a plant for R-134a, against bench tests: capacity up to
// −4.0 % with a fixed open compressor and −13.7 % on average with a variable one,
// COP up to −2.7 % and −12.8 %, discharge temperature −6.5 K, charge −10 %
// ([LeeJung2012] and [Tasdemirci2022], abstracts read). The two rigs differ by ten points, so the
// tolerance is their span and half of it again. Only valves, which open as far as
// the new fluid needs; an orifice tube of the old size is too small for it, floods
// the condenser and compares with nothing published.
func TestDropInOfR1234yf(t *testing.T) {
	yf, err := fast.Load(car.R1234yf)
	if err != nil {
		t.Fatal(err)
	}
	for _, kind := range []string{valve, variable} {
		p := typical(t, kind, car.R134a)
		q := *p
		q.Fluid = yf
		if err := cycle.Size(&q); err != nil {
			t.Fatal(err)
		}
		stroke := func(f *cycle.Fault) { f.StrokeStuck = 1 } // capacity at full stroke, else the control makes it up
		a, b := solve(t, p, hot, stroke), solve(t, &q, hot, stroke)
		capacity := 100 * (b.Cooling/a.Cooling - 1)
		cop := 100 * (b.Cooling/b.Power/(a.Cooling/a.Power) - 1)
		charge := 100 * (q.Charge/p.Charge - 1)
		dis := b.DischargeLine - a.DischargeLine
		t.Logf("%s: capacity %+.1f %%, COP %+.1f %%, discharge %+.1f K, charge %+.1f %%, low %+.1f psi, high %+.1f psi", kind, capacity, cop, dis, charge, (b.Low-a.Low)/psi, (b.High-a.High)/psi)
		reftest.Close(t, kind+": capacity, %", capacity, -9, 7.5, "two rigs at −4.0 and −13.7 %, half their span more")
		reftest.Close(t, kind+": COP, %", cop, -7.5, 7.5, "two rigs at −2.7 and −12.8 %, half their span more")
		reftest.Close(t, kind+": charge, %", charge, -10, 8, "liquid is 8…12 % lighter but vapour 20…35 % heavier; what share is liquid depends on the car")
		// Between equal temperatures, 5 and 55 °C, the table of reference cycles has
		// −11.9 K; the bench −6.5, the condenser's share of which is
		// not known. Ours must lie on that side and in that order.
		reftest.Close(t, kind+": discharge line, K", dis, -11.9, 6, "from the bench's figure to as far beyond the calculated one")
	}
}

// Trends with weather, speed and height, against those of a separate, simpler
// calculation for an orifice tube with other sizes and fans of one stage (kPa gauge;
// judgement). The tolerance is six tenths of the change or the resolution of a
// gauge, whichever is more, on the change alone.
func TestTrends(t *testing.T) {
	p := typical(t, orifice, car.R134a)
	p.FanLow = 1
	base := cycle.Conditions{Ambient: 305.15, Humidity: 0.45, PAtm: 101325, RPM: 1500, Blower: 1}
	a := solve(t, p, base, nil)
	for _, c := range []struct {
		what      string
		change    func(c *cycle.Conditions)
		low, high float64 // kPa
	}{
		{"1500 to 2000/min", func(c *cycle.Conditions) { c.RPM = 2000 }, 205 - 236, 1759 - 1603},
		{"sea level to 80 kPa", func(c *cycle.Conditions) { c.PAtm = 80e3 }, 22, 108},
		{"road wind", func(c *cycle.Conditions) { c.RamAir = 0.5 }, -25, -331},
		{"drier by half", func(c *cycle.Conditions) { c.Humidity = 0.25 }, -10 * psi / 1e3 * 20 / 33, -33 * psi / 1e3 * 20 / 33},
		{"hotter, 32 to 38 °C at 40 to 30 %", func(c *cycle.Conditions) { c.Ambient, c.Humidity = 311.15, 0.33 }, 5 * psi / 1e3, 41 * psi / 1e3},
	} {
		d := base
		c.change(&d)
		b := solve(t, p, d, nil)
		low, high := (b.Low-a.Low)/1e3, (b.High-a.High)/1e3
		t.Logf("%s: low %+.0f (there %+.0f), high %+.0f (%+.0f) kPa", c.what, low, c.low, high, c.high)
		reftest.Close(t, c.what+": low side, kPa", low, c.low, math.Max(0.6*math.Abs(c.low), 15), "six tenths of the change, or two divisions of a gauge")
		reftest.Close(t, c.what+": high side, kPa", high, c.high, math.Max(0.6*math.Abs(c.high), 40), "six tenths of the change, or two divisions of a gauge")
	}
}

// Whatever the car, more of a good thing does what it must.
func TestMonotone(t *testing.T) {
	for _, kind := range []string{orifice, valve, variable} {
		p := typical(t, kind, car.R134a)
		var last cycle.Result
		for i, T := range []float64{298, 303, 308, 313} {
			c := hot
			c.Ambient = T
			r := solve(t, p, c, nil)
			if i > 0 && !last.Cycling && !(r.High > last.High && r.Vent > last.Vent && r.DischargeLine > last.DischargeLine) {
				t.Errorf("%s: %v K ambient: high %.0f, vent %.1f, discharge %.1f; cooler day %.0f, %.1f, %.1f", kind, T,
					r.High, r.Vent, r.DischargeLine, last.High, last.Vent, last.DischargeLine)
			}
			last = r
		}
		for i, w := range []float64{0.1, 0.3, 0.5, 0.7} {
			c := hot
			c.Humidity = w
			r := solve(t, p, c, nil)
			if i > 0 && !(r.High > last.High && r.Low >= last.Low-1 && r.Vent > last.Vent) {
				t.Errorf("%s: humidity %v: low %.0f, high %.0f, vent %.1f; drier %.0f, %.0f, %.1f", kind, w, r.Low, r.High, r.Vent, last.Low, last.High, last.Vent)
			}
			last = r
		}
		wet := hot
		wet.WaterOn = true
		if a, b := solve(t, p, hot, nil), solve(t, p, wet, nil); b.High > a.High-100e3 {
			t.Errorf("%s: water on the condenser moves the high side from %.0f to %.0f Pa", kind, a.High, b.High)
		}
	}
}
