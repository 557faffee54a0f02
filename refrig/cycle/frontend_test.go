package cycle_test

import (
	"math"
	"testing"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/reftest"
)

// A standing car breathes its own hot air: up to 18 K at idle [SAE1689], which we
// take as the worst case, a shut bonnet. Open, or at speed, it is less; in a road
// wind hardly any.
func TestHotAirReturns(t *testing.T) {
	for _, kind := range []string{orifice, valve, variable} {
		p := typical(t, kind, car.R134a)
		rise := func(change func(c *cycle.Conditions)) float64 {
			c := hot
			change(&c)
			return solve(t, p, c, nil).CondenserAir - c.Ambient
		}
		idleShut := rise(func(c *cycle.Conditions) { c.RPM, c.BonnetShut = 750, true })
		idle := rise(func(c *cycle.Conditions) { c.RPM = 750 })
		fast := rise(func(c *cycle.Conditions) {})
		road := rise(func(c *cycle.Conditions) { c.RamAir = 1; c.BonnetShut = true })
		t.Logf("%s: idle, bonnet shut %.1f K, idle %.1f K, 1500/min %.1f K, road %.1f K", kind, idleShut, idle, fast, road)
		reftest.Close(t, kind+": idle, bonnet shut, K", idleShut, 18, 6, "the largest published; a typical car lies some K below")
		if !(idleShut > idle && idle > fast && fast > road && road < 4) {
			t.Errorf("%s: rises out of order: %.1f, %.1f, %.1f, %.1f K", kind, idleShut, idle, fast, road)
		}
	}
}

// Makers' manuals of orifice tube cars say that on a day of 38 to 43 °C the
// pressures at idle equal those at 1500/min on a day of 32 to 38 °C [Ford2009].
// The tolerance is half the width of their rows and
// another half for not knowing the cars.
func TestIdleEqualsACoolerDay(t *testing.T) {
	p := typical(t, orifice, car.R134a)
	at := func(T, rpm float64) cycle.Result {
		c := hot
		c.Ambient, c.RPM = T, rpm
		c.Humidity = 0.3 * air.PSatWater(308.15) / air.PSatWater(T)
		return solve(t, p, c, nil)
	}
	idle, cooler := at(313.7, 750), at(308.15, 1500)
	row := at(311, 1500).High - at(305.4, 1500).High
	t.Logf("high side %.0f kPa at idle, 40.5 °C; %.0f at 1500/min, 35 °C", idle.High/1e3, cooler.High/1e3)
	reftest.Close(t, "high side at idle, kPa", idle.High/1e3, cooler.High/1e3, row/1e3, "the width of a row of the table")
}

// With the doors open recirculation brings outside air, so nothing depends on it.
// Shut, the cabin cools within minutes, and the needles and the vent come down; a
// car that does not cool has a warm cabin.
func TestDoors(t *testing.T) {
	for _, kind := range []string{orifice, valve, variable} {
		p := typical(t, kind, car.R134a)
		open := hot
		open.Recirc, open.Minutes = true, 10
		reftest.Close(t, kind+": recirculation with doors open", solve(t, p, open, nil).Low, solve(t, p, hot, nil).Low, 1e-6, "the same air")
		last := solve(t, p, hot, nil)
		for _, minutes := range []float64{2, 5, 10, 30} {
			shut := open
			shut.DoorsShut, shut.Minutes = true, minutes
			r := solve(t, p, shut, nil)
			if r.Cycling {
				break // the needles show the switch
			}
			if !(r.Vent < last.Vent-0.3 && r.High < last.High && r.Low < last.Low+1) {
				t.Errorf("%s, %v min: low %.0f, high %.0f, vent %.1f; before %.0f, %.0f, %.1f", kind, minutes, r.Low, r.High, r.Vent, last.Low, last.High, last.Vent)
			}
			last = r
		}
		shut := open
		shut.DoorsShut, shut.Minutes = true, 10
		empty := func(f *cycle.Fault) { f.Charge = 0.1 }
		if a, b := solve(t, p, hot, empty), solve(t, p, shut, empty); b.Vent < a.Vent-6 {
			t.Errorf("%s: a tenth of the charge cools a closed cabin from %.1f to %.1f K", kind, a.Vent, b.Vent)
		}
	}
}

// The cabin closes without a jump.
func TestCabinClosesSmoothly(t *testing.T) {
	p := typical(t, valve, car.R134a)
	c := hot
	c.Recirc, c.DoorsShut = true, true
	a := solve(t, p, c, nil)
	c.Minutes = 0.01
	b := solve(t, p, c, nil)
	if d := math.Abs(a.Low - b.Low); d > 500 {
		t.Errorf("one hundredth of a minute moves the low side by %.0f Pa", d)
	}
}
