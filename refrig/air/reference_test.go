package air_test

import (
	"errors"
	"math"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/air"
	"twoneedles/refrig/reftest"
)

// TestWaterReference: Hyland–Wexler predates IAPWS-95; they are known to differ by
// a few hundredths of a per cent.
func TestWaterReference(t *testing.T) {
	for _, r := range reftest.ReadTable(t, "air/water_sat.csv").Rows() {
		T, want := r.Num("T_K"), r.Num("p_Pa")
		if got := air.PSatWater(T); math.Abs(got/want-1) > 4e-4 {
			t.Errorf("PSatWater(%v) = %v, want %v", T, got, want)
		}
		// dT = dp/p · T²/5400 K at most: 4e-4 of pressure is 0.01 K.
		if got := air.TSatWater(want); math.Abs(got-T) > 0.01 {
			t.Errorf("TSatWater(%v) = %v, want %v", want, got, T)
		}
	}
}

// TestMoistAirReference compares with the real-gas model of ASHRAE RP-1485. The
// demand is 0.5 % of humidity ratio; the enhancement factor earns a tenth of that.
func TestMoistAirReference(t *testing.T) {
	var worst struct{ W, rh, h, twb float64 }
	note := func(w *float64, err float64) { *w = max(*w, math.Abs(err)) }
	for _, r := range reftest.ReadTable(t, "air/moistair.csv").Rows() {
		T, rh, p, W := r.Num("Tdb_K"), r.Num("RH"), r.Num("p_Pa"), r.Num("W_kg_kg")
		note(&worst.W, air.HumidityRatio(T, rh, p)/W-1)
		note(&worst.rh, air.RelativeHumidity(T, W, p)-rh)
		note(&worst.h, air.Enthalpy(T, W)-r.Num("h_J_kgda"))
		note(&worst.twb, air.WetBulb(T, W, p)-r.Num("Twb_K"))
	}
	t.Logf("worst: W %.4f %%, rh %.2g, h %.0f J/kg, wet bulb %.3f K",
		100*worst.W, worst.rh, worst.h, worst.twb)
	for _, c := range []struct {
		what       string
		got, limit float64
	}{
		{"humidity ratio, relative", worst.W, 5e-4},
		{"relative humidity", worst.rh, 5e-4},
		{"enthalpy, J/kg", worst.h, 250}, // constant heat capacities, up to 50 °C saturated
		{"wet bulb, K", worst.twb, 0.05},
	} {
		if c.got > c.limit {
			t.Errorf("%s: off by %.3g, limit %g", c.what, c.got, c.limit)
		}
	}
}

// TestAtmosphere: altitude in feet and kPa, computed outside this module from the
// standard's formula, and its tropopause, 226.32 hPa at 11 km [ISO2533].
func TestAtmosphere(t *testing.T) {
	for _, c := range []struct{ ft, kPa, tol float64 }{
		{0, 101.325, 1e-9}, {1000, 97.72, 0.006}, {2000, 94.21, 0.006}, {3000, 90.81, 0.006},
		{4000, 87.51, 0.006}, {5000, 84.31, 0.006}, {6000, 81.20, 0.006}, {7000, 78.19, 0.006},
		{8000, 75.26, 0.006}, {10000, 69.68, 0.006}, {11000 / 0.3048, 22.632, 0.001},
	} {
		got := float64(air.AtmosphericPressure(c.ft*0.3048)) / 1000
		if math.Abs(got-c.kPa) > c.tol {
			t.Errorf("%v ft: %v kPa, want %v", c.ft, got, c.kPa)
		}
	}
}

func TestCheck(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		err      error
		quantity string
	}{
		{air.CheckAltitude(1600), ""},
		{air.CheckAltitude(math.Inf(1)), "altitude"},
		{air.CheckAltitude(nan), "altitude"},
	} {
		var re *refrig.RangeError
		switch {
		case c.quantity == "" && c.err != nil:
			t.Error(c.err)
		case c.quantity != "" && (!errors.As(c.err, &re) || re.Quantity != c.quantity):
			t.Errorf("%v, want a range error of %s", c.err, c.quantity)
		}
	}
}
