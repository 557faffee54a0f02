package jobs

import (
	"math"
	"regexp"
	"strings"
	"testing"
	"time"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/learn"
	"twoneedles/refrig/unit"
)

// confirmed counts the jobs of confirm: no two were found at the same moment.
var confirmed int

// confirm puts n confirmed jobs on the device, read as the low side says.
func confirm(b shown, n int, low string, found car.ConditionID, change func(i int, j *job.Job)) {
	for i := range n {
		j := job.New(time.Date(2026, 4, 1, 9, i%60, 0, 0, time.UTC), unit.US())
		j.Title = "Invented"
		j.Before.SetText(present.Ambient, "86")
		j.Before.SetReading(car.Low, job.Reading{Text: low})
		j.Before.SetReading(car.High, job.Reading{Text: "1" + string(rune('0'+i/10)) + string(rune('0'+i%10))})
		confirmed++
		j.Repair.Cause, j.Repair.FoundAt = string(found), time.Date(2026, 4, 2, 9, 0, confirmed, 0, time.UTC)
		if change != nil {
			change(i, &j)
		}
		if err := b.Page.Store().Save(j); err != nil {
			b.Error(err)
		}
	}
	b.Do(b.Page.StoredAnew)
}

func openRecord(b shown) {
	b.Do(func() {
		b.place.record.open = true
		b.place.askRecord()
	})
}

// Under twenty jobs nothing is claimed of the answers; what is not confirmed does not count.
func TestNothingIsClaimedOfFewJobs(t *testing.T) {
	b := pickup(t)
	openRecord(b)
	b.Has("record-few", "0 jobs are confirmed")
	if b.Text("record-file") != "" {
		t.Error("an empty file is offered")
	}
	confirm(b, leastRecord-1, "12", car.Undercharge, nil)
	confirm(b, 5, "12", car.Undercharge, func(_ int, j *job.Job) { j.Repair.FoundAt = time.Time{} })
	confirm(b, 3, "12", car.Undercharge, func(_ int, j *job.Job) { j.Before.Readings = nil })
	list, _ := b.Page.Entries()
	for _, e := range list {
		j, err := b.Page.Store().Look(e.ID)
		if err == nil {
			_, err = b.Page.Store().SaveCopy(j) // as of two windows that both typed
		}
		if err == nil {
			_, err = b.Page.Store().Duplicate(e.ID, time.Now())
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	openRecord(b)
	b.Has("record-few", "19 jobs are confirmed with both needles read. Nothing is claimed from fewer than 20.")
	if b.Text("record-right")+b.Text("record-chances")+b.Text("record-measured") != "" {
		t.Error("something is claimed of 19 jobs")
	}
	b.Sound("few jobs")
}

// What is counted is what was called beside what was found: by hand, on jobs whose answer
// is worked out here again.
func TestTheRecordCounts(t *testing.T) {
	b := pickup(t)
	confirm(b, 18, "8", car.Undercharge, func(i int, j *job.Job) {
		j.SetText(present.LabelCharge, "2 lb")
		if i < 9 {
			j.Before.SetReading(car.Vent, job.Reading{Text: "58"})
		}
		if i == 0 {
			j.SetText(present.MassIn, "2 lb")
		}
	})
	confirm(b, 6, "8", car.Restriction, nil)
	b.Do(func() { b.Page.Learnt().Use(false) }) // the record judges the answers without
	openRecord(b)
	right, called := 0, map[string]int{}
	for _, j := range b.place.confirmed() {
		var chances []float64
		b.Do(func() { b.Page.Replace(j) })
		ranking := b.Page.Answer().Report.Ranking
		for _, r := range ranking {
			chances = append(chances, r.Probability)
		}
		called[b.Page.Words.Chances(chances)[0]]++
		if string(ranking[0].ID) == j.Repair.Cause {
			right++
		}
	}
	if right == 0 || right == 24 {
		t.Fatalf("%d of 24 right: the test is empty", right)
	}
	b.Do(func() { b.place.askRecord() })
	text := b.Text("record-right")
	lo, hi := wilson(right, 24)
	want := b.Page.Words.T("jobs.record.right", "n", 24, "right", right, "lo", int(math.Round(100*lo)), "hi", int(math.Round(100*hi)))
	if text != want {
		t.Errorf("%q, want %q", text, want)
	}
	for words, n := range called {
		if !strings.Contains(b.Text("record-chances"), "“"+words+"”") || len(called) == 1 && n != 24 {
			t.Errorf("%q, said of %d jobs, is not in %q", words, n, b.Text("record-chances"))
		}
	}
	b.Has("record-mixed", "found "+b.Page.Words.ShortName(car.Restriction)+": 6 times")
	b.Has("record-measured", "A job took 0.4 measurements") // 9 of 24 took the vent
	b.Has("record-kept", "In 17 jobs the circuit stayed shut: 34 lb")
	b.Sound("the record")
}

// What the jobs teach is said under the record, and can be left out, forgotten and taken
// back there; off, it is gone from below the answer but for the way back.
func TestTheRecordSaysWhatWasLearnt(t *testing.T) {
	b := pickup(t)
	b.Has("record-learnt-says", "0 jobs here could teach so far. Nothing is learnt from fewer than 20")
	confirm(b, 2, "12", car.Air, nil)
	if html := b.HTML(); !regexp.MustCompile(`hidden[^>]*>\s*<button[^>]*record-learnt-switch`).MatchString(html) {
		t.Error("where nothing is learnt there is something to leave out")
	}
	confirm(b, 38, "12", car.Air, nil)
	b.Has("record-learnt-says", "Learnt from 40 jobs here: more often here: air in the system (1 in ")
	b.Has("record-learnt-switch", "Answer without it")
	b.Do(func() { b.Page.Learnt().Use(false) })
	b.Has("record-learnt", "Left out of the answers at present")
	b.Has("record-learnt-switch", "Use what was learnt")
	b.Do(func() { b.Page.Learnt().Use(true); b.Page.Learnt().Forget(true) })
	b.Has("record-learnt-says", "0 jobs here could teach")
	b.Has("record-learnt-says", "are forgotten")
	b.Has("record-forget", "Learn from the forgotten jobs again")
	b.Do(func() { b.Page.Learnt().Forget(false) })
	b.Has("record-learnt-says", "Learnt from 40 jobs here")
	b.Has("record-forget", "Forget what was learnt")
	b.Sound("what was learnt")
}

// The file of the page goes into refrig/learn as it is.
func TestTheFileOfTheRecordIsRead(t *testing.T) {
	b := pickup(t)
	confirm(b, 30, "12", car.Undercharge, func(i int, j *job.Job) {
		if i == 4 {
			j.After.Sound = true
			j.After.SetReading(car.Low, job.Reading{Text: "30"})
			j.After.SetReading(car.High, job.Reading{Text: "200"})
		}
	})
	openRecord(b)
	jobs, refused, err := learn.NewReader().Read("ours", strings.NewReader(job.ConfirmedCSV(b.place.record.cases)))
	if err != nil || len(refused) > 0 || len(jobs) != 31 {
		t.Errorf("%d read, %v, %v", len(jobs), refused, err)
	}
}

// Wilson's interval holds the shares p for which k of n is within z standard errors:
// |p − k/n| = z √(p(1−p)/n) at its ends, with z = 1.645 for 90 %.
func TestWilson(t *testing.T) {
	for _, c := range [][2]int{{0, 20}, {1, 20}, {81, 263}, {20, 20}} {
		lo, hi := wilson(c[0], c[1])
		p := float64(c[0]) / float64(c[1])
		for _, x := range []float64{lo, hi} {
			if x < -1e-12 || x > 1+1e-12 || math.Abs(math.Abs(x-p)-1.645*math.Sqrt(math.Max(x*(1-x), 0)/float64(c[1]))) > 1e-9 {
				t.Errorf("%v: %g to %g", c, lo, hi)
			}
		}
	}
}
