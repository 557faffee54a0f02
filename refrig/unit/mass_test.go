package unit_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"twoneedles/refrig/reftest"
	"twoneedles/refrig/unit"
)

// pounds reads "1 lb 8 oz" and "8 oz".
func pounds(t *testing.T, text string) (lb, oz float64) {
	t.Helper()
	if _, err := fmt.Sscanf(text, "%f lb %f oz", &lb, &oz); err == nil {
		return lb, oz
	}
	if _, err := fmt.Sscanf(text, "%f oz", &oz); err != nil || strings.Contains(text, "lb") {
		t.Fatalf("%q is no mass", text)
	}
	return 0, oz
}

// The table was worked by hand from the exact pound.
func TestPoundsAndOunces(t *testing.T) {
	words := func(key string, pairs ...any) string {
		switch key {
		case "number.pound_ounce":
			return fmt.Sprint(pairs[1], " lb ", pairs[3], " oz")
		case "number.with_unit":
			return fmt.Sprint(pairs[1], " ", pairs[3])
		case "number.point":
			return "."
		}
		return strings.TrimPrefix(key, "unit.")
	}
	w := unit.Writer{Units: unit.US(), Words: words}
	for _, r := range reftest.ReadTable(t, "service/ounces.csv").Rows() {
		kg := (16*r.Num("lb") + r.Num("oz")) * unit.KgPerOunce
		if math.Abs(1000*kg-r.Num("g")) > 1e-10 {
			t.Errorf("%v lb %v oz are %.12g g, want %v", r.Num("lb"), r.Num("oz"), 1000*kg, r.Num("g"))
		}
		if lb, oz := pounds(t, w.ReadingText(kg, unit.Mass)); 16*lb+oz != 16*r.Num("lb")+r.Num("oz") {
			t.Errorf("%v lb %v oz are written %v lb %v oz", r.Num("lb"), r.Num("oz"), lb, oz)
		}
	}
	// 453.5 g is 15.997 oz: a pound, never "0 lb 16 oz".
	for g := 1.0; g < 3000; g += 0.5 {
		lb, oz := pounds(t, w.Quantity(g/1000, unit.Mass))
		// Half the step of a tenth of an ounce.
		if oz >= 16 || math.Abs(16*lb+oz-g/28.349523125) > 0.0501 {
			t.Fatalf("%v g is %v lb %v oz", g, lb, oz)
		}
	}
}
