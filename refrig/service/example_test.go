package service_test

import (
	"fmt"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// Both needles show 45 psi on a car that has stood at 70 °F. R-134a with any liquid left
// would show 71: there is only vapour in this one, and little of it.
func ExampleAtRest() {
	r, err := service.AtRest(service.RestingInput{
		Car: car.Spec{Refrigerant: car.R134a, LabelCharge: 0.55},
		Low: 45 * psi, High: 46 * psi, Temperature: fahrenheit(70), Soaked: true,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Finding)
	fmt.Printf("%.0f g left, %.0f to %.0f\n", 1000*r.MassLeft.Value, 1000*r.MassLeft.Lo, 1000*r.MassLeft.Hi)
	// Output:
	// no_liquid
	// 40 g left, 27 to 61
}

// Water left in the system: the vacuum is lost, but it levels off where water boils in
// a 20 °C shop. Pump on, do not hunt for a leak.
func ExampleHold() {
	var points []service.HoldPoint
	for i, microns := range []float64{800, 5400, 8700, 11200, 13000, 14300, 15200, 15900, 16400, 16700, 17000} {
		points = append(points, service.HoldPoint{Time: 120 * float64(i), Pressure: refrig.Pressure(microns * unit.PaPerMicron)})
	}
	r, err := service.Hold(service.HoldInput{Points: points, Sigma: service.SigmaElectronic, Ambient: refrig.Celsius(20)})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Verdict)
	for _, c := range r.Criteria {
		fmt.Println(c.Criterion.Code, c.Outcome)
	}
	// Output:
	// moisture
	// customary_microns fails
	// army_5mmhg_1min passes
	// army_2inhg_5min passes
	// sae_75mmhg_20min passes
}
