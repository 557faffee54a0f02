package repair

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"twoneedles/app/job"
)

// holdJob is the repaired pickup with another hold test.
func holdJob(t *testing.T, points ...string) *screen { return holdJobOn(t, job.Memory{}, points...) }

func holdJobOn(t *testing.T, device job.Storage, points ...string) *screen {
	b := pickup(t, device)
	b.Do(func() {
		b.Page.Job.Repair.Hold = nil
		for _, p := range points {
			at, pressure, _ := strings.Cut(p, " ")
			b.Page.Job.Repair.Hold = append(b.Page.Job.Repair.Hold, job.HoldPoint{Time: at, Pressure: pressure})
		}
		b.Page.Edited()
	})
	return b
}

// A rate of leaking with more than two digits claims what no vacuum can show; a test
// that is not decided says how long to go on, and is nothing to tell a customer.
func TestHoldClaimsNoMoreThanItShows(t *testing.T) {
	for _, c := range []struct {
		name, says string
		until      string
		points     []string
	}{
		{"a hundred microns a minute", "A leak", "", []string{"0 400", "3 700", "6 1000", "9 1300", "12 1600"}},
		{"flattening", "Moisture", "", []string{"0 500", "5 600", "10 635", "15 648", "20 650"}},
		{"level", "It holds", "", []string{"0 480", "5 482", "10 479", "20 481"}},
		{"short", "Not decided", "Watch on until 12 min after the pump stopped", []string{"0 400", "1 500", "2 600", "3 700", "4 800"}},
		{"two points", "Not decided", "Watch on until", []string{"0 400", "5 700"}},
	} {
		b := holdJob(t, c.points...).work()
		b.Sound(c.name)
		b.Has("hold-hero", c.says)
		b.Has("hold-until", c.until)
		for _, rate := range regexp.MustCompile(`[\d.–]+ (oz|g) a year`).FindAllString(b.Text("hold-checks"), -1) {
			for _, n := range regexp.MustCompile(`\d[\d.]*`).FindAllString(rate, -1) {
				if digits := strings.Trim(strings.ReplaceAll(n, ".", ""), "0"); len(digits) > 2 {
					t.Errorf("%s: %q has %d digits", c.name, rate, len(digits))
				}
			}
		}
		b.customer().Sound(c.name)
		if did := b.Text("tell-did"); c.until != "" && (strings.Contains(did, "decide") || strings.Contains(did, "watched the gauge")) {
			t.Errorf("%s: the customer reads %q", c.name, did)
		}
	}
}

// A clock notes the times, is right after the page was closed, and is taken back
// without losing what was read.
func TestHoldClockNotesTimes(t *testing.T) {
	device := job.Memory{}
	noon := time.Date(2026, 7, 1, 12, 0, 0, 0, time.UTC)
	b := holdJobOn(t, device)
	at := func(d time.Duration) { b.place.now = func() time.Time { return noon.Add(d) } }
	read := func(i int, d time.Duration, pressure string) {
		at(d)
		b.Do(b.place.readHold)
		b.Do(func() {
			b.Page.Job.Repair.Hold[i].Pressure = pressure
			b.Page.Edited()
		})
	}
	b.work().Has("hold-start", "start the clock")
	at(0)
	b.Do(b.place.startHold)
	read(0, 0, "400")
	read(1, 2*time.Minute+2*time.Second, "600")
	at(4 * time.Minute)
	b.Do(b.place.readHold) // tapped and not typed: tapped again
	read(2, 5*time.Minute+30*time.Second, "950")
	b.work().Sound("a clock that runs")
	b.Has("hold-time-now", "5:30")
	b.Has("hold-time-now", "Next reading at 10 min")
	at(10 * time.Minute)
	b.work().Has("hold-time-now", "Read the vacuum now.")

	// Closed and opened again.
	b.Do(b.Page.Save)
	b = open(t, device)
	at(71*time.Minute + 5*time.Second)
	b.work().Has("hold-time-now", "1:11:05")
	if got, want := b.Page.Job.Repair.Hold, []job.HoldPoint{{Time: "0", Pressure: "400"}, {Time: "2", Pressure: "600"}, {Time: "5.5", Pressure: "950"}}; !slices.Equal(got, want) {
		t.Errorf("noted %v, want %v", got, want)
	}
	b.Do(b.place.readHold)
	b.Do(b.place.stopHold)
	b.work().Has("hold-clear", "Start a new test")
	if n := len(b.Page.Job.Repair.Hold); n != 3 {
		t.Errorf("%d points once the clock was stopped, want the 3 that were read", n)
	}
	b.Do(b.place.clearHold)
	b.work().Sound("cleared")
	b.Do(b.place.restoreHold)
	if n := len(b.Page.Job.Repair.Hold); n != 3 {
		t.Errorf("%d points came back, want 3", n)
	}
	// A clock forgotten for a day has stopped.
	b.Do(b.place.clearHold)
	at(0)
	b.Do(b.place.startHold)
	at(25 * time.Hour)
	if b.place.holdRuns() {
		t.Error("the clock runs for more than a day")
	}
}

// A vacuum that is gone after three minutes is a leak, drawn and told: 400 mmHg are 53 kPa.
func TestLostVacuumIsToldAsALeak(t *testing.T) {
	b := pickup(t, job.Memory{})
	b.Do(func() {
		b.Page.Job.Repair.Hold = []job.HoldPoint{{Time: "0", Pressure: "1 mmHg"}, {Time: "3", Pressure: "400 mmHg"}, {Time: "10", Pressure: "755 mmHg"}}
		b.Page.Edited()
	})
	b.work().Has("hold-hero", "A leak")
	if got := b.Text("hold-hero") + b.HTML(); strings.Contains(got, "to calculate with") {
		t.Error("a lost vacuum is refused as a number")
	}
	b.customer().Has("tell-did", "there is still a leak")
}
