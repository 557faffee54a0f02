package catalogue

import (
	"testing"

	"twoneedles/refrig"
)

// Every row is one of testdata/makers/makers.csv, where the tables were copied to with
// their conditions; none of its rows with a vent and an outside temperature is missing.
func TestPublishedVentsAreTheMakers(t *testing.T) {
	vents := PublishedVents()
	n := 0
	makersRows(t, func(at func(string) string) {
		if at("vent_C_max") == "" || at("ambient_C_min") == "" {
			return
		}
		if n == len(vents) {
			t.Fatalf("%s is missing", at("id"))
		}
		v := vents[n]
		n++
		ambient, err1 := parseInterval(at("ambient_C_min"), at("ambient_C_max"), 1, float64(refrig.ZeroCelsius))
		least := at("vent_C_min")
		if least == "" {
			least = at("vent_C_max")
		}
		vent, err2 := parseInterval(least, at("vent_C_max"), 1, float64(refrig.ZeroCelsius))
		if err1 != nil || err2 != nil || v.Source != at("ref") || v.Ambient != ambient || v.Vent != vent {
			t.Errorf("%s: %+v", at("id"), v)
		}
		if _, ok := refrig.Ref(v.Source); !ok {
			t.Errorf("%s: %q is not in refs.json", at("id"), v.Source)
		}
	})
	if n != len(vents) {
		t.Errorf("%d rows, the makers have %d", len(vents), n)
	}
	for _, bad := range []string{"h\na,b", "s,l,h,v,w,a,d\nX,20,10,1,2,,", "s,l,h,v,w,a,d\nX,20,20,x,2,,"} {
		if _, err := parseVents(bad); err == nil {
			t.Errorf("%q is accepted", bad)
		}
	}
}
