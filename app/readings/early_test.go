package readings

import (
	"encoding/json"
	"testing"

	"twoneedles/app/job"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// What the first fields hold is noted for the page that comes before the program, to the
// letter; where others stand there, nothing is.
func TestFirstFieldsAreNoted(t *testing.T) {
	b := open(t)
	noted := func() (f first) {
		t.Helper()
		text, _, _ := b.Page.Device().Get(keyFirst)
		if err := json.Unmarshal([]byte(text), &f); err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		return f
	}
	if f := noted(); !f.Blank || f.About == "" || f.Units != [2]unit.Unit{"psi", "F"} {
		t.Errorf("of an empty job there is %+v", f)
	}
	b.three("38,5", "330", "90")
	if f := noted(); f.Blank || f.About != "" || f.Texts["low"] != "38,5" || f.Texts["high"] != "330" || f.Texts["ambient"] != "90" || f.Texts["vent"] != "" {
		t.Errorf("noted is %+v", f)
	}
	b.Do(func() { b.Page.SetUnit(unit.GaugePressure, unit.Bar) })
	if f := noted(); f.Units != [2]unit.Unit{"bar", "F"} || f.Texts["high"] != b.Typed("high") {
		t.Errorf("in bar it is %+v", f)
	}
	for what, f := range map[string]func(on bool){
		"the engine off": func(on bool) { b.Page.SetEngine(map[bool]string{true: job.EngineOff, false: job.EngineOn}[on]) },
		"a swing":        func(on bool) { b.Page.SetSwing(car.High, on) },
	} {
		b.Do(func() { f(true) })
		if f := noted(); f.Texts != nil || f.Units[0] != "" {
			t.Errorf("with %s there is %+v", what, f)
		}
		b.Do(func() { f(false) })
		if noted().Texts == nil {
			t.Errorf("after %s nothing is noted", what)
		}
	}
	b.Do(func() { b.Page.Lend(b.Page.FirstExample()) })
	if f := noted(); !f.Invented || f.About != b.Text("about") {
		t.Errorf("of an invented car there is %+v", f)
	}
}
