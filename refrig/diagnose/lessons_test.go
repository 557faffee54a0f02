package diagnose_test

import (
	"errors"
	"math"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// A shop where everything reads higher, and whose lessons say so, has the answer that the
// same car has elsewhere: with the needles 2 and 3 K of saturation and the vent 2 K higher,
// every probability is the one without. The bands follow the readings.
func TestLessonsTakeOffWhatTheyMove(t *testing.T) {
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	c := car.Case{Car: car.Spec{Refrigerant: car.R134a}, Weather: car.Weather{Ambient: 305, Humidity: 0.5, HumidityKnown: true}, Running: car.Running{RPM: 1500, Blower: 1}}
	// R-134a saturates at about −4.2 °C under 251 kPa absolute and at −2.2 °C under 271, at
	// 52.4 °C under 1401 and at 55.3 °C under 1501 (tables; memory).
	c.Readings = car.Readings{car.Low: {Value: 150e3}, car.High: {Value: 1300e3}, car.Vent: {Value: 283}}
	at, err := m.Gaps(c)
	if err != nil {
		t.Fatal(err)
	}
	up := c
	up.Readings = car.Readings{car.Low: {Value: 170e3}, car.High: {Value: 1400e3}, car.Vent: {Value: 285}}
	moved, err := m.Gaps(up)
	if err != nil {
		t.Fatal(err)
	}
	by := [3]float64{moved[0].By - at[0].By, moved[1].By - at[1].By, moved[2].By - at[2].By}
	if math.Abs(by[0]-2) > 0.1 || math.Abs(by[1]-3) > 0.2 || math.Abs(by[2]-2) > 1e-9 {
		t.Errorf("moved by %v K, want about 2, 3 and 2", by)
	}
	shop, err := m.With(diagnose.Lessons{Low: by[0], High: by[1], Vent: by[2]})
	if err != nil {
		t.Fatal(err)
	}
	plain, err := m.Diagnose(c)
	if err != nil {
		t.Fatal(err)
	}
	there, err := shop.Diagnose(up)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range plain.Ranking {
		if s := there.Ranking[i]; s.ID != r.ID || math.Abs(s.Probability-r.Probability) > 1e-5 {
			t.Errorf("%s %.4f becomes %s %.4f", r.ID, r.Probability, s.ID, s.Probability)
		}
	}
	if math.Abs(plain.Deviation.Square-there.Deviation.Square) > 1e-3 {
		t.Errorf("deviation %.4f becomes %.4f", plain.Deviation.Square, there.Deviation.Square)
	}
	for i, e := range plain.Evidence {
		if s := there.Evidence[i]; s.Quantity == car.Vent && math.Abs(s.Median-e.Median-2) > 1e-6 {
			t.Errorf("the vent expected is %.2f K and was %.2f K", s.Median, e.Median)
		}
	}
	for i, of := range []*diagnose.Model{m, shop} {
		b, err := of.WeatherBands(c, []float64{305})
		if err != nil {
			t.Fatal(err)
		}
		at[i].By = b[0].VentMedian
	}
	if math.Abs(at[1].By-at[0].By-2) > 1e-6 {
		t.Errorf("the band of the vent moves by %.3f K", at[1].By-at[0].By)
	}
}

// What the vehicle states is no gap of a shop, and lessons beyond their bounds are refused.
func TestLessonsHaveBounds(t *testing.T) {
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	c := car.Case{Weather: car.Weather{Ambient: 305, Humidity: 0.5}, Readings: car.Readings{car.Low: {Value: 250e3}, car.High: {Value: 1500e3}}}
	c.Running.RPM, c.Running.Blower = 1500, 1
	c.Service.Low = car.Interval{Lo: 200e3, Hi: 260e3}
	g, err := m.Gaps(c)
	if err != nil || g[0].Sd != 0 || g[1].Sd == 0 || g[2].Sd != 0 {
		t.Errorf("gaps %v, %v: want one of the high side alone", g, err)
	}
	for _, l := range []diagnose.Lessons{{Low: diagnose.MostMoved + 0.1}, {Vent: -diagnose.MostMoved - 0.1}, {High: math.NaN()}, {Sharp: 9}, {Odds: []float64{1}}} {
		var range_ *refrig.RangeError
		if _, err := m.With(l); !errors.As(err, &range_) {
			t.Errorf("%+v: %v", l, err)
		}
	}
}
