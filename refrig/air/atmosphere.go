package air

import (
	"math"

	"twoneedles/refrig"
)

// AtmosphericPressure returns the pressure of the standard atmosphere at altitude
// in m above sea level, [ISO2533]:
//
//	p = 101325 Pa (1 − 0.0065 H/288.15)^(g/(R·0.0065))
//
// The altitude is taken as geopotential height H; a height from a map is 1.5 m more
// at 3000 m, which is 13 Pa. It is held to −2000…11,000 m, where the equation
// holds. The day's weather moves the barometer by ±3 % around it.
func AtmosphericPressure(altitude float64) refrig.Pressure {
	const (
		lapse = 0.0065    // temperature gradient, K/m [ISO2533]
		t0    = 288.15    // temperature at sea level, K [ISO2533]
		g     = 9.80665   // standard gravity, m/s² [ISO2533]
		r     = 287.05287 // gas constant of air, J/(kg K) [ISO2533]
	)
	x := 1 - lapse*hold(altitude, -2000, 11000)/t0
	return refrig.StandardAtmosphere * refrig.Pressure(math.Pow(x, g/(r*lapse)))
}
