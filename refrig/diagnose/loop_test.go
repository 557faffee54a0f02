package diagnose

import (
	"math"
	"testing"

	"twoneedles/refrig/car"
)

// What sound cars show along the loop is what the reasons hold a reading against, and
// the two needles' bands are those of the weather. R-134a boils at 0 °C at 292.8 kPa
// absolute and at 40 °C at 1016.6 [TillnerRoth1994].
func TestLoopIsWhatReadingsAreHeldAgainst(t *testing.T) {
	m, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	c := car.Case{Car: car.Spec{Refrigerant: car.R134a, Metering: car.ExpansionValve}, Readings: car.Readings{}}
	c.Weather.Ambient, c.Weather.Humidity, c.Running.RPM, c.Running.Blower = 305, 0.5, 1500, 1
	c.Readings[car.Low], c.Readings[car.High] = car.Reading{Value: 292.8e3 - 101325}, car.Reading{Value: 1016.6e3 - 101325}
	for _, q := range []car.Quantity{car.Vent, car.DischargeLine, car.SuctionLine, car.LiquidLine, car.CondenserIn, car.CondenserOut} {
		c.Readings[q] = car.Reading{Value: 300}
	}
	points, err := m.Loop(c)
	if err != nil {
		t.Fatal(err)
	}
	r, err := m.Answer(c)
	if err != nil {
		t.Fatal(err)
	}
	at := map[car.Quantity]LoopPoint{}
	for _, p := range points {
		at[p.Quantity] = p
	}
	if len(at) != len(c.Readings) {
		t.Errorf("the loop has %d places, %d were read", len(at), len(c.Readings))
	}
	for _, e := range r.Evidence {
		if got := at[e.Quantity].Sound; got != e.Expected {
			t.Errorf("%s: sound cars show %v on the loop and %v among the reasons", e.Quantity, got, e.Expected)
		}
	}
	bands, err := m.WeatherBands(c, []float64{305})
	if err != nil {
		t.Fatal(err)
	}
	if got := at[car.High].Sound; math.Abs(got.Lo-bands[0].High.P05) > 1 || math.Abs(got.Hi-bands[0].High.P95) > 1 {
		t.Errorf("the high side of sound cars is %v, and %v across the weather", got, bands[0].High)
	}
	for q, want := range map[car.Quantity]float64{car.Low: 273.15, car.High: 313.15} {
		if got := at[q].Boils; math.Abs(got.Lo-want) > 0.2 || got.Lo != got.Hi {
			t.Errorf("%s: it boils at %v, want %g", q, got, want)
		}
		if s := at[q].SoundBoils; !(s.Lo < s.Hi && s.Lo > 250 && s.Hi < 360) {
			t.Errorf("%s: in sound cars it boils at %v", q, s)
		}
	}
	// Hot gas, then warm liquid, then cold air, in any sound car.
	if d, l, v := at[car.DischargeLine].Sound.Middle(), at[car.LiquidLine].Sound.Middle(), at[car.Vent].Sound.Middle(); !(d > l && l > 305 && v < 305) {
		t.Errorf("discharge %g, liquid %g, vent %g K", d, l, v)
	}

	delete(c.Readings, car.High)
	c.Readings[car.Low] = car.Reading{Value: -30e3}
	points, err = m.Loop(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range points {
		if p.Boils != (car.Interval{}) {
			t.Errorf("%s: a vacuum or nothing leads to a temperature: %v", p.Quantity, p.Boils)
		}
	}
	if _, err := m.Loop(car.Case{}); err == nil {
		t.Error("a case without weather has a loop")
	}
}
