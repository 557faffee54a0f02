package job

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"
	"time"

	"twoneedles/app/present"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// codeOf returns the code of an *Error, "" of nil.
func codeOf(t *testing.T, err error) string {
	t.Helper()
	if err == nil {
		return ""
	}
	var e *Error
	if !errors.As(err, &e) {
		t.Fatalf("%T %v is no *Error", err, err)
	}
	return e.What
}

func counts(warn []refrig.Warning) map[string]float64 {
	m := map[string]float64{}
	for _, w := range warn {
		m[w.Code] = w.Args["n"]
	}
	return m
}

const head = `{"format":"twoneedles-job","version":1,`

func TestWhatIsNoJobIsRefused(t *testing.T) {
	for _, c := range []struct{ what, text, code string }{
		{"nothing", "", Truncated},
		{"space", "  \n", Truncated},
		{"broken off", head + `"title":"a`, Truncated},
		{"broken off after a value", head + `"title":"a"`, Truncated},
		{"no JSON", "hello", Damaged},
		{"a page", "<!doctype html><script>alert(1)</script>", Damaged},
		{"damaged inside", head + `"title":}`, Damaged},
		{"another object", `{"name":"x"}`, Foreign},
		{"another format", `{"format":"other","version":1}`, Foreign},
		{"a list", `[1,2]`, Foreign},
		{"a number", `7`, Foreign},
		{"null", `null`, Foreign},
		{"two objects", head + `"title":"a"} {}`, Foreign},
		{"no version", `{"format":"twoneedles-job"}`, Foreign},
		{"a text for version", `{"format":"twoneedles-job","version":"1"}`, Foreign},
		{"half a version", `{"format":"twoneedles-job","version":1.5}`, Foreign},
		{"version 0", `{"format":"twoneedles-job","version":0}`, Foreign},
		{"a newer version", `{"format":"twoneedles-job","version":3}`, Future},
		{"a much newer version", `{"format":"twoneedles-job","version":1e300}`, Future},
		{"too big", head + `"title":"` + strings.Repeat("a", MaxBytes) + `"}`, TooBig},
		{"too deep", head + `"text":` + strings.Repeat(`{"a":`, 20000) + "1" + strings.Repeat("}", 20001), Damaged},
	} {
		j, warn, err := Restore([]byte(c.text))
		if got := codeOf(t, err); got != c.code {
			t.Errorf("%s: %q, want %q", c.what, got, c.code)
		}
		if !reflect.DeepEqual(j, Job{}) || warn != nil {
			t.Errorf("%s: something is left of it", c.what)
		}
	}
	_, _, err := Restore([]byte(`{"format":"twoneedles-job","version":7}`))
	m := present.Voice{Words: present.English(), Units: unit.US()}.Error(err)
	if !strings.Contains(m.What, "format 7") || !strings.Contains(m.Why, "formats up to 2") {
		t.Errorf("a newer version is not named: %+v", m)
	}
}

func TestRestoreRepairsAndCounts(t *testing.T) {
	long := strings.Repeat("x", 200)
	b := head + `
		"id": "../../etc", "created": "1066-10-14T00:00:00Z", "updated": "not a time",
		"title": "` + long + `", "notes": ["no", "text"], "surprise": {"a": 1, "b": [2, 3]},
		"units": {"pressure": "furlong", "temperature": "C", "mass": "g", "volume": "ml", "length": "m", "vacuum": "micron"},
		"car": {"refrigerant": "R744", "metering": "orifice_tube", "evaporators": 99},
		"text": {"label_charge": "600", "low": "28", "__proto__": "x", "mass_out": 5},
		"before": {"text": {"ambient": "35\u0000\u202e", "label_charge": "1"},
			"readings": {"low": {"text": "2.1", "speed": 3}, "moon": {"text": "1"}, "high": "12", "sight_glass": {"choice": "purple"}, "vent": {"choice": "foam"}}},
		"repair": {"done": ["find", "find", "dance"], "oil": "olive", "cause": "witchcraft", "work": "a\r\nb\u0007", "hold": [{"time": "0", "pressure": "` + long + `"}, 7]}}`
	j, warn, err := Restore([]byte(b))
	if err != nil {
		t.Fatal(err)
	}
	want := New(noon, unit.Metric())
	want.ID, want.Created, want.Updated = j.ID, j.Created, j.Updated
	want.Title = long[:MaxTitle]
	want.Units.Pressure = unit.PSI // the default, because the text names none on the menu
	want.Car = Car{Metering: "orifice_tube"}
	want.Text = map[present.FieldID]string{"label_charge": "600"}
	want.Before.Text = map[present.FieldID]string{"ambient": "35"}
	want.Before.Readings = map[car.Quantity]Reading{"low": {Text: "2.1"}}
	want.Repair = Repair{Done: []string{"find"}, Work: "a\nb", Hold: []HoldPoint{{"0", long[:maxField]}}}
	if !reflect.DeepEqual(j, want) {
		t.Errorf("got  %+v\nwant %+v", j, want)
	}
	if !goodID(j.ID) || !j.Created.IsZero() {
		t.Errorf("id %q, created %v", j.ID, j.Created)
	}
	n := counts(warn)
	if n[WarnShort] != 2 || n[WarnDropped] == 0 || n[WarnCleared] == 0 {
		t.Errorf("warnings %v", n)
	}
	v := present.Voice{Words: present.English(), Units: unit.US()}
	for _, w := range warn {
		if m := v.Warning(w); strings.Contains(m.What+m.Why+m.Next, "⟨") {
			t.Errorf("%s: %+v", w.Code, m)
		}
	}
}

// No job was changed before it was made; the time it was changed last is otherwise kept,
// for the list is sorted by it.
func TestTimesOfAJob(t *testing.T) {
	for _, k := range []struct{ created, updated, want string }{
		{"2026-05-01T08:00:00Z", "2026-05-02T09:00:00Z", "2026-05-02T09:00:00Z"},
		{"2026-05-01T08:00:00Z", "2026-04-01T09:00:00Z", "2026-05-01T08:00:00Z"},
		{"2026-05-01T08:00:00Z", "2026-05-01T08:00:00Z", "2026-05-01T08:00:00Z"},
	} {
		j, _, err := Restore([]byte(head + `"created":"` + k.created + `","updated":"` + k.updated + `"}`))
		if err != nil {
			t.Fatal(err)
		}
		if got := j.Updated.Format(time.RFC3339); got != k.want || j.Created.Format(time.RFC3339) != k.created {
			t.Errorf("created %s, updated %s: restored as %s", k.created, k.updated, got)
		}
	}
}

// A list or a map of any length ends at the limit.
func TestRestoreBoundsLists(t *testing.T) {
	point := `{"time":"1","pressure":"2"}`
	b := head + `"repair":{"hold":[` + strings.Repeat(point+",", 999) + point + `]}}`
	j, warn, err := Restore([]byte(b))
	if err != nil || len(j.Repair.Hold) != maxItems || counts(warn)[WarnDropped] != 1000-maxItems {
		t.Errorf("%v, %d points, %v", err, len(j.Repair.Hold), warn)
	}
}

// Restoring what was restored changes nothing more, and says nothing.
func TestRestoreIsIdempotent(t *testing.T) {
	j, _, err := Restore([]byte(head + `"title":"a\u0001","units":{"pressure":"x"},"zzz":1}`))
	if err != nil {
		t.Fatal(err)
	}
	k, warn, err := Restore(j.portion(browser))
	if err != nil || warn != nil || !reflect.DeepEqual(j, k) {
		t.Errorf("%v %v\n%+v\n%+v", err, warn, j, k)
	}
}

// Version 1 read a bare time to equalise as minutes.
func TestMinutesOfVersion1StayMinutes(t *testing.T) {
	j, warn, err := Restore([]byte(head + `"before":{"text":{"ambient":"90"},"readings":{"low":{"text":"68"},"high":{"text":"135"},"equalise_time":{"text":"0.5","lo":"20 s"}}}}`))
	if r := j.Before.Readings[car.EqualiseTime]; err != nil || warn != nil || r.Text != "0.5 min" || r.Lo != "20 s" {
		t.Errorf("%v %v %+v", err, warn, r)
	}
	c, _ := j.Case()
	if s := c.Readings[car.EqualiseTime].Value; s != 30 {
		t.Errorf("half a minute is %g s", s)
	}
	// And what is typed now is in seconds.
	j.Before.SetReading(car.EqualiseTime, Reading{Text: "20"})
	if c, _ := j.Case(); c.Readings[car.EqualiseTime].Value != 20 {
		t.Errorf("20 is %g s", c.Readings[car.EqualiseTime].Value)
	}
	for _, broken := range []string{`"before":7`, `"before":{"readings":[]}`, `"before":{"readings":{"equalise_time":"3"}}`, `"after":null`} {
		if _, _, err := Restore([]byte(head + broken + "}")); err != nil {
			t.Errorf("%s: %v", broken, err)
		}
	}
}

// There is a step from every version to the next.
func TestEveryVersionHasAMigration(t *testing.T) {
	if len(migrations) != Version-1 {
		t.Errorf("%d migrations for version %d", len(migrations), Version)
	}
}

// FuzzRestore: any bytes give a job that could have been typed, or an *Error with
// words; never a panic, and what comes out goes in again unchanged.
func FuzzRestore(f *testing.F) {
	f.Add([]byte(head + `"title":"a"}`))
	f.Add([]byte(`{"format":"twoneedles-job","version":1,"before":{"readings":{"low":{"text":"28","swing":true,"lo":"1","hi":"2"}}}}`))
	for _, j := range Examples(noon) {
		f.Add(j.portion(browser))
	}
	f.Fuzz(func(t *testing.T, b []byte) { restoreAndUse(t, b) })
}

// FuzzRestoreValues puts any text and number where a job has one: deeper than
// FuzzRestore, whose bytes seldom make whole JSON.
func FuzzRestoreValues(f *testing.F) {
	f.Add("low", "28", "psi", 1.0)
	f.Add("ambient", "35,5", "C", 99.0)
	f.Add("label_charge", "1 lb 8 oz", "lb_oz", -1.0)
	f.Add("vacuum_reached", "29 in", "kPa", 2.0)
	f.Add("__proto__", "=1+1\u202e", "bar", 1e300)
	f.Fuzz(func(t *testing.T, key, text, unit string, n float64) {
		texts := map[string]any{key: text, "label_charge": text, "vacuum_reached": text, "altitude": text, "ambient": text}
		reading := map[string]any{"text": text, "lo": text, "hi": unit, "swing": n > 0, "choice": text, key: n}
		visit := map[string]any{"text": texts, "recirc": n < 0, "readings": map[string]any{key: reading, "low": reading, "high": reading, "recovered": reading}}
		b, err := json.Marshal(map[string]any{
			"format": Format, "version": 1, "id": key, "title": text, "notes": text, key: text,
			"units": map[string]any{"pressure": unit, "temperature": unit, "mass": unit, "volume": unit, "length": unit, "vacuum": unit},
			"car":   map[string]any{"refrigerant": unit, "evaporators": n, key: n},
			"text":  texts, "before": visit, "after": visit,
			"repair": map[string]any{"done": []any{key, text, n}, "work": text, "cause": key, "hold": []any{map[string]any{"time": text, "pressure": unit}, n}},
		})
		if err != nil {
			return // NaN and Inf are no JSON
		}
		restoreAndUse(t, b)
	})
}

// restoreAndUse does with a restored job all that a page does with one.
func restoreAndUse(t *testing.T, b []byte) {
	j, _, err := Restore(b)
	if err != nil {
		if c := codeOf(t, err); !present.English().Has("error." + c + ".what") {
			t.Fatalf("no words for %s", c)
		}
		return
	}
	k, warn, err := Restore(j.portion(browser))
	if err != nil || warn != nil || string(k.portion(browser)) != string(j.portion(browser)) {
		t.Fatalf("%v %v\n%+v\n%+v", err, warn, j, k)
	}
	c, problems := j.Case()
	j.CaseAfter()
	j.HoldReadings()
	if _, err := json.Marshal(c); err != nil { // refuses NaN and Inf
		t.Fatal(err)
	}
	v := present.Voice{Words: present.English(), Units: j.Units}
	for i := range problems {
		if m := v.Problem(&problems[i]); strings.Contains(m.What, "⟨") && !strings.Contains(string(b), "⟨") {
			t.Fatalf("%s: %+v", problems[i].Field, m)
		}
	}
	if l, _, err := OpenLink(j.Link()); err != nil || l.Title != j.Title {
		t.Fatalf("link: %v", err)
	}
	j.WithUnits(unit.Metric()).WithUnits(unit.US())
	CSV([]Job{j})
}
