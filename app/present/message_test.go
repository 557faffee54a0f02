package present

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/unit"
)

// whole tells whether a text is there and has every argument it asks for.
func whole(s string) bool { return s != "" && !strings.ContainsAny(s, "⟨⟩") }

func TestProblemsHaveWordsBothWays(t *testing.T) {
	en := English()
	codes := map[string]bool{}
	for name, code := range stringConstants(t, ".", "problem.go") {
		codes[code] = true
		problem := en.Has("problem."+code+".what") && en.Has("problem."+code+".why") && en.Has("problem."+code+".next")
		if problem == en.Has("suggest."+code) {
			t.Errorf("%s (%s) wants the words of a problem or those of a suggestion", name, code)
		}
	}
	for key := range en.texts {
		if parts := strings.Split(key, "."); (parts[0] == "problem" || parts[0] == "suggest") && !codes[parts[1]] {
			t.Errorf("words that no code has: %s", key)
		}
	}
}

func TestProblemInWords(t *testing.T) {
	f, _ := FieldOf(Ambient)
	_, p := Read("35", f, unit.US())
	m := Voice{English(), unit.US()}.Problem(p)
	if m.What != "35 °F would be unusual here." || len(m.Suggest) != 1 || m.Suggest[0] != (Offer{"Did you mean 35 °C?", "35 C"}) {
		t.Errorf("got %+v", m)
	}
	f, _ = FieldOf("low")
	_, p = Read("28", f, unit.Metric())
	m = Voice{English(), unit.Metric()}.Problem(p)
	if m.What != "28.0 bar is too much: this field takes up to 24.1 bar." || m.Suggest[0].Words != "Did you mean 28 psi?" {
		t.Errorf("got %+v", m)
	}
}

func TestErrorsInWords(t *testing.T) {
	v := Voice{English(), unit.Metric()}
	for _, c := range []struct {
		err  error
		want string
	}{
		{&refrig.RangeError{Quantity: "outside temperature", Value: 363.15, Min: 253.15, Max: 333.15, Unit: "K"},
			"Outside temperature: 90 °C is too high to calculate with."},
		{fmt.Errorf("wrapped: %w", &refrig.RangeError{Quantity: "low", Value: -2e5, Min: -101325, Max: 6e6, Unit: "Pa"}),
			"Low side: −2.00 bar is too low to calculate with."},
		{&refrig.RangeError{Quantity: "label charge", Value: 0.05, Min: 0.1, Max: 4, Unit: "kg"},
			"Label charge: 50 g is too low to calculate with."},
		{&refrig.ConvergenceError{What: "refrigerant loop", Iterations: 50, Residual: 1, Last: []float64{math.NaN()}},
			"The calculation of the refrigerant loop found no answer."},
		{&Problem{Code: Empty}, "Nothing is typed here."},
		{errors.New("runtime error: index out of range"), "Something went wrong in the tool."},
		{coded{}, "⟨error.made_up.what⟩"},
	} {
		if m := v.Error(c.err); m.What != c.want {
			t.Errorf("%v: %q, want %q", c.err, m.What, c.want)
		}
	}
}

type coded struct{}

func (coded) Error() string                  { return "coded" }
func (coded) Code() (string, map[string]any) { return "made_up", nil }

// Every range error of the model ends in a whole sentence, whatever its numbers.
func TestRangeErrorsAreWhole(t *testing.T) {
	for _, u := range []unit.Units{unit.US(), unit.Metric()} {
		v := Voice{English(), u}
		for _, unit := range []string{"K", "Pa", "kg", "m", "m³", "s", "1/min", "", "furlong"} {
			for _, x := range []float64{-1e30, -1, 0, 1e-9, 273.15, 1e30, math.MaxFloat64, math.NaN(), math.Inf(-1)} {
				m := v.Error(&refrig.RangeError{Quantity: "pressure of R134a", Value: x, Min: -1, Max: 1, Unit: unit})
				for _, s := range []string{m.What, m.Why, m.Next} {
					if !whole(s) || strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
						t.Errorf("%g %s: %q", x, unit, s)
					}
				}
			}
		}
	}
}

// The model's warnings and their words, both ways, and every argument a sentence
// asks for is one that the model gives.
func TestWarningsHaveWordsBothWays(t *testing.T) {
	en := English()
	found := warningCodes(t)
	if len(found) < 20 {
		t.Fatalf("only %d warnings found in the source: the search is broken", len(found))
	}
	used := map[string]bool{}
	for _, c := range found {
		if c.prefix {
			n := 0
			for key := range en.texts {
				if strings.HasPrefix(key, "warning."+c.code) {
					used[strings.Split(key, ".")[1]] = true
					n++
				}
			}
			if n == 0 {
				t.Errorf("%s: no words begin with warning.%s", c.where, c.code)
			}
			continue
		}
		used[c.code] = true
		for _, part := range []string{".what", ".why", ".next"} {
			if !en.Has("warning." + c.code + part) {
				t.Errorf("%s: no words warning.%s%s", c.where, c.code, part)
			}
		}
	}
	for key := range en.texts {
		parts := strings.Split(key, ".")
		if parts[0] == "warning" && !used[parts[1]] {
			t.Errorf("words for a warning that nothing gives: %s", key)
		}
	}
}

func TestWarningInWords(t *testing.T) {
	v := Voice{English(), unit.US()}
	for _, c := range []struct {
		w    refrig.Warning
		want string
	}{
		{refrig.Warning{Code: "hoses_swapped", Args: map[string]float64{"low": 1516847, "high": 193053}}, "The low side, 220 psi, is above the high side, 28 psi."},
		{refrig.Warning{Code: "cold_day", Args: map[string]float64{"ambient_K": 288.15}}, "At 59 °F outside, healthy cars read low and cycle."},
		{refrig.Warning{Code: "humidity_assumed", Args: map[string]float64{"humidity": 0.5}}, "Humidity was taken as 50 %."},
		{refrig.Warning{Code: "tight_does_not_show_limit", Args: map[string]float64{"limit": 0.040}}, "No leak shows, but a leak of 1.4 oz a year would not show either."},
		{refrig.Warning{Code: "hoses_exceed_tolerance", Args: map[string]float64{"mass": 0.121, "tolerance": 0.015}}, "The hoses keep 4.3 oz, more than the tolerance of 0.5 oz."},
	} {
		if m := v.Warning(c.w); m.What != c.want {
			t.Errorf("%s: %q, want %q", c.w.Code, m.What, c.want)
		}
	}
}

// A number in the sentence of a warning has a kind, and so a unit.
func TestNumbersOfWarningsHaveAKind(t *testing.T) {
	n := 0
	for key, text := range English().texts {
		p := strings.Split(key, ".")
		if p[0] != "warning" || len(p) != 3 {
			continue
		}
		for _, arg := range regexp.MustCompile(`{(\w+)}`).FindAllStringSubmatch(text, -1) {
			n++
			_, alone := warningKinds[arg[1]]
			_, here := warningKinds[p[1]+"."+arg[1]]
			if !alone && !here && arg[1] != "n" { // a count
				t.Errorf("%s: {%s} has no unit", key, arg[1])
			}
		}
	}
	if n < 20 {
		t.Errorf("only %d numbers found", n)
	}
}
