package readings

import (
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/pagetest"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// What forty confirmed jobs teach stands below the answer with the tap that leaves it out,
// and that way back stays. Where nothing was learnt there is no such line.
func TestWhatWasLearntStandsBelowTheAnswer(t *testing.T) {
	if b := open(t).three("28", "200", "86"); b.Text("learnt") != "" {
		t.Errorf("of no jobs: %q", b.Text("learnt"))
	}
	device := job.Memory{}
	store := job.NewStore(device)
	for i := range 40 {
		j := job.New(time.Date(2026, 4, 1, 9, 0, i, 0, time.UTC), unit.US())
		j.Title, j.Repair.Cause, j.Repair.FoundAt = "Invented", string(car.Air), j.Created
		j.Before.SetText(present.Ambient, "86")
		j.Before.SetReading(car.Low, job.Reading{Text: "40"})
		if err := store.Save(j); err != nil {
			t.Fatal(err)
		}
	}
	b := &screen{}
	b.Screen = pagetest.New(t, device, func(pg *page.Page) func() app.Composer {
		b.place = New(pg)
		return b.place.View
	})
	b.Has("answer", "")
	if b.Text("learnt") != "" {
		t.Error("it stands without an answer")
	}
	b.three("28", "200", "86")
	b.Has("answer", "Learnt from 40 jobs here: more often here: air in the system (1 in ")
	b.Has("learnt-switch", "Answer without it")
	b.Do(func() { b.Page.Learnt().Use(false) })
	b.Has("learnt", "What 40 jobs here teach is left out.")
	b.Has("learnt-switch", "Use what was learnt")
	b.Sound("off")
	b.Do(func() { b.Page.Learnt().Use(true) })
	if !strings.HasPrefix(b.Text("learnt"), "Learnt from 40") {
		t.Errorf("on again: %q", b.Text("learnt"))
	}
}

// The band across the weather is the one of the answer: 3 K on the low side are about 5
// psi, and it is drawn anew when that is left out.
func TestTheWeatherFollowsWhatWasLearnt(t *testing.T) {
	device := job.Memory{"twoneedles.learnt": `{"lessons":{"jobs":40,"low_K":3}}`}
	b := &screen{}
	b.Screen = pagetest.New(t, device, func(pg *page.Page) func() app.Composer {
		b.place = New(pg)
		return b.place.View
	})
	b.three("28", "200", "86")
	b.Do(func() { b.place.weather.open = true; b.place.askWeather() })
	with := b.place.weather.bands[8].Low.P50
	b.Do(func() { b.Page.Learnt().Use(false) })
	without := b.place.weather.bands[8].Low.P50
	if d := (with - without) / 6895; d < 3.5 || d > 7 {
		t.Errorf("the band moves by %.1f psi", d)
	}
}
