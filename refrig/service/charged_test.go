package service

import (
	"math"
	"testing"

	"twoneedles/refrig"
)

// By hand: a label of 620 g, liquid left in 1.8 m of hose of 5 mm bore. The hose
// holds π/4·(5 mm)²·1.8 m = 35.343 ml; liquid R-134a at 25 °C weighs 1206.7 kg/m³
// (NIST Chemistry WebBook), so 42.65 g stay in it and 662.65 g have to leave the
// cylinder. 640 g on the scale put 597.35 g into the car, 22.65 g short: more than
// the ±15 g of the machine.
func TestWeighed(t *testing.T) {
	plan, err := Charge(ChargeInput{Refrigerant: "R134a", Label: 0.620, Hoses: HosesLiquid,
		HoseVolume: HoseVolume(1.8, 0.005), Temperature: refrig.Celsius(25)})
	if err != nil {
		t.Fatal(err)
	}
	near := func(what string, got, want, tol float64) {
		t.Helper()
		if math.Abs(got-want) > tol {
			t.Errorf("%s: %g, want %g ± %g", what, got, want, tol)
		}
	}
	const grain = 5e-5 // kg; the density is printed to five digits
	near("to dispense", plan.Dispense, 0.66265, grain)
	for _, c := range []struct {
		dispensed, off float64
		want           Standing
	}{
		{0.640, -0.02265, BelowBand},
		{0.655, -0.00765, InsideBand},
		{0.700, +0.03735, AboveBand},
	} {
		got, err := plan.Weighed(c.dispensed)
		if err != nil {
			t.Fatal(err)
		}
		near("off", got.Off, c.off, grain)
		if got.Label != c.want {
			t.Errorf("%g kg: %s, want %s", c.dispensed, got.Label, c.want)
		}
	}
	if _, err := plan.Weighed(math.NaN()); err == nil {
		t.Error("no number is accepted as a mass")
	}
}
