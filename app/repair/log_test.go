package repair

import (
	"strings"
	"testing"
	"time"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/refrig/car"
)

// A clutch that is in for 6 s and out for 4 cycles six times a minute; a needle seen at
// 24, 40 and 31 psi swings from 24 to 40, whatever it showed before the clutch first let
// go; that is what the answer is asked with.
func TestLogFeedsTheAnswer(t *testing.T) {
	device := job.Memory{}
	b := open(t, device).put(page.TextOf("low"), "30").put(page.TextOf("high"), "170").put(page.TextOf("ambient"), "85")
	noon := time.Date(2026, 7, 1, 12, 0, 0, 0, time.UTC)
	at := func(s float64) {
		b.place.now = func() time.Time { return noon.Add(time.Duration(s * float64(time.Second))) }
	}
	log := func() logbook { return logbook{b.place, "before"} }
	b.work().Has("log-before-start", "Start the clock")
	at(0)
	b.Do(func() { log().start() })
	note := func(i int, p job.LogPoint) {
		b.Do(func() {
			log().read()
			p.Time = log().log().Points[i].Time
			log().log().Points[i] = p
			b.Page.Edited()
		})
	}
	at(3)
	note(0, job.LogPoint{Low: "85", High: "90"}) // on its way from rest
	for _, s := range []float64{1, 7, 11, 17, 21, 27, 31} {
		at(s)
		b.Do(func() { log().click() })
		at(s + 0.04)
		b.Do(func() { log().click() }) // a tap that bounced counts once
	}
	for i, p := range []job.LogPoint{{Low: "24", High: "175", Vent: "80"}, {Low: "40", High: "160", Vent: "60"}, {Low: "31", High: "170", Vent: "52"}} {
		at(float64(60 + 120*i))
		note(i+1, p)
	}
	b.work().Sound("a log that runs")
	b.Has("log-before-click", "Clutch out")
	b.Has("log-before-checks", "cycles 6 per minute")
	b.Has("log-before-checks", "in for 6 s, out for 4 s")
	b.Has("log-before-checks", "60 %")
	b.Has("log-before-checks", "still on its way")
	b.Has("log-before-says", "Low side between 24 psi and 85 psi")

	b.Do(b.Page.Save)
	b = open(t, device)
	at(330)
	b.work().Has("log-before-clock", "5:30")
	b.Do(func() { log().stop() })
	b.Do(func() { log().take() })
	b.Answered("once the log was taken in")
	of := b.Page.Answer().Of.Readings
	if r := of[car.Cycling]; r.Value != 6 {
		t.Errorf("the answer was asked with %v cycles a minute, want 6", r.Value)
	}
	if r := b.Page.Job.Before.Readings[car.Low]; !r.Swing || r.Lo != "24" || r.Hi != "40" {
		t.Errorf("the low side was taken as %+v, want a swing of 24 to 40", r)
	}
	if r := b.Page.Job.Before.Readings[car.Vent]; r.Text != "52" {
		t.Errorf("the vent was taken as %+v, want the last, 52", r)
	}
	if link := b.Page.Job.Link(); link != "" {
		if k, _, err := job.OpenLink(link); err != nil || !k.Before.Log.Empty() {
			t.Errorf("the log left in a link: %+v, %v", k.Before.Log, err)
		}
	}
	b.Do(func() { log().clear() })
	if b.Page.Job.Before.Readings[car.Low].Lo != "24" {
		t.Error("clearing the log took the readings with it")
	}
}

// After the repair a log says when the vent has settled, and its last readings are those
// of the proof. A line that cannot be read says so and costs nothing else.
func TestLogAfterTheRepair(t *testing.T) {
	b := pickup(t, job.Memory{})
	b.Do(func() {
		b.Page.Job.After.Log.Points = []job.LogPoint{{Time: "0", Vent: "95"}, {Time: "3", Vent: "60"}, {Time: "6", Low: "36", High: "a lot", Vent: "52"}, {Time: "9.5", Low: "37", High: "220", Vent: "52"}}
		b.Page.Edited()
	})
	b.work().Sound("a log after the repair")
	b.Has("log-after-checks", "settled")
	b.Has("log-after-table", "cannot be read as a number")
	b.Do(func() { logbook{b.place, "after"}.take() })
	if got := b.Page.Job.After.Readings; got[car.Low].Text != "37" || got[car.High].Text != "220" || got[car.Vent].Text != "52" {
		t.Errorf("taken: %+v", got)
	}
	if r := b.Page.Job.Before.Readings[car.Vent].Text; strings.Contains(r, "52") {
		t.Error("the log after the repair changed the readings before it")
	}
}
