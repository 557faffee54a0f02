package job

import (
	"strings"
	"testing"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

func TestExamplesAreWholeAndInvented(t *testing.T) {
	list := Examples(noon)
	if len(list) < 6 {
		t.Fatalf("only %d examples", len(list))
	}
	seen := map[string]bool{}
	var swing, yf, metric, us, cold bool
	for _, j := range list {
		if !strings.HasPrefix(j.Title, "Example: ") || j.Example == "" || seen[j.Example] || seen[j.ID] {
			t.Errorf("%q is not labelled as an example, or twice", j.Title)
		}
		seen[j.Example], seen[j.ID] = true, true
		c, problems := j.Case()
		for _, p := range problems {
			if p.Level > present.Assumed {
				t.Errorf("%s: %s %s", j.Example, p.Field, p.Code)
			}
		}
		for _, q := range []car.Quantity{car.Low, car.High, car.Vent} {
			if _, ok := c.Readings[q]; !ok {
				t.Errorf("%s has no %s", j.Example, q)
			}
		}
		if c.Weather.Ambient == 0 || c.Car.LabelCharge == 0 || c.Car.Metering == car.MeteringUnknown {
			t.Errorf("%s is not complete", j.Example)
		}
		swing = swing || c.Readings[car.Low].Swing
		yf = yf || c.Car.Refrigerant == car.R1234yf
		cold = cold || c.Weather.Ambient < 293.15
		metric = metric || j.Units.Temperature == unit.Celsius
		us = us || j.Units.Temperature == unit.Fahrenheit
	}
	if !swing || !yf || !metric || !us || !cold {
		t.Error("the examples do not show a swing, R-1234yf, a cool day and both kinds of units")
	}
	list[0].Before.Readings[car.Low] = Reading{Text: "99"}
	if Examples(noon)[0].Before.Readings[car.Low].Text == "99" {
		t.Error("editing an example changes the example")
	}
}

// Each example's story, told by its title, is in the first three of the answer;
// the model must not be led by the nose, so no more is asked.
func TestExamplesAreAnsweredSensibly(t *testing.T) {
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	story := map[string][]car.ConditionID{
		"small_hatchback_poor_air": {car.CondenserAirflow},
		"family_wagon_healthy":     {car.Healthy},
		"old_pickup_half_charge":   {car.Undercharge},
		"city_van_weak_compressor": {car.WeakCompressor},
		"coupe_restriction":        {car.Restriction},
		"cold_morning_healthy":     {car.Healthy},
		"swinging_clutch":          {car.Healthy},
		"new_compact_1234yf":       {car.Healthy},
		"taxi_air_inside":          {car.Air},
	}
	for _, j := range Examples(noon) {
		want, ok := story[j.Example]
		if !ok {
			t.Errorf("%s has no story", j.Example)
			continue
		}
		c, _ := j.Case()
		r, err := m.Diagnose(c)
		if err != nil {
			t.Errorf("%s: %v", j.Example, err)
			continue
		}
		found := false
		var top []string
		for _, k := range r.Ranking[:3] {
			found = found || k.ID == want[0]
			top = append(top, string(k.ID))
		}
		if !found {
			t.Errorf("%s: %v, want %s among them", j.Example, top, want[0])
		}
	}
}

// Whatever passes its field, the model takes: a refusal is said beside the field
// and not in place of the answer.
func TestFieldLimitsLieWithinTheModels(t *testing.T) {
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	base := New(noon, unit.Metric())
	base.Before.SetText(present.Ambient, "30")
	base.Before.SetReading(car.Low, Reading{Text: "2"})
	base.Before.SetReading(car.High, Reading{Text: "15"})
	base.SetText(present.LabelCharge, "600")
	try := func(what string, j Job) {
		t.Helper()
		c, _ := j.Case()
		if _, err := m.Diagnose(c); err != nil {
			t.Errorf("%s: %v", what, err)
		}
	}
	ends := func(id present.FieldID) []string {
		f := field(id)
		u := base.Units.For(f.Kind)
		return []string{u.Plain(f.Limit.Lo), u.Plain(f.Limit.Hi)}
	}
	for _, id := range VisitFields {
		for _, text := range ends(id) {
			j := base.Clone()
			j.Before.SetText(id, text)
			try(string(id)+" "+text, j)
		}
	}
	for _, q := range Quantities {
		if q == car.SightGlass {
			continue
		}
		for _, text := range ends(present.FieldID(q)) {
			j := base.Clone()
			j.Before.SetReading(q, Reading{Text: text})
			try(string(q)+" "+text, j)
		}
	}
	for _, text := range ends(present.LabelCharge) {
		j := base.Clone()
		j.SetText(present.LabelCharge, text)
		if j.Refused() == nil { // the sums of a small bus reach further than the model
			try("label charge "+text, j)
		}
	}
	j := base.Clone()
	j.SetText(present.LabelCharge, "4 kg") // LargestDiagnosed
	if err := j.Refused(); err != nil {
		t.Error(err)
	}
	try("label charge 4 kg", j)
	if j.SetText(present.LabelCharge, "4.1 kg"); j.Refused() == nil {
		t.Error("the readings of a small bus are judged")
	}
}

// An example has its title in the words, where it is translated.
func TestExamplesAreInTheWords(t *testing.T) {
	en, n := present.English(), 0
	for _, key := range en.Keys() {
		if strings.HasPrefix(key, "example.") {
			n++
		}
	}
	for _, j := range Examples(noon) {
		n--
		if got := en.T("example." + j.Example); got != j.Title {
			t.Errorf("example.%s is %q, want %q", j.Example, got, j.Title)
		}
	}
	if n != 0 {
		t.Errorf("%d titles in the words are of no example", n)
	}
}
