package repair

import (
	"regexp"
	"strings"
	"testing"

	"twoneedles/app/job"
)

// holdJob is the repaired pickup with another hold test.
func holdJob(t *testing.T, points ...string) *screen {
	b := pickup(t, job.Memory{})
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
