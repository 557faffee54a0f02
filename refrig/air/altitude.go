package air

import "math"

// AltitudeAt returns the altitude in m at which the standard atmosphere [ISO2533]
// has pressure p in Pa: [AtmosphericPressure] undone, in the troposphere.
func AltitudeAt(p float64) float64 {
	return (1 - math.Pow(p/101325, 1/5.25588)) / 2.25577e-5
}
