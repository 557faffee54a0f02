package diagnose_test

import (
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/reftest"
)

// A car of a label charge of 600 g that recovered so much of it: the answer speaks in
// grams and is not "healthy" where a quarter is missing or a fifth too much is in,
// however good the needles look. Mass by hand: 438 g weighed are 438…461 g with up to
// 5 % left in the oil, and 30 g either way for the display.
func TestWeighedChargeIsAMeasurement(t *testing.T) {
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	answer := func(share, low, high float64) diagnose.Report {
		c := car.Case{Readings: car.Readings{car.Low: {Value: low * psi}, car.High: {Value: high * psi}, car.Recovered: {Value: share}}}
		c.Car = car.Spec{Refrigerant: car.R134a, Metering: car.ExpansionValve, Compressor: car.Fixed, LabelCharge: 0.6}
		c.Weather = car.Weather{Ambient: 305.4, Humidity: 0.5}
		c.Running = car.Running{RPM: 1500, RPMKnown: true, Blower: 1}
		r, err := m.Answer(c)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	for _, k := range []struct {
		share, low, high float64
		want             car.ConditionID
	}{{0.73, 33, 205, car.Undercharge}, {0.66, 33, 205, car.Undercharge}, {0.55, 30, 190, car.Undercharge}, {1.22, 40, 270, car.Overcharge}, {1.40, 45, 310, car.Overcharge}} {
		r := answer(k.share, k.low, k.high)
		if r.Ranking[0].ID != k.want {
			t.Errorf("%.0f %% of the label: %v, want %s", 100*k.share, r.Ranking[:3], k.want)
		}
		if r.Weighed == nil {
			t.Fatalf("%.0f %%: no mass", 100*k.share)
		}
	}
	w := answer(0.73, 33, 205).Weighed
	reftest.Close(t, "least, g", 1e3*w.Lo, 408, 1, "438 − 30")
	reftest.Close(t, "most, g", 1e3*w.Hi, 493, 1, "(438 + 30) / 0.95")
	reftest.Close(t, "label, g", 1e3*w.Label, 600, 0, "as typed")
	if r := answer(0.96, 33, 205); r.Ranking[0].ID == car.Undercharge || r.Ranking[0].ID == car.Overcharge {
		t.Errorf("a full car: %v", r.Ranking[:3])
	}
}

// Saturation by temperature is what a rested car shows: one that rested 8 °F cooler
// than the test, with its temperature typed, is not accused of anything (it was named
// "wrong refrigerant, almost certain" when the temperature did not reach the answer).
// Pressures of R-134a: reference tables of testdata/eos.
func TestSoundCarRestedAtAnotherTemperature(t *testing.T) {
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	for rested, psat := range map[float64]float64{305.37: 828.6e3, 301.0: 727.3e3, 297.0: 645.0e3} {
		c := car.Case{Readings: car.Readings{car.Low: {Value: 240e3}, car.High: {Value: 1600e3}, car.Resting: {Value: psat - 101325}}}
		c.Car = car.Spec{Refrigerant: car.R134a, Metering: car.ExpansionValve, Compressor: car.Variable}
		c.Weather = car.Weather{Ambient: 305.37, Humidity: 0.5}
		c.Running = car.Running{RPM: 1500, RPMKnown: true, Blower: 1}
		c.Rest = car.Rest{Temperature: rested, Soaked: true}
		r, err := m.Answer(c)
		if err != nil {
			t.Fatal(err)
		}
		if lead := r.Ranking[0]; lead.ID != car.Healthy && lead.Probability >= diagnose.LeaningAt {
			t.Errorf("rested at %.1f K: %v", rested, r.Ranking[:3])
		}
	}
}
