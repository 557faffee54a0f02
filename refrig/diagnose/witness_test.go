package diagnose

import (
	"math"
	"sort"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/internal/nets"
	"twoneedles/refrig/sim"
)

// The band network against the healthy cars it stands for, simulated afresh in a
// fixed weather for a known kind of car. Tolerance 2.5 K of saturation temperature:
// makers' cars spread by some 5 K on the high side, so that the sampling error of a
// 5 % quantile of 1200 cars is about 0.4 K; the rest is the network's own.
func TestBandsAgainstSimulation(t *testing.T) {
	m := model(t)
	for _, k := range []struct {
		name     string
		spec     car.Spec
		ambientC float64
		rh, rpm  float64
	}{
		{"valve, fixed, 32 °C", car.Spec{Refrigerant: car.R134a, Metering: car.ExpansionValve, Compressor: car.Fixed}, 32, 0.45, 1500},
		{"valve, variable, 27 °C", car.Spec{Refrigerant: car.R134a, Metering: car.ExpansionValve, Compressor: car.Variable}, 27, 0.55, 1500},
		{"orifice, fixed, 38 °C", car.Spec{Refrigerant: car.R134a, Metering: car.OrificeTube, Compressor: car.Fixed}, 38, 0.30, 1500},
		{"valve, electric, 35 °C, R-1234yf", car.Spec{Refrigerant: car.R1234yf, Metering: car.ExpansionValve, Compressor: car.Electric}, 35, 0.40, 1500},
	} {
		c := car.Case{Car: k.spec, Readings: car.Readings{}}
		c.Weather.Ambient, c.Weather.Humidity, c.Weather.HumidityKnown = 273.15+k.ambientC, k.rh, true
		c.Running.RPM, c.Running.RPMKnown, c.Running.Blower = k.rpm, true, 1
		sc, err := nets.NewScaler(&c)
		if err != nil {
			t.Fatal(err)
		}
		low, high := simulatedBand(t, &c, sc)
		bands, err := m.WeatherBands(c, []float64{c.Weather.Ambient})
		if err != nil {
			t.Fatal(err)
		}
		b := bands[0]
		for i, pair := range [][2]float64{
			{sc.In(car.Low, b.Low.P05), at(low, 0.05)}, {sc.In(car.Low, b.Low.P50), at(low, 0.5)}, {sc.In(car.Low, b.Low.P95), at(low, 0.95)},
			{sc.In(car.High, b.High.P05), at(high, 0.05)}, {sc.In(car.High, b.High.P50), at(high, 0.5)}, {sc.In(car.High, b.High.P95), at(high, 0.95)},
		} {
			if d := car.Low.Info().Scale.Spread * math.Abs(pair[0]-pair[1]); d > 2.5 {
				t.Errorf("%s: quantile %d is %.2f K of saturation from the simulated cars", k.name, i, d)
			}
		}
	}
}

func at(sorted []float64, p float64) float64 { return sorted[int(p*float64(len(sorted)-1)+0.5)] }

// simulatedBand returns the scaled needles of 1200 healthy cars in the weather of c
// as reported, sorted.
func simulatedBand(t *testing.T, c *car.Case, sc *nets.Scaler) (low, high []float64) {
	t.Helper()
	world := sim.World{Mixed: true} // what the bands are fitted to
	r := fleet.NewRand(99)
	for len(low) < 1200 {
		l, h, err := world.SoundAt(c.Car, conditionsOf(c, sc), r)
		if err != nil {
			continue
		}
		low, high = append(low, sc.In(car.Low, l)), append(high, sc.In(car.High, h))
	}
	sort.Float64s(low)
	sort.Float64s(high)
	return low, high
}
