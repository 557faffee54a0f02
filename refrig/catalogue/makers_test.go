package catalogue

import (
	"encoding/csv"
	"os"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// makersRows calls row for each line of testdata/makers/makers.csv; at gives a column.
func makersRows(t *testing.T, row func(at func(name string) string)) {
	t.Helper()
	f, err := os.Open("../../testdata/makers/makers.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	for _, r := range rows[1:] {
		row(func(name string) string { return r[column[name]] })
	}
}

// Every row is one of testdata/makers/makers.csv, and none of its rows with both
// needles and an outside temperature is missing.
func TestMakersRangesAreTheMakers(t *testing.T) {
	ranges, n := MakersRanges(), 0
	makersRows(t, func(at func(string) string) {
		if at("low_kPa_min") == "" || at("high_kPa_min") == "" || at("ambient_C_min") == "" {
			return
		}
		if n == len(ranges) {
			t.Fatalf("%s is missing", at("id"))
		}
		p := ranges[n]
		n++
		for _, c := range []struct {
			got    car.Interval
			name   string
			factor float64
			zero   float64
		}{
			{p.Ambient, "ambient_C", 1, float64(refrig.ZeroCelsius)}, {p.Low, "low_kPa", 1e3, 0}, {p.High, "high_kPa", 1e3, 0},
		} {
			want, err := parseInterval(at(c.name+"_min"), at(c.name+"_max"), c.factor, c.zero)
			if err != nil || c.got != want {
				t.Errorf("%s, %s: %v, printed %v (%v)", at("id"), c.name, c.got, want, err)
			}
		}
		if _, ok := refrig.Ref(p.Source); !ok || p.Source != at("ref") {
			t.Errorf("%s: source %q", at("id"), p.Source)
		}
	})
	if n != len(ranges) {
		t.Errorf("%d rows, the makers have %d", len(ranges), n)
	}
}
