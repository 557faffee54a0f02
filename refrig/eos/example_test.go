package eos_test

import (
	"errors"
	"fmt"

	"twoneedles/refrig"
	"twoneedles/refrig/eos"
)

// What a gauge set shows beside the pressure of a resting car at 25 °C.
func ExampleFluid_FastSatT() {
	f, err := eos.Load("R134a")
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := f.FastSatT(298.15)
	fmt.Printf("%.2f bar, liquid %.0f kg/m³, vapour %.1f kg/m³, %v\n", s.P/1e5, s.RhoL, s.RhoV, err)
	// Output: 6.65 bar, liquid 1207 kg/m³, vapour 32.3 kg/m³, <nil>
}

// A compressor draws saturated vapour at 3 bar and delivers it at 15 bar. Were
// it perfect, how hot would the gas leave, and for how much work?
func ExampleFluid_PS() {
	f, err := eos.Load("R134a")
	if err != nil {
		fmt.Println(err)
		return
	}
	sat, _ := f.SatP(3e5)
	in := f.At(sat.T, sat.RhoV)
	out, err := f.PS(15e5, in.S)
	fmt.Printf("%.1f °C, %.1f kJ/kg, %v %v\n", refrig.Temperature(out.T).Celsius(), (out.H-in.H)/1e3, out.Phase, err)
	// Output: 60.9 °C, 33.5 kJ/kg, vapour <nil>
}

// Outside the range the error says what, how much, which limits and whose.
func ExampleFluid_PH() {
	f, err := eos.Load("R1234yf")
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = f.PH(10e5, 600e3)
	var r *refrig.RangeError
	fmt.Println(errors.As(err, &r))
	fmt.Println(err)
	// Output:
	// true
	// temperature of R1234yf 499.245 K is outside 195 to 410 K [Lemmon2022]
}

// A bottle that rests at 25 °C with 6.65 bar could hold R-134a. Propane would
// show 9.5 bar.
func ExampleLookalikePSat() {
	p, err := eos.LookalikePSat("R290", 298.15)
	fmt.Printf("%.2f bar %v\n", p/1e5, err)
	// Output: 9.52 bar <nil>
}
