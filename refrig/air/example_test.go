package air_test

import (
	"fmt"

	"twoneedles/refrig"
	"twoneedles/refrig/air"
)

// A hot day in a high town: how much water the air brings to the evaporator.
func Example() {
	p := float64(air.AtmosphericPressure(1600))
	T := float64(refrig.Celsius(35))
	W := air.HumidityRatio(T, 0.40, p)
	fmt.Printf("%.1f kPa\n", p/1000)
	fmt.Printf("%.1f g/kg\n", 1000*W)
	// Output:
	// 83.5 kPa
	// 17.3 g/kg
}

// Water boils away at the temperature of a warm shop once the pump has pulled the
// system below the pressure at which it boils there.
func ExampleTSatWater() {
	fmt.Printf("%.1f °C\n", refrig.Temperature(air.TSatWater(2500)).Celsius())
	// Output: 21.1 °C
}
