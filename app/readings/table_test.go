package readings

import (
	"testing"

	"twoneedles/app/job"
)

// The maker's table is typed at one visit and used at the next of the same car: beside the
// reading, as the band of the answer and as marks across the weather.
func TestTheMakersTableStaysWithTheCar(t *testing.T) {
	b := open(t)
	b.visited(5, func(j *job.Job) {
		j.Table = []job.TableRow{{Ambient: "70", Low: "25-35", High: "140-180", Vent: "40-46"}, {Ambient: "90", Low: "29-39", High: "200-240", Vent: "44-52"}}
	})
	b.now("26", "190", "80")
	b.Has("maker-now", "The maker’s table for 80 °F outside: Low side 27–37 psi, High side 170–210 psi, Vent temperature 42–49 °F.")
	b.Has("low-band", "27")
	b.Has("high-band", "170")
	if got := b.place.makerRanges(); len(got) != 2 {
		t.Errorf("%d marks across the weather", len(got))
	}
	b.Enter("ambient", "95").Has("maker-now", "5 °F outside the table")
	b.Enter("ambient", "110").Has("maker-now", "says nothing for 110 °F")
	b.Enter("ambient", "80")
	b.Do(func() { b.Page.PutTable(1, func(r *job.TableRow) { r.High = "100-120" }) })
	b.Has("maker-now", "the numbers fall from 70 °F to 90 °F")
	b.Answered("a table that is refused")
	if j := b.Page.VisitsOf(van)[0]; j.Table[1].High != "200-240" {
		t.Errorf("the table of the earlier visit was changed: %+v", j.Table)
	}
	b.Do(func() { b.Page.PutTable(1, func(r *job.TableRow) { *r = job.TableRow{} }) })
	if n := len(b.Page.Job.Table); n != 1 {
		t.Errorf("%d lines are left", n)
	}
	b.Sound("maker's table")
}
