package makers

import (
	"math"

	"twoneedles/refrig/car"
)

// Case is what a technician would type who finds his car at the middle of the cell's
// ranges, with what the table says of the test and nothing else; ok is false for a
// cell without both needles or without a weather.
func (c *Cell) Case() (k car.Case, ok bool) {
	mid := func(r [2]float64) float64 { return (r[0] + r[1]) / 2 }
	k = car.Case{Car: c.Spec, Readings: car.Readings{car.Low: {Value: mid(c.Low)}, car.High: {Value: mid(c.High)}}}
	if math.IsNaN(mid(c.Low)) || math.IsNaN(mid(c.High)) || math.IsNaN(c.Ambient) {
		return k, false
	}
	if v := mid(c.Vent); !math.IsNaN(v) {
		k.Readings[car.Vent] = car.Reading{Value: v}
	}
	k.Weather = car.Weather{Ambient: c.Ambient, Humidity: 0.5}
	if !math.IsNaN(c.Humidity) {
		k.Weather.Humidity, k.Weather.HumidityKnown = c.Humidity, true
	}
	k.Running = car.Running{RPM: 1500, Blower: 1, Recirc: c.AirSource == "recirculation"}
	if !math.IsNaN(c.RPM) {
		k.Running.RPM, k.Running.RPMKnown = c.RPM, true
	}
	switch {
	case contains(c.Doors, "open"):
		k.Running.Doors = car.DoorsOpen
	case contains(c.Doors, "closed", "shut"):
		k.Running.Doors = car.DoorsClosed
	}
	return k, true
}
