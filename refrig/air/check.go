package air

import "twoneedles/refrig"

// Limits of what a person may enter, judgement: every place with a road, and every
// air that a car can stand in or blow, with margin. The equations hold beyond them.
const (
	checkTMin = 213.15 // K
	checkTMax = 353.15 // K
	checkZMin = -450.0 // m, the lowest shore
	checkZMax = 5600.0 // m
)

// CheckAltitude returns nil if altitude (m above sea level) has a road, a
// [*refrig.RangeError] otherwise.
func CheckAltitude(altitude float64) error {
	return inRange(refrig.RangeError{Quantity: "altitude", Value: altitude, Min: checkZMin, Max: checkZMax, Unit: "m"})
}

// inRange returns q as an error if its value is outside its limits or NaN.
func inRange(q refrig.RangeError) error {
	if q.Value >= q.Min && q.Value <= q.Max {
		return nil
	}
	q.Source = "judgement"
	return &q
}
