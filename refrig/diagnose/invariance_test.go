package diagnose_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/fast"
)

const psi = 6894.757293168 // Pa, NIST SP 811

// randomCase is a car in a weather with two needles anywhere a gauge can stand.
func randomCase(r *rand.Rand) car.Case {
	u := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	c := car.Case{Readings: car.Readings{}}
	c.Car.Refrigerant = []string{"", car.R134a, car.R1234yf}[r.IntN(3)]
	c.Car.Metering, c.Car.Compressor = car.Metering(r.IntN(3)), car.Compressor(r.IntN(4))
	c.Weather = car.Weather{Ambient: u(283, 316), Humidity: u(0.1, 0.9), HumidityKnown: r.IntN(2) == 0}
	c.Running = car.Running{RPM: 1500, RPMKnown: true, Blower: 1, Doors: car.Doors(r.IntN(3))}
	c.Readings[car.Low] = car.Reading{Value: u(0, 500e3)}
	c.Readings[car.High] = car.Reading{Value: u(400e3, 2800e3)}
	if r.IntN(2) == 0 {
		c.Readings[car.Vent] = car.Reading{Value: u(275, 300)}
	}
	return c
}

// A needle that quivers by 2 psi on the low side or by 10 psi on the high side is a
// steady needle (common practice): typed as a swing it gives the same answer.
func TestQuiveringNeedleIsSteady(t *testing.T) {
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 10_000 {
		c := randomCase(r)
		steady, err := m.Rank(c)
		if err != nil {
			t.Fatal(err)
		}
		for q, by := range map[car.Quantity]float64{car.Low: 2 * psi, car.High: 10 * psi} {
			v := c.Readings[q].Value
			k := c
			k.Readings = car.Readings{}
			for p, x := range c.Readings {
				k.Readings[p] = x
			}
			k.Readings[q] = car.Reading{Value: v, Lo: v - by, Hi: v + by, Swing: true}
			quivers, err := m.Rank(k)
			if err != nil {
				t.Fatal(err)
			}
			if steady.Ranking[0] != quivers.Ranking[0] {
				t.Fatalf("%s at %.0f kPa: %v steady, %v quivering", q, v/1e3, steady.Ranking[0], quivers.Ranking[0])
			}
		}
	}
}

// A resting pressure is judged at the temperature the car rested at: read at another
// one, on the saturation line, it means the same. 1e-4 in probability: the inputs
// are single precision.
func TestRestingPressureGoesWithItsTemperature(t *testing.T) {
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	fl, err := fast.Load(car.R134a)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		c := randomCase(r)
		c.Car.Refrigerant = car.R134a
		at := func(T float64) map[car.ConditionID]float64 {
			k := c
			k.Readings = car.Readings{car.Low: c.Readings[car.Low], car.High: c.Readings[car.High],
				car.Resting: {Value: fl.PSat(T) - 101325}}
			k.Rest = car.Rest{Temperature: T, Soaked: true}
			rep, err := m.Rank(k)
			if err != nil {
				t.Fatal(err)
			}
			p := map[car.ConditionID]float64{}
			for _, x := range rep.Ranking {
				p[x.ID] = x.Probability
			}
			return p
		}
		warm, cool := at(c.Weather.Ambient), at(c.Weather.Ambient-8)
		for id, p := range warm {
			if math.Abs(p-cool[id]) > 1e-4 {
				t.Fatalf("%s: %.4f rested as warm as the day, %.4f rested 8 K cooler", id, p, cool[id])
			}
		}
	}
}
