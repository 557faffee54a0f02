package learn

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// Told is what lessons come to, in numbers for people.
type Told struct {
	// What the median sound car shows on the usual day, as the model has it and with the
	// lessons: Pa gauge, and K.
	Low, High, Vent [2]float64
	// The fault whose share of the jobs the lessons change most, "" if none, and that share
	// as one of so many, before and with them: 4 and 3 are a quarter and a third.
	Fault   car.ConditionID
	Was, Is int
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
	most := 0.0
	for i, f := range l.Odds {
		id, was, is := car.Conditions()[i], share[i], share[i]*f/all
		one, of := int(math.Round(1/was)), int(math.Round(1/is))
		if by := math.Abs(is - was); by > most && one != of && id != car.Healthy && id != car.NoneOfThese {
			most, t.Fault, t.Was, t.Is = by, id, one, of
		}
	}
	return t, nil
}
