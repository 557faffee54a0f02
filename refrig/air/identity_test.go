package air_test

import (
	"math"
	"testing"

	"twoneedles/refrig/air"
)

// states calls f over every air that a car can stand in or blow, with margin.
func states(f func(T, rh, p float64)) {
	for T := 213.15; T <= 353.15; T += 3.5 {
		for rh := 0.0; rh <= 1; rh += 0.125 {
			for p := 50e3; p <= 110e3; p += 15e3 {
				f(T, rh, p)
			}
		}
	}
}

func TestRoundTrips(t *testing.T) {
	states(func(T, rh, p float64) {
		W := air.HumidityRatio(T, rh, p)
		if got := air.RelativeHumidity(T, W, p); math.Abs(got-rh) > 1e-12 {
			t.Errorf("rh %v at %v K, %v Pa comes back as %v", rh, T, p, got)
		}
	})
	for T := 173.15; T <= 473.15; T++ {
		if got := air.TSatWater(air.PSatWater(T)); math.Abs(got-T) > 1e-9 {
			t.Errorf("boiling: %v K comes back as %v", T, got)
		}
	}
}

// TestOrder: wet bulb ≤ dry bulb, equal at saturation; the wet bulb's air, saturated,
// holds no less water (it lies above the dew point). (A frozen bulb over nearly saturated
// air is also in order because saturation is over ice.)
func TestOrder(t *testing.T) {
	states(func(T, rh, p float64) {
		W := air.HumidityRatio(T, rh, p)
		Tw := air.WetBulb(T, W, p)
		if Tw > T+1e-6 || air.HumidityRatio(Tw, 1, p) < W*(1-1e-6) {
			t.Errorf("%v K, rh %v, %v Pa: wet bulb %v", T, rh, p, Tw)
		}
		if rh == 1 && math.Abs(Tw-T) > 1e-6 {
			t.Errorf("saturated at %v K: wet bulb %v", T, Tw)
		}
	})
}

// TestSlopes: each derivative against a central difference quotient. The step of
// 1e-3 K leaves a truncation error below 1e-8 relative and a rounding error near
// 1e-9; no step crosses the triple point, where the slope changes.
func TestSlopes(t *testing.T) {
	const d = 1e-3
	for T := 213.2; T < 353; T += 0.9 {
		for _, p := range []float64{50e3, 84556, 101325} {
			_, got := air.HSatSlope(T, p)
			above, _ := air.HSatSlope(T+d, p)
			below, _ := air.HSatSlope(T-d, p)
			want := (above - below) / (2 * d)
			if math.Abs(got/want-1) > 1e-6 {
				t.Errorf("dhs/dT at %v K, %v Pa = %v, difference quotient %v", T, p, got, want)
			}
		}
	}
	if got, want := air.HeatCapacity(0.01), air.Enthalpy(301, 0.01)-air.Enthalpy(300, 0.01); math.Abs(got-want) > 1e-6 {
		t.Errorf("heat capacity %v, difference quotient %v", got, want)
	}
}

// TestTriplePoint: the two equations meet, so a solver sees no step where a coil
// starts to frost.
func TestTriplePoint(t *testing.T) {
	below, _ := air.HSatSlope(math.Nextafter(273.16, 0), 101325)
	above, _ := air.HSatSlope(273.16, 101325)
	if math.Abs(below-above) > 0.01 {
		t.Errorf("saturated enthalpy steps from %v to %v J/kg", below, above)
	}
}

// TestClausiusClapeyron: d ln p/dT = L/(R T²) with the latent heat of water at
// 20 °C, 2453.5 kJ/kg (steam tables; MEMORY), R = 461.52 J/(kg K); steam this thin is
// ideal to 0.1 %.
func TestClausiusClapeyron(t *testing.T) {
	const T, d = 293.15, 0.01
	slope := math.Log(air.PSatWater(T+d)/air.PSatWater(T-d)) / (2 * d)
	if want := 2453.5e3 / (461.52 * T * T); math.Abs(slope/want-1) > 2e-3 {
		t.Errorf("d ln p/dT = %v, latent heat asks %v", slope, want)
	}
}

// FuzzFinite: whatever a solver throws at the package, what comes back is finite.
func FuzzFinite(f *testing.F) {
	f.Add(300.0, 0.5, 101325.0)
	f.Add(math.NaN(), math.Inf(1), 1e5)
	f.Add(-1.0, 9e99, 5e4)
	f.Fuzz(func(t *testing.T, T, rh, p float64) {
		if !(p >= 1e4 && p <= 1e6) {
			return // pressure comes from our own equations
		}
		W := air.HumidityRatio(T, rh, p)
		hs, slope := air.HSatSlope(T, p)
		for i, v := range []float64{
			W, hs, slope, air.PSatWater(T), air.TSatWater(p), air.WetBulb(T, W, p), float64(air.AtmosphericPressure(T)),
		} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("result %d of (%v K, rh %v, %v Pa) is %v", i, T, rh, p, v)
			}
		}
	})
}

// AltitudeAt undoes the standard atmosphere. 1 m: the constants of the inverse are
// rounded to six digits.
func TestAltitude(t *testing.T) {
	for _, h := range []float64{-200, 0, 1500, 3000, 5000} {
		if got := air.AltitudeAt(float64(air.AtmosphericPressure(h))); math.Abs(got-h) > 1 {
			t.Errorf("altitude %g m comes back as %g", h, got)
		}
	}
}
