package learn

import (
	"cmp"
	"math"
	"slices"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// Told is what lessons come to, in numbers for people.
type Told struct {
	// What the median sound car shows on the usual day, as the model has it and with the
	// lessons: Pa gauge, and K.
	Low, High, Vent [2]float64
	// Shares of the jobs, as the model has them and with the lessons, for every fault
	// whose share they change; those that change most come first.
	Changes []Change
}

// Change is the share of a condition among the jobs, before and with the lessons.
type Change struct {
	ID      car.ConditionID
	Was, Is float64
}

// usualDay is the day on which an offset is put into a pressure: R-134a, 30 °C and half
// saturated, at sea level. What a kelvin is in pressure there it is within a tenth for
// R-1234yf, and on other days within a half.
func usualDay() car.Case {
	return car.Case{Car: car.Spec{Refrigerant: car.R134a}, Weather: car.Weather{Ambient: 303.15, Humidity: 0.5, HumidityKnown: true}, Running: car.Running{RPM: 1500, Blower: 1}}
}

// Tell puts lessons into numbers for people.
//
// Errors: those of [diagnose.Model.With] for lessons that are none.
func Tell(m *diagnose.Model, l diagnose.Lessons) (Told, error) {
	var t Told
	with, err := m.With(l)
	if err != nil {
		return t, err
	}
	day := usualDay()
	for i, m := range []*diagnose.Model{m, with} {
		b, err := m.WeatherBands(day, []float64{day.Weather.Ambient})
		if err != nil {
			return t, err
		}
		t.Low[i], t.High[i], t.Vent[i] = b[0].Low.P50, b[0].High.P50, b[0].VentMedian
	}
	share, all := m.Shares(), 0.0
	for i, f := range l.Odds {
		all += share[i] * f
	}
	for i, f := range l.Odds {
		if id := car.Conditions()[i]; id != car.Healthy && id != car.NoneOfThese {
			t.Changes = append(t.Changes, Change{id, share[i], share[i] * f / all})
		}
	}
	by := func(c Change) float64 { return math.Abs(c.Is - c.Was) }
	slices.SortStableFunc(t.Changes, func(a, b Change) int { return cmp.Compare(by(b), by(a)) })
	return t, nil
}
