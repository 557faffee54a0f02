package practice_test

import (
	"math"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/practice"
)

// What a condition does is the difference between one car and itself: a car that was
// made sound again shows no difference, whatever its build and the day.
func TestSoundCarIsBesideItself(t *testing.T) {
	seen := 0
	for n := 1; n <= 60 && seen < 4; n++ {
		p := draw(t, n, practice.Everyday)
		if p.Truth.Cause != car.Healthy || p.Truth.Low.Swings || p.Truth.High.Swings {
			continue
		}
		seen++
		if d := math.Abs(p.Truth.Low.Mean - p.Sound.Low.Mean); d > 1 {
			t.Errorf("number %d: a sound car differs from itself by %.0f Pa", n, d)
		}
		if d := math.Abs(p.Truth.Discharge - p.Sound.Discharge); d > 0.01 {
			t.Errorf("number %d: a sound car differs from itself by %.2f K", n, d)
		}
		if len(p.Shifts()) != 0 || len(p.Causes()) != 0 {
			t.Errorf("number %d: a sound car has %v", n, p.Shifts())
		}
	}
	if seen == 0 {
		t.Error("no sound car")
	}
}

// Crossed hoses and bent needles are told against what is truly in the car, to the
// digits the student saw; everything else against the car without its fault.
func TestShiftsAreOfTheCarAtHand(t *testing.T) {
	gauges, cars := 0, 0
	for n := 1; n <= 60; n++ {
		p := draw(t, n, practice.Everyday)
		for _, x := range p.Shifts() {
			if p.Truth.Cause == car.Gauge {
				gauges++
				if x.Found != p.Case.Readings[x.Quantity] {
					t.Errorf("number %d, %s: the student saw %+v and is told of %+v", n, x.Quantity, p.Case.Readings[x.Quantity], x.Found)
				}
				continue
			}
			cars++
			if x.Quantity == car.Vent && (x.Way > 0 && x.Found.Value <= x.Sound.Value || x.Way < 0 && x.Found.Value >= x.Sound.Value) {
				t.Errorf("number %d: %+v", n, x)
			}
		}
	}
	if gauges == 0 || cars == 0 {
		t.Errorf("%d shifts of gauges, %d of cars", gauges, cars)
	}
}

// Textbook is a textbook's day and car. Bounds: what training texts take for their
// tables of normal pressures, 75 to 95 °F near sea level at a fast idle of 1500/min
// (common practice); half a degree for the error of the thermometer in a careful hand
// would not do, two does.
func TestTextbookIsATextbooksDay(t *testing.T) {
	for n := 1; n <= 40; n++ {
		c := draw(t, n, practice.Textbook).Case
		if f := (c.Weather.Ambient-273.15)*1.8 + 32; f < 75-3.6 || f > 97+3.6 {
			t.Errorf("number %d: %.0f °F", n, f)
		}
		if c.Weather.Altitude > 400 || c.Weather.Humidity < 0.2 || c.Weather.Humidity > 0.8 {
			t.Errorf("number %d: %.0f m, %.0f %%", n, c.Weather.Altitude, 100*c.Weather.Humidity)
		}
		if c.Running.RPM < 1300 || c.Running.RPM > 1700 || c.Running.Blower < 1 || c.Car.Evaporators != 1 {
			t.Errorf("number %d: %.0f/min, blower %.2f, %d evaporators", n, c.Running.RPM, c.Running.Blower, c.Car.Evaporators)
		}
	}
}
