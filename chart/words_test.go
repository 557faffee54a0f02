package chart

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// Every key the pictures ask for has a text with all its arguments, and every text
// of theirs is asked for.
func TestWordsBothWays(t *testing.T) {
	b, err := os.ReadFile("../app/present/words/en/chart.json")
	if err != nil {
		t.Fatal(err)
	}
	var texts map[string]string
	if err := json.Unmarshal(b, &texts); err != nil {
		t.Fatal(err)
	}
	asked := map[string]bool{}
	words := func(key string, pairs ...any) string {
		asked[key] = true
		text := english(key, pairs...)
		if strings.Contains(text, "⟨") {
			t.Errorf("%s says %q: a text or an argument is missing", key, text)
		}
		return text
	}
	draw := func(f Figure, err error) {
		t.Helper()
		if err != nil {
			t.Error(err)
		}
	}
	for _, u := range []unit.Units{unit.US(), inKPa(), unit.Metric()} {
		o := sampleOptions("w", u)
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
		draw(Over(sampleLog(), o))
		draw(Vent(sampleVents(), VentNow{305, 286, true}, samplePublishedVents(), o))
		draw(Vent(sampleVents(), VentNow{}, nil, o))
		draw(Over(Log{Lines: map[car.Quantity][]LogPoint{car.Vent: {{0, 310}, {5, 290}}}}, o))
		for _, c := range car.Conditions() {
			draw(Loop(sampleLoop(car.Spec{}, car.Readings{car.Low: {Value: 1e5, AtMost: true}}, c), o))
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

// The trade's own ways to write a number reach the pictures: a vacuum in inches of
// mercury, a range with a minus in words. That the numbers are right is tested where
// they are made, in refrig/unit.
func TestNumbersInPictures(t *testing.T) {
	us, kpa := sampleOptions("u", unit.US()), sampleOptions("u", inKPa())
	for _, c := range []struct{ got, want string }{
		{us.pressureText(-101325), "30 inHg vacuum"}, // 29.92 inHg [NIST811]
		{us.needleCell(Steady(-unit.PaPerInHg*12, 0)), "12 inHg vacuum"},
		{us.pressureRange(-20e3, 20e3), "−3 to 3"}, {kpa.pressureRange(1e3, 1.2e3), "0"},
		{kpa.needleCell(Steady(182e3, 0)), "182"}, {kpa.pressureText(182e3), "180 kPa"},
		{us.absoluteText(101325), "15 psi absolute"}, // 14.696 psi
	} {
		if c.got != c.want {
			t.Errorf("got %s, want %s", c.got, c.want)
		}
	}
}
