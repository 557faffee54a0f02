package diagnose

import (
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/reftest"
	"twoneedles/refrig/sim"
)

// R-134a boils at 273.15 K under 292.80 kPa (testdata/eos/sat_R134a.csv) and condenses
// at 323.15 K under 1317.9 kPa; a pipe 8 K warmer and one 6 K colder are superheat and
// subcooling of as much.
func TestHeatIsPipeLessSaturation(t *testing.T) {
	const atm = 101325 // Pa
	c := car.Case{
		Car:     car.Spec{Refrigerant: car.R134a, Metering: car.ExpansionValve},
		Weather: car.Weather{Ambient: 303.15, Humidity: 0.5},
		Running: car.Running{RPM: 1500, Blower: 1},
		Readings: car.Readings{
			car.Low: {Value: 292.80e3 - atm}, car.High: {Value: 1317.9e3 - atm},
			car.SuctionLine: {Value: 281.15}, car.LiquidLine: {Value: 317.15},
		},
	}
	r, err := model(t).Answer(c)
	if err != nil {
		t.Fatal(err)
	}
	if r.Superheat == nil || r.Subcooling == nil {
		t.Fatal("pipe and needle were read, and there is no superheat or subcooling")
	}
	const why = "the pressures are given to four digits"
	reftest.Close(t, "superheat", r.Superheat.Value, 8, 0.03, why)
	reftest.Close(t, "subcooling", r.Subcooling.Value, 6, 0.03, why)

	c.Readings[car.CondenserOut] = car.Reading{Value: 320.15}
	if r, _ = model(t).Answer(c); r.Subcooling.Pipe != car.LiquidLine {
		t.Error("the liquid line was read and another pipe is taken")
	}
	delete(c.Readings, car.LiquidLine)
	r, _ = model(t).Answer(c)
	reftest.Close(t, "subcooling at the condenser", r.Subcooling.Value, 3, 0.03, why)
	c.Readings[car.Low] = car.Reading{Value: 2e5, Lo: 1.5e5, Hi: 2.5e5, Swing: true}
	if r, _ = model(t).Answer(c); r.Superheat != nil {
		t.Error("a needle that swings has a superheat")
	}
}

// Nine in ten simulated healthy cars have theirs inside the band. They are drawn and
// read by package sim, which knows no band. Between 84 and 98 %: the band is made of
// normal distributions and cars are not, and 300 cars leave ±3. It is wider than it
// need be for the superheat of orifice cars, many of which have none at all.
func TestHeatBandsHoldHealthyCars(t *testing.T) {
	m, w := model(t), &sim.World{Mixed: true}
	type count struct{ n, superheat, subcooling int }
	counts := map[car.Metering]*count{car.OrificeTube: {}, car.ExpansionValve: {}}
	sim.Parallel(1600, 1600, 7, func(_, lo, hi int, r *fleet.Rand) {
		for range hi - lo {
			s, err := w.DrawOf(r, car.Healthy, fleet.Complete(r, car.Spec{}), 1)
			if err != nil {
				continue
			}
			c := s.Case
			kept := car.Readings{}
			for _, q := range []car.Quantity{car.Low, car.High, car.SuctionLine, car.LiquidLine} {
				if v, ok := c.Readings[q]; ok {
					kept[q] = v
				}
			}
			c.Readings = kept
			a, err := m.Answer(c)
			k := counts[c.Car.Metering]
			if err != nil || a.Superheat == nil || a.Subcooling == nil || k == nil {
				continue
			}
			k.n++
			if a.Superheat.Place == 0 {
				k.superheat++
			}
			if a.Subcooling.Place == 0 {
				k.subcooling++
			}
		}
	})
	for metering, k := range counts {
		if k.n < 250 {
			t.Fatalf("metering %d: only %d cars", metering, k.n)
		}
		for what, n := range map[string]int{"superheat": k.superheat, "subcooling": k.subcooling} {
			share := float64(n) / float64(k.n)
			t.Logf("metering %d, %s: %.2f of %d", metering, what, share, k.n)
			if share < 0.84 || share > 0.98 {
				t.Errorf("metering %d: %.2f of healthy cars lie inside the band of the %s", metering, share, what)
			}
		}
	}
}
