package diagnose

import (
	"math"
	"testing"

	"twoneedles/refrig/car"
)

// A car at the median of everything is no distance away; needles at the corners of
// their middle 90 % are 1.645 standard deviations out, along a diagonal farther or
// nearer by their correlation; a cold vent adds nothing, a warm one does.
func TestDeviation(t *testing.T) {
	m, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	c := car.Case{Car: car.Spec{Refrigerant: car.R134a, Metering: car.OrificeTube, Compressor: car.Fixed},
		Weather: car.Weather{Ambient: 303.15, Humidity: 0.4, HumidityKnown: true}, Running: car.Running{RPM: 1500, RPMKnown: true, Blower: 1}}
	ask := func(r car.Readings) (*Inference, Deviation) {
		t.Helper()
		c.Readings = r
		a, err := m.Ask(c)
		if err != nil {
			t.Fatal(err)
		}
		return a, a.Deviation()
	}
	a, _ := ask(car.Readings{car.Low: {Value: 250e3}, car.High: {Value: 1.4e6}})
	low, high := a.bands()
	middle := car.Readings{car.Low: {Value: low.P50}, car.High: {Value: high.P50}}
	if _, d := ask(middle); d.Square > 1e-6 || len(d.Of) != 2 {
		t.Errorf("the middle is %+v away", d)
	}
	rho := a.healthy.Rho
	_, d := ask(car.Readings{car.Low: {Value: low.P95}, car.High: {Value: high.P95}})
	if want := 1.645 * 1.645 * 2 / (1 + rho); math.Abs(d.Square-want) > 0.01 { // quantiles are kept in single precision
		t.Errorf("both at their 95 %%: %g, want %g", d.Square, want)
	}
	_, one := ask(car.Readings{car.Low: {Value: low.P95}})
	if math.Abs(one.Square-1.645*1.645) > 0.01 || len(one.Of) != 1 {
		t.Errorf("one needle at its 95 %%: %+v", one)
	}
	square := map[string]float64{}
	for name, vent := range map[string]float64{"cold": 274, "usual": 285, "warm": 300} {
		middle[car.Vent] = car.Reading{Value: vent}
		_, d := ask(middle)
		square[name] = d.Square
	}
	if square["cold"] > 1e-6 || square["warm"] < 10 || square["usual"] > square["warm"] {
		t.Errorf("vents: %v", square)
	}
}

// Across the weather the vent is, on the day of the case, what its evidence expects; on
// a hotter day it is warmer.
func TestVentAcrossTheWeather(t *testing.T) {
	m, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	c := car.Case{Car: car.Spec{Refrigerant: car.R134a, Metering: car.ExpansionValve, Compressor: car.Variable},
		Weather: car.Weather{Ambient: 303.15, Humidity: 0.4, HumidityKnown: true}, Running: car.Running{RPM: 1500, RPMKnown: true, Blower: 1},
		Readings: car.Readings{car.Low: {Value: 200e3}, car.High: {Value: 1.5e6}, car.Vent: {Value: 285}}}
	r, err := m.Answer(c)
	if err != nil {
		t.Fatal(err)
	}
	bands, err := m.WeatherBands(c, []float64{303.15, 313.15})
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range r.Evidence {
		if e.Quantity == car.Vent && (math.Abs(e.Median-bands[0].VentMedian) > 0.01 || math.Abs(e.Expected.Hi-bands[0].Vent.Hi) > 0.01) {
			t.Errorf("the evidence expects %v around %g, the band %+v", e.Expected, e.Median, bands[0])
		}
	}
	if bands[1].VentMedian <= bands[0].VentMedian {
		t.Errorf("the vent is no warmer on a hotter day: %g, %g K", bands[0].VentMedian, bands[1].VentMedian)
	}
}
