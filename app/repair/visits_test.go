package repair

import (
	"strings"
	"testing"

	"twoneedles/app/job"
	"twoneedles/refrig/car"
	"twoneedles/refrig/service"
)

// A car's visits stand together by its name, however written; another car's do not. Each
// can be marked and unmarked, and stays so.
func TestVisitsOfACarStandTogether(t *testing.T) {
	device := job.Memory{}
	b := pickup(t, device)
	visit := func(name, low string) string {
		b.Do(func() {
			b.Page.NewJob()
			b.Page.Job.OfCar = name
			b.Page.Job.Before.SetReading(car.Low, job.Reading{Text: low})
			b.Page.Edited()
		})
		return b.Page.Job.ID
	}
	first := visit("Blue van (invented)", "31")
	visit("Grey wagon (invented)", "32")
	visit(" blue VAN (invented) ", "33")
	b.Do(func() { b.place.open = map[string]bool{stepRecord: true} })
	b.work()
	b.Sound("earlier visits")
	b.Has("visits", "31")
	if text := b.Text("visits"); strings.Contains(text, "32") || strings.Contains(text, "33") {
		t.Errorf("visits of another car, or this one: %s", text)
	}
	old := b.Page.VisitsOf("Blue van (invented)")
	if len(old) != 1 || old[0].ID != first || old[0].Before.Sound {
		t.Fatalf("%+v", old)
	}
	b.Do(func() {
		old[0].Before.Sound = true
		if err := b.Page.SaveOther(old[0]); err != nil {
			t.Error(err)
		}
	})
	if again := b.Page.VisitsOf("Blue van (invented)"); len(again) != 1 || !again[0].Before.Sound {
		t.Errorf("the mark is gone: %+v", again)
	}
	if j, err := job.NewStore(device).Look(first); err != nil || !j.Before.Sound || j.Before.Readings[car.Low].Text != "31" {
		t.Errorf("kept: %+v, %v", j, err)
	}
}

// A cause is confirmed with a tap once it is chosen, and the tap takes it back.
func TestACauseIsConfirmed(t *testing.T) {
	b := pickup(t, job.Memory{})
	b.Do(func() {
		b.Page.Job.Repair.Cause = ""
		b.place.open = map[string]bool{stepRecord: true}
		b.Page.Edited()
	})
	b.work()
	b.Has("found-is", "Choose the cause under Repair first.")
	if strings.Contains(b.HTML(), "found-confirmed") {
		t.Error("nothing can be confirmed")
	}
	b.Do(func() {
		b.Page.Job.Repair.Cause = string(car.Undercharge)
		b.Page.Edited()
	})
	b.Has("found-is", "not confirmed yet")
	b.Do(func() { (&stepCard{s: b.place}).confirm() })
	b.Has("found-is", "confirmed 20")
	if len(b.Page.Job.Confirmed()) == 0 {
		t.Error("the job is no confirmed case")
	}
	b.Do(func() { (&stepCard{s: b.place}).confirm() })
	if !b.Page.Job.Repair.FoundAt.IsZero() {
		t.Error("it cannot be taken back")
	}
	b.Sound("cause")
}

// A proof that was not passed, or not made, marks nothing.
func TestOnlyAProvedVisitIsMarked(t *testing.T) {
	b := pickup(t, job.Memory{})
	b.Do(func() { b.place.tick("prove") })
	if b.Page.Job.After.Sound != provedNow(b.place) {
		t.Errorf("marked: %v, proved: %v", b.Page.Job.After.Sound, provedNow(b.place))
	}
	b.Do(func() { b.place.tick("prove") })
	if b.Page.Job.After.Sound {
		t.Error("the mark stays although the step was taken back")
	}
	b.Do(func() {
		b.Page.Job.After = job.Visit{}
		b.Page.Edited()
		b.place.tick("prove")
	})
	if b.Page.Job.After.Sound {
		t.Error("a visit that was not made is marked")
	}
}

func provedNow(s *Place) bool {
	p := s.proof()
	return p.Ready() && p.Is.Outcome == service.Proved
}
