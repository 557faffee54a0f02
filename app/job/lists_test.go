package job

import (
	"encoding/json"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// What the sums of a repair know is on the menus.
func TestMenusMatchTheModel(t *testing.T) {
	for _, p := range service.Parts() {
		if !slices.Contains(Parts, string(p)) {
			t.Errorf("part %s is not on the menu", p)
		}
	}
	for _, p := range service.SearchOrder(car.Spec{Evaporators: 2}) {
		if !slices.Contains(Places, p.Code) {
			t.Errorf("place %s is not on the menu", p.Code)
		}
	}
	var steps []string
	for _, s := range service.Steps() {
		if s != service.StepRead && s != service.StepResting {
			steps = append(steps, string(s))
		}
	}
	if !slices.Equal(steps, Steps) {
		t.Errorf("steps %v, want %v", Steps, steps)
	}
}

func TestMenusHaveWords(t *testing.T) {
	en := present.English()
	for prefix, list := range map[string][]string{"place.": Places, "part.": Parts, "hoses.": Hoses, "oil.": Oils, "sight_glass.": SightGlassChoices} {
		for _, id := range list {
			if id != "" && !en.Has(prefix+id) {
				t.Errorf("no words %s%s", prefix, id)
			}
		}
		for _, key := range en.Keys() {
			if id, ok := strings.CutPrefix(key, prefix); ok && !slices.Contains(list, id) {
				t.Errorf("words for what is on no menu: %s", key)
			}
		}
	}
}

// full returns a job in which every field holds something.
func full(t *testing.T) Job {
	t.Helper()
	j := New(noon, unit.US())
	j.Title, j.Example, j.Notes, j.Shop = "Grey wagon", "none", "owner calls at five", "Example Garage"
	j.Plate, j.Odometer, j.Technician, j.OfCar, j.TellIn = "INV 471", "123,456 mi", "Ada (invented)", "our grey wagon", "de"
	j.Learnt = 34
	j.LeftOut = []string{NewID() + ".after", "past.0"}
	j.Table = []TableRow{{"70", "25-35", "140-180", "40-45"}}
	j.Past = []Past{{14, 1.02, "R134a", map[string]float64{"ambient": 302, "humidity": 0.4}, true, "open", true, map[car.Quantity]float64{car.Low: 221e3}}}
	j.Updated = noon.Add(time.Hour)
	j.Car = Car{"R134a", "orifice_tube", "fixed", "liquid", "medium", 1, "heat_pump"}
	for _, id := range Fields {
		j.SetText(id, "1")
	}
	for _, v := range []*Visit{&j.Before, &j.After} {
		v.Recirc, v.Sound = true, true
		v.Doors = "open"
		v.Log = Log{noon, []LogPoint{{"0", "40", "150", "80"}, {"5", "28", "190", "52"}}, []float64{1.5, 8, 12.25}}
		v.Engine = EngineOff
		for _, id := range VisitFields {
			v.SetText(id, "50")
		}
		for _, q := range Quantities {
			r := Reading{Text: "28", Swing: true, Lo: "22", Hi: "45"}
			if q == car.SightGlass {
				r.Choice = "foam"
			}
			v.SetReading(q, r)
		}
	}
	j.Repair = Repair{Done: Steps, LeaksFound: Places, Parts: Parts, Opened: true, SuddenLeak: true, Broken: true, Flushed: true, Retest: "tight", Soaked: true, Hoses: "liquid",
		Oil: "pag46", Cause: "undercharge", FoundAt: noon, Work: "New seals.\nCharged by weight.", Hold: []HoldPoint{{"0", "500"}, {"5 min", "600"}}, HoldStart: noon}
	if n := emptyFields(reflect.ValueOf(j)); n > 0 {
		t.Fatalf("%d fields of the full job are empty: extend it", n)
	}
	return j
}

func emptyFields(v reflect.Value) (n int) {
	if v.Kind() != reflect.Struct || v.Type() == reflect.TypeFor[time.Time]() {
		if v.IsZero() {
			n++
		}
		return n
	}
	for i := range v.NumField() {
		n += emptyFields(v.Field(i))
	}
	return n
}

// leaves returns the policy path of every value in decoded JSON.
func leaves(v any, path string, out map[string]bool) {
	switch v := v.(type) {
	case map[string]any:
		for k, item := range v {
			sub := path + "." + k
			if _, fixed := policy[strings.TrimPrefix(sub, ".")]; !fixed && slices.ContainsFunc([]string{".text", ".readings", ".air"}, func(s string) bool { return strings.HasSuffix(path, s) }) {
				sub = path + ".*"
			}
			leaves(item, sub, out)
		}
	case []any:
		for _, item := range v {
			leaves(item, path+".*", out)
		}
	default:
		out[strings.TrimPrefix(path, ".")] = true
	}
}

// Every field has a row in the policy, and every row a field.
func TestPolicyCoversTheJob(t *testing.T) {
	b, err := json.Marshal(full(t))
	if err != nil {
		t.Fatal(err)
	}
	var m any
	if err := json.Unmarshal(b, &m); err != nil {
		t.Fatal(err)
	}
	have := map[string]bool{}
	leaves(m, "", have)
	for p := range have {
		if _, ok := policy[p]; !ok {
			t.Errorf("%s has no row in the policy", p)
		}
	}
	for p := range policy {
		if !have[p] {
			t.Errorf("the policy has a row for %s, which no job has", p)
		}
	}
}

// What leaves is chosen: a link holds no notes, no times and no id; a
// backup and the browser hold everything.
func TestWhatLeavesIsChosen(t *testing.T) {
	j := full(t)
	text := string(j.portion(link))
	for _, private := range []string{"owner calls", j.ID, "created", "updated", "notes"} {
		if strings.Contains(text, private) {
			t.Errorf("a link holds %q", private)
		}
	}
	for _, p := range []place{browser, file | backup} {
		k, warn, err := Restore(j.portion(p))
		if err != nil || len(warn) > 0 || !reflect.DeepEqual(k, j) {
			t.Errorf("a job does not come back whole: %v %v\n%+v\n%+v", err, warn, k, j)
		}
	}
}

// SCHEMA.md names every path, field, quantity and choice.
func TestSchemaDocumentsEverything(t *testing.T) {
	b, err := os.ReadFile("SCHEMA.md")
	if err != nil {
		t.Fatal(err)
	}
	doc := string(b)
	must := append(append([]string{Format, FileFormat, linkPrefix}, SightGlassChoices...), Steps...)
	for _, list := range [][]string{car.Meterings(), car.Compressors(), car.HighPorts(), car.Sizes(), car.Systems(), Hoses, Oils, car.Refrigerants()} {
		must = append(must, list...)
	}
	for _, id := range append(append([]present.FieldID{}, Fields...), VisitFields...) {
		must = append(must, string(id))
	}
	for _, q := range Quantities {
		must = append(must, string(q))
	}
	for p := range policy {
		parts := strings.Split(strings.ReplaceAll(p, ".*", ""), ".")
		must = append(must, parts[len(parts)-1])
	}
	for _, s := range must {
		if !strings.Contains(doc, s) {
			t.Errorf("SCHEMA.md does not mention %q", s)
		}
	}
}

// Codes of errors and their words, both ways.
func TestErrorsHaveWordsBothWays(t *testing.T) {
	en := present.English()
	codes := []string{TooBig, Truncated, Damaged, Foreign, Future, BadLink, BadPacked, StoreFull, StoreDenied, StoreMissing, StoreChanged,
		StoreSpare, StoreShut, StoreNewer, StoreCleared, StoreCopied,
		OutR744, OutPump, OutChiller, OutCoach, OutLarge,
		TableNoAmbient, TableGap, TableNoRange, TableTwice, TableWide, TableFalls, TableFar}
	for _, c := range codes {
		m := present.Voice{Words: en, Units: unit.US()}.Error(&Error{What: c, Args: map[string]any{
			"size": 2000, "max": 1024, "version": 7, "known": 1, "title": "Grey wagon",
			"n": 2, "ambient": kelvin(300), "from": kelvin(300), "to": kelvin(320), "first": kelvin(290), "last": kelvin(300),
			"limit": present.Amount{Value: 15, Kind: unit.TempDiff}}})
		for _, s := range []string{m.What, m.Why, m.Next} {
			if s == "" || strings.Contains(s, "⟨") {
				t.Errorf("%s: %q", c, s)
			}
		}
	}
	own := []string{"range_low", "range_high", "convergence", "unknown"} // of present
	for _, key := range en.Keys() {
		parts := strings.Split(key, ".")
		if parts[0] == "error" && !slices.Contains(codes, parts[1]) && !slices.Contains(own, parts[1]) {
			t.Errorf("words for an error nothing gives: %s", key)
		}
	}
}
