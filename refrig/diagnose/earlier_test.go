package diagnose

import (
	"errors"
	"math"
	"testing"

	"twoneedles/refrig/car"
)

// soundVisit is an earlier visit of the car of warmDay.
func soundVisit() car.Visit {
	c := warmDay(200e3, 1500e3)
	return car.Visit{Refrigerant: c.Car.Refrigerant, Weather: c.Weather, Running: c.Running, Readings: c.Readings, Months: 14}
}

// A visit that cannot be a ruler is refused by all that uses it, with its reason, its
// place and one of the two kinds of error that say what the limit is.
func TestEarlierVisitsAtTheDoor(t *testing.T) {
	m := model(t)
	other := map[string]string{car.R134a: car.R1234yf, car.R1234yf: car.R134a, "": car.R12}
	for name, k := range map[string]struct {
		spoil func(v *car.Visit)
		want  EarlierReason
	}{
		"no weather":          {func(v *car.Visit) { v.Weather = car.Weather{} }, EarlierWeather},
		"no number":           {func(v *car.Visit) { v.Weather.Ambient = math.NaN() }, EarlierWeather},
		"humidity":            {func(v *car.Visit) { v.Weather.Humidity = -1 }, EarlierWeather},
		"rest":                {func(v *car.Visit) { v.Rest.Temperature = 1e9 }, EarlierWeather},
		"speed":               {func(v *car.Visit) { v.Running.RPM = math.Inf(1) }, EarlierRunning},
		"blower":              {func(v *car.Visit) { v.Running.Blower = 0 }, EarlierRunning},
		"another refrigerant": {func(v *car.Visit) { v.Refrigerant = other[v.Refrigerant] }, EarlierRefrigerant},
		"a swing": {func(v *car.Visit) {
			v.Readings = car.Readings{car.Low: {Lo: 100e3, Hi: 300e3, Value: 200e3, Swing: true}}
		}, EarlierSwing},
		"no reading":        {func(v *car.Visit) { v.Readings = nil }, EarlierReading},
		"nothing but glass": {func(v *car.Visit) { v.Readings = car.Readings{car.SightGlass: {Choice: car.GlassClear}} }, EarlierReading},
		"beyond the gauge":  {func(v *car.Visit) { v.Readings = car.Readings{car.High: {Value: 1e9}} }, EarlierReading},
		"a reading that is no number": {func(v *car.Visit) {
			v.Readings = car.Readings{car.High: {Value: math.NaN()}}
		}, EarlierReading},
		"tomorrow":       {func(v *car.Visit) { v.Months = -1 }, EarlierMonths},
		"before cars":    {func(v *car.Visit) { v.Months = 1e4 }, EarlierMonths},
		"weighed nought": {func(v *car.Visit) { v.Charge = 0.01 }, EarlierCharge},
	} {
		c := warmDay(200e3, 1500e3)
		if c.Car.Refrigerant == "" {
			c.Car.Refrigerant = car.R134a
		}
		v := soundVisit()
		v.Refrigerant = c.Car.Refrigerant
		k.spoil(&v)
		c.Earlier = []car.Visit{soundVisit(), v}
		for i, err := range everyWay(m, c) {
			var e *EarlierError
			if !errors.As(err, &e) || e.Reason != k.want || e.Visit != 1 || !typed(err) {
				t.Errorf("%s: way %d: %v, want the reason %q at the second visit", name, i, err, k.want)
			}
		}
	}
	c := warmDay(200e3, 1500e3)
	for range car.MostEarlier {
		c.Earlier = append(c.Earlier, soundVisit())
	}
	for _, err := range everyWay(m, c) {
		if err != nil {
			t.Errorf("as many visits as may be: %v", err)
		}
	}
	c.Earlier = append(c.Earlier, soundVisit())
	for _, err := range everyWay(m, c) {
		var e *EarlierError
		if !errors.As(err, &e) || e.Reason != EarlierTooMany {
			t.Errorf("one visit too many: %v", err)
		}
	}
}

// A narrow swing is a needle that quivers: it is steady enough for a ruler.
func TestAQuiveringNeedleIsARuler(t *testing.T) {
	c := warmDay(200e3, 1500e3)
	v := soundVisit()
	v.Readings = car.Readings{car.Low: {Lo: 190e3, Hi: 210e3, Value: 200e3, Swing: true}}
	c.Earlier = []car.Visit{v}
	if _, err := model(t).Ask(c); err != nil {
		t.Error(err)
	}
}
