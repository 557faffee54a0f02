package sim_test

import (
	"math"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/reftest"
	"twoneedles/refrig/sim"
)

// drawn is one sound car of a kind, simulated.
func drawn(t *testing.T, seed uint64) sim.Truth {
	t.Helper()
	w := sim.World{}
	r := fleet.NewRand(seed)
	s, err := w.DrawOf(r, car.Healthy, fleet.Complete(r, car.Spec{Refrigerant: car.R134a}), 1)
	if err != nil {
		t.Fatal(err)
	}
	return s.Truth
}

// What a gauge is off by moves all that is read with it, alike, and nothing else.
// 1 Pa: the same random numbers are drawn, only a sum differs.
func TestOneGaugeOneError(t *testing.T) {
	truth := drawn(t, 3)
	read := func(low, high float64) car.Readings {
		return sim.Measure(&truth, sim.Instruments{LowZero: low, HighZero: high}, fleet.NewRand(5)).Readings
	}
	right, off := read(0, 0), read(20e3, -50e3)
	for q, want := range map[car.Quantity]float64{car.Low: 20e3, car.LowIdle: 20e3, car.Resting: 20e3,
		car.High: -50e3, car.HighIdle: -50e3, car.WaterTest: -50e3, car.FanTest: -50e3,
		car.Vent: 0, car.LiquidLine: 0, car.DischargeLine: 0} {
		reftest.Close(t, string(q), off[q].Value-right[q].Value, want, 1, "only a sum differs")
	}
}

// What is typed of the weather is the truth and its error; a careful visit has no
// wrong fact and no worn instrument. Limits: truncated normal variates end at 2.2
// standard deviations.
func TestVisits(t *testing.T) {
	truth := drawn(t, 4)
	c := sim.Measure(&truth, sim.Instruments{Ambient: 4, Humidity: -0.1}, fleet.NewRand(1))
	reftest.Close(t, "outside air typed", c.Weather.Ambient-truth.Conditions.Ambient, 4, 1e-9, "a sum")
	r := fleet.NewRand(2)
	const n = 4000
	var far, worn, wrong float64
	for range n {
		in := sim.DrawInstruments(sim.Careful, r)
		if math.Abs(in.Ambient) > 2.3 || in.GaugeFar() || in.CarWrong() || in.PortWrong || in.DoorsWrong || !in.RestTaken || in.ProbeBefore {
			t.Fatalf("a careful visit: %+v", in)
		}
		in = sim.DrawInstruments(sim.Everyday, r)
		far += b2f(in.AmbientFar()) / n
		worn += b2f(math.Abs(in.LowZero) > 2.3*8e3) / n
		wrong += b2f(in.MeteringWrong) / n
	}
	// 15 % of thermometers err by a normal variate of mean 1.5 and deviation 5 K: outside
	// ±3 K 0.55 of them. 20 % of gauges by one of 32 kPa: outside ±18.4 kPa 0.57 of them.
	reftest.Close(t, "thermometers 3 K off", far, 0.15*0.55, 0.02, "four standard errors of 4000")
	reftest.Close(t, "gauges outside their class", worn, 0.2*0.57, 0.02, "four standard errors of 4000")
	reftest.Close(t, "metering devices typed wrong", wrong, 0.03, 0.011, "four standard errors of 4000")
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// A car with liquid left rests at saturation, whatever its charge, at any temperature;
// air adds its own pressure; an empty one stays below. 0.1 %: the saturation pressure
// comes from the same tables.
func TestRestFollowsSaturation(t *testing.T) {
	truth := drawn(t, 6)
	atm := truth.Conditions.PAtm
	for _, T := range []float64{278.15, 293.15, 308.15} {
		// Saturation of R-134a at 5, 20 and 35 °C: 349.66, 571.71, 886.98 kPa [TillnerRoth1994]
		// by a reference library (testdata/eos/sat_R134a.csv).
		want := map[float64]float64{278.15: 349.66e3, 293.15: 571.71e3, 308.15: 886.98e3}[T]
		got := truth.RestAt(T) + atm
		if got < want*0.999 || got > want+12e3 { // up to 6 kPa of air in a sound car
			t.Errorf("rests at %.1f kPa absolute at %g K, saturation is %.1f", got/1e3, T, want/1e3)
		}
	}
}
