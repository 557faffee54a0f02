package air

import "twoneedles/refrig"

// CheckAltitude returns nil if altitude (m above sea level) has a road, with some margin
// (judgement), a [*refrig.RangeError] otherwise. The equations hold beyond.
func CheckAltitude(altitude float64) error {
	const lowest, highest = -450.0, 5600.0
	if altitude >= lowest && altitude <= highest {
		return nil
	}
	return &refrig.RangeError{Quantity: "altitude", Value: altitude, Min: lowest, Max: highest, Unit: "m", Source: "judgement"}
}
