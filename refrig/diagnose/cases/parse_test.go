package cases

import (
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

const good = `-- source --
row: X1
cites: CFR82
where: made up for this test
mark: READ
says: a verdict
ours: the reason,
  on two lines

-- readings --
refrigerant: R134a
metering: expansion_valve
compressor: fixed
ambient_C: 30
high_kPa_gauge_max: 1500
low_pattern: vacuum to normal
cycling_pattern: low or high
equalise_time_s_min: 20
equalise_time_s_max: 60

-- want --
kind: diagnosis
group: both_low low_side_low
in_group: moisture
`

func TestParse(t *testing.T) {
	s, err := Parse("moisture_X1", good)
	if err != nil {
		t.Fatal(err)
	}
	if s.Subject != "moisture" || s.Source.Ours != "the reason, on two lines" {
		t.Errorf("subject %q, ours %q", s.Subject, s.Source.Ours)
	}
	if want := (Range{303.15, 303.15}); s.Numbers["ambient"] != want {
		t.Errorf("ambient is %v, want %v K", s.Numbers["ambient"], want)
	}
	if want := (Range{math.Inf(-1), 1.5e6}); s.Numbers["high"] != want {
		t.Errorf("high is %v, want %v Pa", s.Numbers["high"], want)
	}
	if want := (Range{20, 60}); s.Numbers["equalise_time"] != want {
		t.Errorf("equalise_time is %v, want %v s", s.Numbers["equalise_time"], want)
	}
	if p := s.Patterns[car.Low]; !p.Swing || !slices.Equal(p.Levels, []Level{Vacuum, Normal}) {
		t.Errorf("low is %v, want a swing from vacuum to normal", p)
	}
	if p := s.Patterns[car.Cycling]; p.Swing || !slices.Equal(p.Levels, []Level{Low, High}) {
		t.Errorf("cycling is %v, want low or high", p)
	}
	if !slices.Equal(s.Want.Groups, []diagnose.Group{diagnose.GroupBothLow, diagnose.GroupLowOnly}) {
		t.Errorf("groups are %v", s.Want.Groups)
	}
}

func TestParseRefuses(t *testing.T) {
	for name, c := range map[string]struct{ old, new, says string }{
		"section renamed":    {"-- readings --", "-- reading --", "out of place"},
		"section missing":    {"-- want --\n", "", "has 2 sections"},
		"text before":        {"-- source --", "hello\n-- source --", "before the first section"},
		"no value":           {"row: X1", "row", "key: value"},
		"key twice":          {"mark: READ", "mark: READ\nmark: READ", "key: value"},
		"unknown key":        {"ambient_C", "ambience_C", "unknown key"},
		"wrong unit":         {"high_kPa_gauge_max", "high_psi_max", "unknown key"},
		"letters":            {"ambient_C: 30", "ambient_C: warm", "not a number"},
		"not finite":         {"ambient_C: 30", "ambient_C: NaN", "not a number"},
		"backwards":          {"s_max: 60", "s_max: 6", "backwards"},
		"unknown level":      {"vacuum to normal", "lowish", "unknown value"},
		"pattern of nothing": {"cycling_pattern", "rpm_pattern", "unknown key"},
		"number and pattern": {"ambient_C: 30", "low_kPa_gauge: 100", "a number and a pattern"},
		"unknown group":      {"both_low ", "both_lo ", "unknown value"},
		"unknown condition":  {"in_group: moisture", "in_group: gremlins", "no page"},
		"unknown source":     {"CFR82", "Nobody1900", "refs.json"},
		"unknown mark":       {"mark: READ", "mark: read", "mark"},
		"no reason":          {"ours: the reason,\n  on two lines\n", "", "source needs"},
		"other row":          {"row: X1", "row: X2", "file name"},
		"no kind":            {"kind: diagnosis\n", "", "needs a kind"},
		"no claim":           {"in_group: moisture\n", "", "must make the claim"},
		"two claims":         {"in_group: moisture\n", "in_group: moisture\nband: normal\n", "must make the claim"},
		"claim and excuse":   {"in_group: moisture\n", "in_group: moisture\nnot_enough: tired\n", "beside a claim"},
	} {
		broken := strings.Replace(good, c.old, c.new, 1)
		if broken == good {
			t.Fatalf("%s: nothing was broken", name)
		}
		_, err := Parse("moisture_X1", broken)
		if err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "moisture_X1.txt") {
			t.Errorf("%s: error is %v, want one naming the file and %q", name, err, c.says)
		}
	}
	empty := good[:strings.Index(good, "ambient_C")] + "\n" + good[strings.Index(good, "-- want"):]
	if _, err := Parse("moisture_X1", empty); err == nil || !strings.Contains(err.Error(), "without readings") {
		t.Errorf("a claim without readings: error is %v", err)
	}
}

func TestLoadRefusesAnEmptyFolder(t *testing.T) {
	if _, err := Load(fstest.MapFS{"README.md": {}}); err == nil {
		t.Error("no error")
	}
}

// Whatever stands in a file, Parse answers or says what is wrong.
func FuzzParse(f *testing.F) {
	f.Add("moisture_X1", good)
	f.Add("", "-- source --\n-- readings --\n-- want --\n x")
	f.Fuzz(func(t *testing.T, name, text string) {
		s, err := Parse(name, text)
		if err == nil && (s.Subject == "" || s.Kind == "") {
			t.Errorf("accepted a case without subject or kind: %+v", s)
		}
	})
}
