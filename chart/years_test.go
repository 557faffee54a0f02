package chart_test

import (
	"math"
	"slices"
	"testing"

	. "twoneedles/chart"
	"twoneedles/refrig/unit"
)

// A picture over time needs two visits in their order, of numbers a gauge can show.
func TestYearsRefuses(t *testing.T) {
	o := SampleOptions("y", unit.US())
	for name, spoil := range map[string]func([]Met) []Met{
		"one visit":      func(v []Met) []Met { return v[:1] },
		"back in time":   func(v []Met) []Met { slices.Reverse(v); return v },
		"no number":      func(v []Met) []Met { v[1].High.Lo = math.NaN(); return v },
		"no band":        func(v []Met) []Met { v[1].LowBand.Hi = math.Inf(1); return v },
		"in the future":  func(v []Met) []Met { v[len(v)-1].Months = -1; return v },
		"before the car": func(v []Met) []Met { v[0].Months = 1e5; return v },
	} {
		if _, err := Years(spoil(sampleYears()), o); err == nil {
			t.Errorf("%s is drawn", name)
		}
	}
	for i := range sampleYears() { // any one of them unread
		v := sampleYears()
		v[i].Reading = Reading{}
		if _, err := Years(v, o); err != nil {
			t.Error(i, err)
		}
	}
}
