package practice

import (
	"maps"
	"math"

	"twoneedles/refrig/car"
)

// shown rounds everything a student is told to what its instrument shows, so
// that the screen, the diagnosis and another device all hold the same numbers.
// Steps are judgement: a fifth of a division of a service gauge and what the
// displays of thermometers, hygrometers and scales show.
func shown(c car.Case) car.Case {
	c.Weather.Ambient = halfCelsius(c.Weather.Ambient)
	c.Weather.Humidity = min(max(to(c.Weather.Humidity, 0.01), 0.01), 1)
	c.Weather.Altitude = to(c.Weather.Altitude, 10)
	c.Running.RPM = to(c.Running.RPM, 10)
	c.Running.Blower = min(max(to(c.Running.Blower, 0.05), 0.05), 1)
	c.Car.LabelCharge = to(c.Car.LabelCharge, 0.01)
	c.Readings = maps.Clone(c.Readings)
	for q, r := range c.Readings {
		c.Readings[q] = rounded(q, r)
	}
	return c
}

// rounded is a reading to the steps its instrument shows.
func rounded(q car.Quantity, r car.Reading) car.Reading {
	r.Value, r.Lo, r.Hi = step(q, r.Value), step(q, r.Lo), step(q, r.Hi)
	if !r.Swing {
		r.Lo, r.Hi = 0, 0
	} else if r.Lo == r.Hi { // a swing too small to be seen is none
		r.Value, r.Swing, r.Lo, r.Hi = r.Lo, false, 0, 0
	}
	return r
}

func step(q car.Quantity, v float64) float64 {
	switch q {
	case car.Low, car.LowIdle, car.Resting:
		return to(v, 2e3)
	case car.High, car.HighIdle, car.WaterTest, car.FanTest:
		return to(v, 10e3)
	case car.Cycling:
		return to(v, 0.5)
	case car.EqualiseTime:
		return to(v, 5)
	case car.Recovered:
		return to(v, 0.01)
	case car.SightGlass:
		return 0
	}
	return halfCelsius(v)
}

// to rounds v to whole steps, without a negative zero.
func to(v, step float64) float64 { return math.Round(v/step)*step + 0 }

// halfCelsius rounds a temperature in K to half degrees Celsius.
func halfCelsius(k float64) float64 {
	const zero = 273.15
	return zero + to(k-zero, 0.5)
}
