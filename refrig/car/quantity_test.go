package car_test

import (
	"slices"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// The table of quantities holds together: what a row says of another is said back,
// and every quantity has what the packages above look up.
func TestTableOfQuantities(t *testing.T) {
	all := car.Quantities()
	for i, q := range all {
		k := q.Info()
		if q.Place() != i || slices.Index(all, q) != i {
			t.Errorf("%s is at %d, looked up at %d", q, i, q.Place())
		}
		if k.Minutes <= 0 {
			t.Errorf("%s takes no time", q)
		}
		if (k.Kind == unit.Choice) != (k.Scale.Spread == 0) || k.Scale.Spread < 0 {
			t.Errorf("%s is of kind %d with the scale %+v", q, k.Kind, k.Scale)
		}
		if k.Scale.Saturation != (k.Kind == unit.GaugePressure) || k.Side != car.NoSide && k.Kind != unit.GaugePressure {
			t.Errorf("%s: kind %d on side %d as saturation temperature %v", q, k.Kind, k.Side, k.Scale.Saturation)
		}
		if lo, hi, _ := q.Limits(101325); !(lo < hi) {
			t.Errorf("%s from %g to %g", q, lo, hi)
		}
		if k.Twin != "" {
			twin := k.Twin.Info()
			if twin.Twin != q || twin.Kind != k.Kind || twin.Offered == k.Offered || k.Offered && k.Minutes > twin.Minutes {
				t.Errorf("%s and %s are no twins: %+v, %+v", q, k.Twin, k, twin)
			}
		}
		if k.With != "" && (k.Offered || !k.With.Info().Offered || k.Minutes != k.With.Info().Minutes) {
			t.Errorf("%s is read with %s: %+v, %+v", q, k.With, k, k.With.Info())
		}
	}
	turns := car.Measurements()
	if len(turns) != len(all)-2 || slices.Contains(turns, car.Low) || slices.Contains(turns, car.High) {
		t.Errorf("measurements %v", turns)
	}
	for i, q := range turns {
		if q.Info().Turn != i+1 {
			t.Errorf("%q at turn %d has turn %d", q, i+1, q.Info().Turn)
		}
	}
	if q := car.Quantity("nothing"); q.Place() != -1 || q.Info() != (car.Info{}) {
		t.Error("a quantity that is not known is in the table")
	}
}

// What is handed out is the caller's: changing it changes nothing for the next.
func TestListsCannotBeChangedFromOutside(t *testing.T) {
	q, c, m := car.Quantities(), car.Conditions(), car.Measurements()
	q[0], c[0], m[0] = "x", "x", "x"
	if car.Quantities()[0] != car.Low || car.Conditions()[0] != car.Healthy || car.Measurements()[0] != car.DischargeLine {
		t.Error("a list was changed from outside")
	}
	if car.Index(car.Healthy) != 0 || car.Index("x") != -1 {
		t.Error("a condition changed its place")
	}
}
