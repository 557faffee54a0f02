package catalogue

import (
	"math"
	"strings"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

func TestPublishedRangesAreWellFormed(t *testing.T) {
	ranges := PublishedRanges()
	if len(ranges) < 25 {
		t.Fatalf("%d ranges, want the whole table", len(ranges))
	}
	for i, p := range ranges {
		if ref, ok := refrig.Ref(p.Source); p.Source != "common practice" && (!ok || ref.Read != p.Mark) {
			t.Errorf("row %d: source %q with mark %q is not in refs.json", i+1, p.Source, p.Mark)
		}
		if p.Mark != "read" && p.Mark != "memory" {
			t.Errorf("row %d: mark %q", i+1, p.Mark)
		}
		none := car.Interval{}
		if p.Low == none && p.High == none {
			t.Errorf("row %d: no pressure", i+1)
		}
		if (p.Low == none) != (p.LowMeans == "not given") {
			t.Errorf("row %d: low side %v that means %q", i+1, p.Low, p.LowMeans)
		}
	}
}

// Table 1 of [USArmy291] as printed in psi and °F; the file holds kPa and °C
// rounded to their last digit, hence half a kPa and half a tenth of a degree.
func TestPublishedRangesAgreeWithThePrintedTable(t *testing.T) {
	printed := []struct{ f, lowLo, lowHi, highLo, highHi float64 }{
		{70, 10, 20, 120, 190}, {80, 10, 25, 140, 210}, {90, 15, 30, 170, 240},
		{100, 15, 30, 190, 270}, {110, 15, 30, 210, 300},
	}
	found := 0
	for _, p := range PublishedRanges() {
		if p.Source != "USArmy291" {
			continue
		}
		want := printed[found]
		found++
		const psi = 6894.757 // Pa [NIST811]
		if d := p.Ambient.Lo - 273.15 - (want.f-32)/1.8; math.Abs(d) > 0.0501 {
			t.Errorf("%v °F is off by %v K", want.f, d)
		}
		for _, c := range [][2]float64{{p.Low.Lo, want.lowLo}, {p.Low.Hi, want.lowHi}, {p.High.Lo, want.highLo}, {p.High.Hi, want.highHi}} {
			if math.Abs(c[0]-c[1]*psi) > 501 {
				t.Errorf("at %v °F: %v Pa, printed %v psi", want.f, c[0], c[1])
			}
		}
	}
	if found != len(printed) {
		t.Errorf("found %d of %d printed rows", found, len(printed))
	}
}

func TestParsePublishedRefuses(t *testing.T) {
	row := "USArmy291,read,R134a,,fixed,21.1,21.1,69,138,827,1310,steady,no,"
	if _, err := parsePublished(publishedColumns + "\n" + row); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"nothing":        "",
		"other columns":  row,
		"missing column": publishedColumns + "\n" + strings.TrimSuffix(row, ","),
		"letters":        publishedColumns + "\n" + strings.Replace(row, "69", "x", 1),
		"one end":        publishedColumns + "\n" + strings.Replace(row, "138", "", 1),
		"backwards":      publishedColumns + "\n" + strings.Replace(row, "69", "690", 1),
		"compressor":     publishedColumns + "\n" + strings.Replace(row, "fixed", "steam", 1),
		"disputed":       publishedColumns + "\n" + strings.Replace(row, "no", "maybe", 1),
	} {
		if _, err := parsePublished(text); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
