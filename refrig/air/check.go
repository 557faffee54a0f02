package air

import "twoneedles/refrig"

// Limits of what a person may enter, judgement: every place with a road, and
// every air that a car can stand in or blow, with margin. The equations hold
// beyond them.
const (
	checkTMin = 213.15 // K
	checkTMax = 353.15 // K
	checkPMin = 50e3   // Pa, 5600 m
	checkPMax = 110e3  // Pa, the highest barometer with a margin
	checkZMin = -450.0 // m, the lowest shore
	checkZMax = 5600.0 // m
)

// Check returns nil if this package describes air at T (K), rh (0…1) and p (Pa),
// a [*refrig.RangeError] for the first of them that lies outside otherwise.
func Check(T, rh, p float64) error {
	for _, q := range []refrig.RangeError{
		{Quantity: "air temperature", Value: T, Min: checkTMin, Max: checkTMax, Unit: "K"},
		{Quantity: "relative humidity", Value: rh, Min: 0, Max: 1},
		{Quantity: "atmospheric pressure", Value: p, Min: checkPMin, Max: checkPMax, Unit: "Pa"},
	} {
		if err := inRange(q); err != nil {
			return err
		}
	}
	return nil
}

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
