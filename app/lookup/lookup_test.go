package lookup

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/pagetest"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

func open(t *testing.T) (*pagetest.Screen, *view) {
	t.Helper()
	var v *view
	b := pagetest.New(t, job.Memory{}, func(pg *page.Page) func() app.Composer {
		v = View(pg).(*view)
		return func() app.Composer { return v }
	})
	return b, v
}

// Printed tables agree: R-134a boils at −26.1 °C, −14.9 °F, under one atmosphere
// (normal boiling point, testdata/eos/sat_R134a.csv between its rows), and at 0 °C
// under 292.8 kPa, 191.5 kPa or 27.8 psi on the gauge.
func TestBothWays(t *testing.T) {
	b, v := open(t)
	b.Do(func() { v.take(unit.Temperature, "32") })
	if got := v.text[unit.GaugePressure]; got != "28" {
		t.Errorf("at 32 °F it says %q psi", got)
	}
	b.Do(func() { v.take(unit.GaugePressure, "0") })
	if got := v.text[unit.Temperature]; got != "-15" {
		t.Errorf("at 0 psi it says %q °F", got)
	}
	if got := v.text[unit.GaugePressure]; got != "0" {
		t.Errorf("what was typed has become %q", got)
	}
	b.Do(func() { v.take(unit.GaugePressure, "191.5 kPa") })
	if got := v.text[unit.Temperature]; got != "32" {
		t.Errorf("191.5 kPa typed in kPa is %q °F", got)
	}
	// R-12 at 0 °C: 308.6 kPa (testdata/eos/sat_R12.csv), 30.1 psi on the gauge.
	b.Do(func() { v.choose(car.R12) })
	if got := v.text[unit.GaugePressure]; got != "30" {
		t.Errorf("R-12 at 32 °F: %q psi", got)
	}
	b.Sound("look-up")
}

// A number that has no answer stays, says why, and leaves no number beside it.
func TestWhatHasNoAnswerIsRefused(t *testing.T) {
	b, v := open(t)
	for kind, texts := range map[unit.Kind][]string{
		unit.GaugePressure: {"9000", "-14.9", "many"},
		unit.Temperature:   {"400", "-300", "warm"},
	} {
		for _, text := range texts {
			b.Do(func() { v.take(kind, text) })
			m, ok := v.problem[kind]
			if !ok || m.What == "" || strings.Contains(m.What, "⟨") {
				t.Errorf("%q is taken, or refused with %q", text, m.What)
			}
			for k, other := range v.text {
				if k != kind && other != "" {
					t.Errorf("beside %q stands %q", text, other)
				}
			}
			b.Sound("refused " + text)
		}
	}
	b.Do(func() { v.take(unit.GaugePressure, "") })
	if len(v.problem) != 0 {
		t.Error("an empty field is refused")
	}
}

// It opens with the car at hand, and speaks its units.
func TestOpensWithTheJob(t *testing.T) {
	b, _ := open(t)
	b.Three("28", "180", "90")
	b.Do(func() { b.Page.Job.Car.Refrigerant = car.R1234yf; b.Page.Edited() })
	v := View(b.Page).(*view)
	v.begin()
	if v.refrigerant != car.R1234yf || v.text[unit.GaugePressure] != "28" {
		t.Errorf("it opens with %s at %q psi", v.refrigerant, v.text[unit.GaugePressure])
	}
	b.Do(func() { v.turn(54) }) // 32 °F, 54 steps above −22
	if v.text[unit.Temperature] != "32" {
		t.Errorf("the slider leads to %q °F", v.text[unit.Temperature])
	}
	b.Do(func() { v.turn(-5) })
	b.Do(func() { v.turn(9999) })
	if v.text[unit.Temperature] != "176" {
		t.Errorf("the slider ends at %q °F", v.text[unit.Temperature])
	}
}

// The card has a column for each refrigerant of a car, and a pressure in each cell.
func TestEveryRefrigerantIsOnTheCard(t *testing.T) {
	b, v := open(t)
	card := b.Text("saturation-table")
	for _, id := range car.Refrigerants()[1:] {
		if !strings.Contains(card, b.Page.Words.T("readings.choice.refrigerant."+id)) {
			t.Errorf("%s is not on the card", id)
		}
	}
	if strings.Contains(card, b.Page.Words.T("number.missing")) {
		t.Error("a cell is empty")
	}
	if n := len(v.sheetTemperatures()); n < 30 || n > 60 {
		t.Errorf("%d rows: a sheet holds 60", n)
	}
}
