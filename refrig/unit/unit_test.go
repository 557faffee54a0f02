package unit

import (
	"math"
	"strings"
	"testing"
)

// Factors as printed in appendix B.8 of [NIST811]; half a unit of the last
// printed digit is all the source claims.
func TestFactorsArePublished(t *testing.T) {
	for _, c := range []struct {
		unit  Unit
		want  float64 // SI per unit
		digit float64 // unit of the last printed digit
	}{
		{PSI, 6.894757e3, 1e-3},
		{InHg, -3.386389e3, 1e-3}, // conventional; negative because it is a vacuum here
		{Torr, 1.333224e2, 1e-4},
		{Micron, 1.333224e-1, 1e-7},
		{KgfCm2, 9.80665e4, 1e-9}, // exact
		{Bar, 1e5, 0}, {KPa, 1e3, 0}, {MPa, 1e6, 0}, {Millibar, 100, 0},
		{Pound, 4.535924e-1, 1e-7}, {Ounce, 2.834952e-2, 1e-8},
		{FluidOunce, 2.957353e-5, 1e-11},
		{Foot, 3.048e-1, 0}, {BtuLb, 2326, 0}, {Inch, 2.54e-2, 0},
		{Litre, 1e-3, 0}, {Hour, 3600, 0},
	} {
		if got := c.unit.ToSI(1); math.Abs(got-c.want) > c.digit/2+1e-15*math.Abs(c.want) {
			t.Errorf("1 %s = %.9g, [NIST811] prints %.7g", c.unit, got, c.want)
		}
	}
}

// Fixed points that a person knows without a table.
func TestFixedPoints(t *testing.T) {
	for _, c := range []struct {
		what     string
		got, tol float64
		want     float64
		why      string
	}{
		{"32 °F", Fahrenheit.ToSI(32), 1e-12, 273.15, "ice point, exact by definition"},
		{"212 °F", Fahrenheit.ToSI(212), 1e-12, 373.15, "exact by definition"},
		{"−40 °F", Fahrenheit.ToSI(-40), 1e-12, Celsius.ToSI(-40), "where the scales meet"},
		{"14.696 psi", PSI.ToSI(14.696), 3.5, 101325, "the standard atmosphere as the trade prints it, half a last digit"},
		{"29.92 inHg", -InHg.ToSI(29.92), 17, 101325, "the standard atmosphere as the trade prints it, half a last digit"},
		{"25 400 micron", Micron.ToSI(25400), 1e-6, -InHg.ToSI(1), "an inch is 25.4 mm of the same mercury"},
		{"16 oz", Ounce.ToSI(16), 1e-15, Pound.ToSI(1), "exact by definition"},
		{"128 fl oz", FluidOunce.ToSI(128), 1e-15, 231 * 16.387064e-6, "a US gallon is 231 in³, an in³ 16.387064 ml, exact"},
	} {
		if math.Abs(c.got-c.want) > c.tol {
			t.Errorf("%s = %.12g, want %.12g (%s)", c.what, c.got, c.want, c.why)
		}
	}
}

func TestEveryUnitConvertsThereAndBack(t *testing.T) {
	for u, info := range units {
		for _, x := range []float64{-40, 0, 1, 29.92, 500} {
			if got := u.FromSI(u.ToSI(x)); math.Abs(got-x) > 1e-9 { // rounding of 273.15 K in 1e-13
				t.Errorf("%s: %g comes back as %g", u, x, got)
			}
		}
		if info.kind == 0 || info.scale == 0 {
			t.Errorf("%s has no kind or no scale", u)
		}
	}
}

// A typed unit name must mean one unit of a kind.
func TestUnitNamesAreUnambiguous(t *testing.T) {
	type key struct {
		kind Kind
		name string
	}
	seen := map[key]Unit{}
	for u, info := range units {
		for _, name := range strings.Fields(info.names) {
			k := key{info.kind, name}
			if v, twice := seen[k]; twice {
				t.Errorf("%q means %s and %s", name, v, u)
			}
			seen[k] = u
		}
	}
}

func TestMenusHoldUnitsOfTheirKind(t *testing.T) {
	for k := GaugePressure; k <= Enthalpy; k++ {
		for _, u := range Choices(k) {
			if u.Kind() != k {
				t.Errorf("%s is on the menu of kind %d", u, k)
			}
		}
		if k == Choice {
			continue
		}
		for _, set := range []Units{US(), Metric()} {
			if set.For(k).Kind() != k {
				t.Errorf("unit %s for kind %d", set.For(k), k)
			}
		}
	}
}

func TestUnitsFromOutsideAreRepaired(t *testing.T) {
	bad := Units{Pressure: "furlong", Temperature: PSI, Mass: Gram}
	got := bad.Repaired(US())
	want := Units{PSI, Fahrenheit, Gram, FluidOunce, Foot, Micron, false}
	if got != want {
		t.Errorf("got %v, want %v", got, want)
	}
}
