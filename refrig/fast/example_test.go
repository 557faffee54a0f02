package fast_test

import (
	"fmt"

	"twoneedles/refrig/fast"
)

// From saturated vapour at 3 bar to 15 bar without loss, as in the example of
// package eos.
func ExampleFluid_VapourHS() {
	f, err := fast.Load("R134a")
	if err != nil {
		fmt.Println(err)
		return
	}
	in := f.Sat(3e5)
	h := f.VapourHS(15e5, in.SV)
	T, rho, _ := f.Vapour(15e5, h)
	fmt.Printf("%.1f °C, %.1f kJ/kg, %.1f kg/m³\n", T-273.15, (h-in.HV)/1e3, rho)
	// Output: 60.9 °C, 33.5 kJ/kg, 72.9 kg/m³
}
