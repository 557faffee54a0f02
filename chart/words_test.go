package chart

import (
	"encoding/json"
	"regexp"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// Every key the pictures ask for has a text, the arguments are those the text
// names, and every text is asked for.
func TestWordsBothWays(t *testing.T) {
	var texts map[string]string
	if err := json.Unmarshal(WordsEN, &texts); err != nil {
		t.Fatal(err)
	}
	english := English()
	argument := regexp.MustCompile(`\{([a-z_]+)\}`)
	asked := map[string]bool{}
	words := func(key string, pairs ...any) string {
		text, ok := texts[key]
		if !ok {
			t.Errorf("no text for %s", key)
		}
		given := map[string]bool{}
		for i := 0; i+1 < len(pairs); i += 2 {
			given[pairs[i].(string)] = true
		}
		for _, m := range argument.FindAllStringSubmatch(text, -1) {
			if !given[m[1]] {
				t.Errorf("%s names {%s}, which is not given", key, m[1])
			}
		}
		asked[key] = true
		return english(key, pairs...)
	}
	draw := func(f Figure, err error) {
		t.Helper()
		if err != nil {
			t.Error(err)
		}
	}
	for _, u := range []Units{{PSI, Fahrenheit}, {KPa, Celsius}, {Bar, Celsius}} {
		o := sampleOptions("w", u.Pressure, u.Temperature)
		o.Words = words
		for _, s := range samples() {
			draw(s.make(o))
		}
		p := samplePlane()
		at := func(low, high float64) Reading { return Reading{Steady(low, 0), Steady(high, 0)} }
		for _, low := range []float64{50e3, 215e3, 500e3} {
			for _, high := range []float64{0.5e6, 1.55e6, 3e6} {
				draw(Plane(p, at(low, high), nil, o))
				draw(Weather(sampleBands(), At{at(low, high), 300}, nil, o))
			}
		}
		draw(Weather(sampleBands(), At{at(1e5, 1e6), 260}, nil, o))
		draw(Plane(p, at(150e3, 1.84e6), nil, o)) // a corner of the box, outside the region
		pegged := Reading{Steady(1e5, 0), Steady(3e6, 0)}
		pegged.Low.AtMost, pegged.High.AtLeast = true, true
		draw(Plane(p, pegged, nil, o))
		draw(Gauges(pegged, car.Interval{}, car.Interval{}, o))
		draw(Plane(p, Reading{Low: Steady(-50e3, 0)}, nil, o))
		for _, v := range []HoldVerdict{HoldTight, HoldLeak, HoldMoisture, HoldUnclear} {
			h := sampleHold()
			h.Verdict = v
			draw(Hold(h, o))
		}
		wet := sampleCycle()
		wet.Superheat = 0
		draw(PH(wet, o))
		for _, c := range car.Conditions() {
			draw(Odds([]diagnose.Ranked{{ID: c, Probability: 0.999}, {ID: c, Probability: 0.001}}, o))
		}
	}
	for key := range texts {
		if !asked[key] {
			t.Errorf("nothing asks for %s", key)
		}
	}
}

// Units against values known from elsewhere: the standard atmosphere is
// 14.696 psi and 29.92 inHg, 0 °C is 32 °F, 500 microns are 66.7 Pa
// [NIST811].
func TestUnits(t *testing.T) {
	psi, kpa := sampleOptions("u", PSI, Fahrenheit), sampleOptions("u", KPa, Celsius)
	bar := sampleOptions("u", Bar, Celsius)
	for _, c := range []struct{ got, want string }{
		{psi.pressureText(1e3 * 101.325 * 10), "147 psi"},
		{psi.pressureText(-101325), "30 inHg of vacuum"},
		{psi.pressureText(0), "0 psi"}, {psi.pressureText(-1), "0 psi"},
		{kpa.pressureText(-30e3), "−30 kPa"},
		{bar.pressureText(2.154e5), "2.15 bar"}, {bar.pressureText(15.54e5), "15.5 bar"},
		{psi.temperatureText(273.15), "32 °F"}, {kpa.temperatureText(273.15), "0 °C"},
		{psi.differenceText(5), "9 °F"}, {kpa.differenceText(5), "5 °C"},
		{psi.vacuumText(66.66), "500 microns"}, {kpa.vacuumText(66.66), "67 Pa"}, {bar.vacuumText(66.66), "0.7 mbar"},
		{psi.pressureRange(-20e3, 20e3), "−3 to 3"}, {kpa.pressureRange(1e3, 1.2e3), "1"},
	} {
		if c.got != c.want {
			t.Errorf("got %s, want %s", c.got, c.want)
		}
	}
}
