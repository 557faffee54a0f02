package chart_test

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	. "twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// The point of the drawn picture, found again by PlaneAt, is the reading: within
// the half hundredth of a view-box unit to which coordinates are written.
func TestPlaneAt(t *testing.T) {
	plane := diagnose.Plane{
		Regions: []diagnose.Region{{Level: 0.9, Outline: [][2]float64{{1.8e5, 1.3e6}, {2.6e5, 1.4e6}, {2.4e5, 1.9e6}, {1.7e5, 1.7e6}}}},
		Centre:  [2]float64{2.1e5, 1.55e6},
		Drifts: []diagnose.Drift{{Condition: car.Undercharge, Points: []diagnose.DriftPoint{
			{Severity: 0, Low: 2.1e5, High: 1.55e6}, {Severity: 1, Low: 0.4e5, High: 0.7e6}}}},
	}
	leaders := []car.ConditionID{car.Undercharge}
	point := regexp.MustCompile(`<circle class="point" cx="([\d.]+)" cy="([\d.]+)"`)
	for _, want := range [][2]float64{{2.0e5, 1.5e6}, {0.5e5, 0.8e6}, {4.5e5, 2.4e6}} {
		for _, u := range []unit.Units{unit.US(), InKPa(), unit.Metric()} {
			o := Options{ID: "p", Units: u, Words: English}
			r := Reading{Low: Steady(want[0], 16e3), High: Steady(want[1], 56e3)}
			f, err := Plane(plane, r, leaders, o)
			if err != nil {
				t.Fatal(err)
			}
			m := point.FindStringSubmatch(f.SVG)
			if m == nil {
				t.Fatalf("no point in %s", f.SVG)
			}
			x, _ := strconv.ParseFloat(m[1], 64)
			y, _ := strconv.ParseFloat(m[2], 64)
			low, high, ok := PlaneAt(plane, r, leaders, o, x/PlaneW, y/PlaneH)
			// 0.005 of at least 250 units across at most 1 MPa and 4 MPa.
			if !ok || math.Abs(low-want[0]) > 200 || math.Abs(high-want[1]) > 800 {
				t.Errorf("in %v the point at %g, %g is taken for %g, %g Pa", u, want[0], want[1], low, high)
			}
		}
	}
	o := Options{ID: "p", Units: unit.US(), Words: English}
	if _, _, ok := PlaneAt(plane, Reading{}, nil, o, 0.01, 0.5); ok {
		t.Error("the margin is no place for a reading")
	}
	if _, _, ok := PlaneAt(plane, Reading{}, nil, o, math.NaN(), 0.5); ok {
		t.Error("NaN is no place for a reading")
	}
}
