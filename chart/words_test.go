package chart_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	. "twoneedles/chart"
	"twoneedles/chart/loop"
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
		text := English(key, pairs...)
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
	for _, u := range []unit.Units{unit.US(), InKPa(), unit.Metric()} {
		o := SampleOptions("w", u)
		o.Words = words
		for _, s := range samples() {
			draw(s.make(o))
		}
		p := SamplePlane()
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
			draw(loop.Draw(sampleLoop(car.Spec{}, car.Readings{car.Low: {Value: 1e5, AtMost: true}}, c), o))
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
