package cases_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/diagnose/cases"
	"twoneedles/refrig/eos"
)

// exceptions are cases whose claim we do not meet, or (for a disputed source) do
// not refute, with the reason. A listed case that starts to behave fails the test
// until it is taken off the list.
var exceptions = map[string]string{
	"healthy_C005": "same column, 15 to 30 psi on a 43 °C day; our fixed compressors no longer cycle there and hold 38 to 58 psi",
	"healthy_C013": "the cards' 35 to 40 psi touch the upper end of our band at 21 °C, which holds variable compressors at their set point",
	"healthy_C014": "a card without a source; makers' tables (testdata/makers) have sound cars with 39 to 57 psi at 30 °C, so it cannot be called wrong",
	"healthy_C015": "the same card",
	"healthy_C016": "the same card",
	"healthy_C017": "the cards' 50 to 55 psi on a 43 °C day lie inside our band, which knows no humidity and reaches to moist air",
}

// Every published case with readings is put to the model; its claim must hold.
func TestPublishedCases(t *testing.T) {
	all, err := cases.Load(os.DirFS(dir))
	if err != nil {
		t.Fatal(err)
	}
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	ran := map[cases.Kind]int{}
	for _, s := range all {
		if s.Want.NotEnough != "" || s.Kind == cases.Service {
			continue
		}
		ran[s.Kind]++
		var why string
		switch s.Kind {
		case cases.Diagnosis:
			why = diagnosis(t, m, &s)
		case cases.Band:
			why = band(t, m, &s)
		case cases.Resting:
			why = resting(t, m, &s)
		}
		ok := why == ""
		if s.Want.Disputed != "" {
			ok = !ok
			if !ok {
				why = "the disputed claim holds"
			}
		}
		reason, listed := exceptions[s.Name]
		switch {
		case ok && listed:
			t.Errorf("%s: no longer an exception (%s); take it off the list", s.Name, reason)
		case !ok && !listed:
			t.Errorf("%s: %s", s.Name, why)
		}
	}
	if ran[cases.Diagnosis] < 30 || ran[cases.Band] < 8 || ran[cases.Resting] < 8 {
		t.Errorf("ran %v: too few", ran)
	}
}

// typicalAmbient stands in where a source gives no weather.
const typicalAmbient = 305.15

func caseOf(s *cases.Scenario) car.Case {
	c := car.Case{Car: s.Car, Readings: car.Readings{}}
	c.Weather.Ambient, c.Weather.Humidity = typicalAmbient, 0.5
	if a, ok := s.Numbers["ambient"]; ok {
		c.Weather.Ambient = a.Lo
	}
	if s.HumidityLow {
		c.Weather.Humidity, c.Weather.HumidityKnown = 0.3, true
	}
	c.Running.RPM, c.Running.Blower = 1500, 1
	if r, ok := s.Numbers["rpm"]; ok {
		c.Running.RPM, c.Running.RPMKnown = r.Lo, true
	}
	return c
}

// at turns a level into a number against the healthy band: a low needle lies as
// far below the band as half the band is wide.
func at(l cases.Level, b diagnose.Band) float64 {
	switch l {
	case cases.Vacuum:
		return -40e3
	case cases.Low:
		return b.P05 - 0.6*(b.P50-b.P05)
	case cases.High:
		return b.P95 + 0.6*(b.P95-b.P50)
	}
	return b.P50
}

// diagnosis puts every combination of the levels named and returns why the claim
// fails, "" if it holds.
func diagnosis(t *testing.T, m *diagnose.Model, s *cases.Scenario) string {
	c := caseOf(s)
	bands, err := m.WeatherBands(c, []float64{c.Weather.Ambient})
	if err != nil {
		t.Fatal(err)
	}
	var lows, highs []car.Reading
	for _, side := range []struct {
		q    car.Quantity
		band diagnose.Band
		into *[]car.Reading
	}{{car.Low, bands[0].Low, &lows}, {car.High, bands[0].High, &highs}} {
		p, ok := s.Patterns[side.q]
		switch {
		case !ok:
			if n, has := s.Numbers[string(side.q)]; has {
				*side.into = []car.Reading{{Value: middle(n)}}
			} else {
				*side.into = []car.Reading{{Value: math.NaN()}}
			}
		case p.Swing:
			lo, hi := at(p.Levels[0], side.band), at(p.Levels[1], side.band)
			if lo > hi {
				lo, hi = hi, lo
			}
			*side.into = []car.Reading{{Value: (lo + hi) / 2, Lo: lo, Hi: hi, Swing: true}}
		case p.Levels[0] == cases.Equal:
			*side.into = []car.Reading{{Value: 500e3}}
		default:
			for _, l := range p.Levels {
				*side.into = append(*side.into, car.Reading{Value: at(l, side.band)})
			}
		}
	}
	if e, ok := s.Numbers["equalise_time"]; ok {
		c.Readings[car.EqualiseTime] = car.Reading{Value: middle(e) * 0.75}
	}
	for _, low := range lows {
		for _, high := range highs {
			k := c
			k.Readings = car.Readings{}
			for q, r := range c.Readings {
				k.Readings[q] = r
			}
			put := func(q car.Quantity, r car.Reading) {
				if !math.IsNaN(r.Value) {
					k.Readings[q] = r
				}
			}
			put(car.Low, low)
			put(car.High, high)
			r, err := m.Diagnose(k)
			if err != nil {
				return err.Error()
			}
			if why := claim(m, s, &k, &r); why != "" {
				return fmt.Sprintf("%s (low %.0f kPa, high %.0f kPa)", why, low.Value/1e3, high.Value/1e3)
			}
		}
	}
	return ""
}

func middle(r cases.Range) float64 {
	switch {
	case math.IsInf(r.Lo, 0):
		return r.Hi
	case math.IsInf(r.Hi, 0):
		return r.Lo
	}
	return (r.Lo + r.Hi) / 2
}

func claim(m *diagnose.Model, s *cases.Scenario, c *car.Case, r *diagnose.Report) string {
	w := &s.Want
	if len(w.Groups) > 0 && !slices.Contains(w.Groups, r.Group) {
		return fmt.Sprintf("group %s, want one of %v", r.Group, w.Groups)
	}
	groups := w.Groups
	if len(groups) == 0 {
		groups = []diagnose.Group{r.Group}
	}
	member := func(id car.ConditionID) bool {
		for _, g := range groups {
			if slices.Contains(m.Members(g, c.Car), id) {
				return true
			}
		}
		return false
	}
	for _, id := range w.InGroup {
		if !member(id) {
			return fmt.Sprintf("%s is no member of %v", id, groups)
		}
	}
	if len(w.AnyInGroup) > 0 && !slices.ContainsFunc(w.AnyInGroup, member) {
		return fmt.Sprintf("none of %v is a member of %v", w.AnyInGroup, groups)
	}
	if len(w.Top2) > 0 && !slices.Contains(w.Top2, r.Ranking[0].ID) && !slices.Contains(w.Top2, r.Ranking[1].ID) {
		return fmt.Sprintf("first are %v, want one of %v", r.Ranking[:2], w.Top2)
	}
	for _, id := range w.NotNamed {
		if r.Verdict == diagnose.Named && r.Ranking[0].ID == id {
			return fmt.Sprintf("%s is named", id)
		}
	}
	return ""
}

// band holds published normal pressures against the healthy band.
func band(t *testing.T, m *diagnose.Model, s *cases.Scenario) string {
	c := caseOf(s)
	ambients := []float64{c.Weather.Ambient}
	if _, ok := s.Numbers["ambient"]; !ok {
		ambients = []float64{294.15, 300.15, 305.15, 310.15, 316.15}
	}
	bands, err := m.WeatherBands(c, ambients)
	if err != nil {
		t.Fatal(err)
	}
	why := "no reading to compare"
	for _, b := range bands {
		why = ""
		for _, side := range []struct {
			name string
			band diagnose.Band
		}{{"low", b.Low}, {"high", b.High}} {
			n, ok := s.Numbers[side.name]
			if ok && (n.Hi < side.band.P05 || n.Lo > side.band.P95) {
				why = fmt.Sprintf("%s side %.0f to %.0f kPa against %.0f to %.0f", side.name, n.Lo/1e3, n.Hi/1e3, side.band.P05/1e3, side.band.P95/1e3)
			}
		}
		if v, ok := s.Numbers["vent"]; ok {
			c.Weather.Ambient = b.Ambient
			c.Readings = car.Readings{car.Vent: {Value: v.Hi}, car.Low: {Value: b.Low.P50}, car.High: {Value: b.High.P50}}
			r, err := m.Diagnose(c)
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range r.Evidence {
				if e.Quantity == car.Vent && (v.Hi < e.Expected.Lo || v.Lo > e.Expected.Hi) {
					why = fmt.Sprintf("vent %.1f to %.1f °C against %.1f to %.1f", v.Lo-273.15, v.Hi-273.15, e.Expected.Lo-273.15, e.Expected.Hi-273.15)
				}
			}
		}
		if why == "" {
			return ""
		}
	}
	return why
}

// resting holds a soaked pressure against saturation, and the answer against it.
func resting(t *testing.T, m *diagnose.Model, s *cases.Scenario) string {
	c := caseOf(s)
	n := s.Numbers["resting"]
	c.Readings[car.Resting] = car.Reading{Value: n.Lo}
	id := s.Car.Refrigerant
	if id == "" {
		id = car.R134a
	}
	fl, err := eos.Load(id)
	if err != nil {
		t.Fatal(err)
	}
	sat, err := fl.SatT(c.Weather.Ambient)
	if err != nil {
		t.Fatal(err)
	}
	at := float64(refrig.Pressure(sat.P).Gauge(air.AtmosphericPressure(0)))
	gap := n.Lo - at
	switch {
	case s.Want.Liquid == "yes" && math.Abs(gap) > 1e3:
		return fmt.Sprintf("resting %.1f kPa, saturation %.1f", n.Lo/1e3, at/1e3)
	case s.Want.Liquid == "no" && gap > -20e3:
		return fmt.Sprintf("resting %.1f kPa is not below saturation %.1f", n.Lo/1e3, at/1e3)
	}
	r, err := m.Diagnose(c)
	if err != nil {
		return err.Error()
	}
	if s.Want.Liquid == "yes" {
		for _, k := range r.Ranking { // liquid remains: that says nothing of how much
			if k.ID == car.Undercharge && k.Probability > diagnose.NamedAt {
				return "a shortage is named from a pressure that cannot show it"
			}
		}
	}
	return claim(m, s, &c, &r)
}
