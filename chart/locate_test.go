package chart

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"twoneedles/refrig/diagnose"
)

// The point that is drawn leads back to the pressures it was drawn for, to the
// tenth of a unit the picture is written in: 0.05 of 258 units is 1/5000 of the
// axis, which spans less than 4 MPa.
func TestPlaneAt(t *testing.T) {
	p := samplePlane()
	o := sampleOptions("p", PSI, Fahrenheit)
	ids := []diagnose.ConditionID{diagnose.Undercharge}
	for _, want := range [][2]float64{{262e3, 2.02e6}, {90e3, 0.7e6}, {-20e3, 1.4e6}} {
		r := Reading{Steady(want[0], gaugeError), Steady(want[1], gaugeError)}
		f, err := Plane(p, r, ids, o)
		if err != nil {
			t.Fatal(err)
		}
		m := regexp.MustCompile(`class="point" cx="([0-9.]+)" cy="([0-9.]+)"`).FindStringSubmatch(f.SVG)
		if m == nil {
			t.Fatalf("no point in %s", f.SVG)
		}
		x, _ := strconv.ParseFloat(m[1], 64)
		y, _ := strconv.ParseFloat(m[2], 64)
		low, high, ok := PlaneAt(p, r, ids, o, x/planeW, y/planeH)
		if !ok || math.Abs(low-want[0]) > 500 || math.Abs(high-want[1]) > 1000 {
			t.Errorf("%v comes back as %g, %g, %v", want, low, high, ok)
		}
	}
	for _, out := range [][2]float64{{0, 0}, {1, 1}, {0.5, 0.99}, {math.NaN(), 0.5}} {
		if _, _, ok := PlaneAt(p, Reading{}, ids, o, out[0], out[1]); ok {
			t.Errorf("%v is within the axes", out)
		}
	}
}
