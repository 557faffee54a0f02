package readings

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

const van = "Blue van (invented)"

// visited puts a job of the van on the device that was made so many months ago, in order.
func (s *screen) visited(months float64, change func(*job.Job)) job.Job {
	s.Helper()
	at := time.Now().Add(-time.Duration(months * 30.44 * 24 * float64(time.Hour)))
	j := job.New(at, unit.US())
	j.OfCar = van
	j.Before.SetReading(car.Low, job.Reading{Text: "32"})
	j.Before.SetReading(car.High, job.Reading{Text: "205"})
	j.Before.SetText(present.Ambient, "84")
	j.Before.Sound = true
	if change != nil {
		change(&j)
	}
	s.Do(func() {
		if err := s.Page.Store().Save(j); err != nil {
			s.Error(err)
		}
		s.Page.StoredAnew()
	})
	return j
}

// now is today's visit of the van.
func (s *screen) now(low, high, ambient string) {
	s.Helper()
	s.three(low, high, ambient)
	s.Do(func() {
		s.Page.Job.OfCar = "blue van  (invented)"
		s.Page.Edited()
	})
}

// What the car read in order reaches the model: as it was read, with its weather and how
// long ago; of another car, of one not in order and of later days nothing does.
func TestEarlierVisitsReachTheAnswer(t *testing.T) {
	b := open(t)
	b.now("26", "190", "86")
	plain := b.Page.Answer().Report.Ranking
	b.visited(14, func(j *job.Job) {
		j.SetText(present.LabelCharge, "24 oz")
		j.SetText(present.MassIn, "24.6 oz")
	})
	b.visited(2, func(j *job.Job) { j.Before.Sound = false })
	b.visited(2, func(j *job.Job) { j.OfCar = "another" })
	b.visited(-2, nil)
	c := b.Page.Answer().Of
	if len(c.Earlier) != 1 {
		t.Fatalf("%d earlier visits reach the model", len(c.Earlier))
	}
	if shown := b.Page.Earlier(); len(shown) != 1 {
		t.Errorf("%d visits are shown", len(shown))
	}
	v := c.Earlier[0]
	near := func(what string, got, want, off float64) {
		t.Helper()
		if d := got - want; d > off || d < -off {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	near("months", v.Months, 14, 0.05)
	near("low side", v.Readings[car.Low].Value, 32*unit.PaPerPSI, 1)
	near("high side", v.Readings[car.High].Value, 205*unit.PaPerPSI, 1)
	near("outside", v.Weather.Ambient, 302.04, 0.02) // 84 °F
	near("charge", v.Charge, 24.6/24, 1e-6)
	r := b.Page.Answer().Report
	if r.Memory == nil || r.Memory.Visits != 1 || r.Ranking[0].Probability == plain[0].Probability {
		t.Errorf("the answer is the one without it: %+v", r.Memory)
	}
	b.Has("earlier-says", "It read 32 psi and 205 psi 14 months ago, at 84 °F outside.")
	b.Has("earlier-says", "it reads 26 psi and 190 psi.")
	low, high := r.Memory.Readings[0], r.Memory.Readings[1]
	write := func(pa float64) string { return b.Page.Voice().Quantity(pa, unit.GaugePressure) }
	b.Has("earlier-says", "In today’s weather that would be "+write(low.Expected.P50)+" and "+write(high.Expected.P50)+";")
	b.Has("earlier-why", b.Page.Voice().Range(low.Expected.P05, low.Expected.P95, unit.GaugePressure))
	b.Has("earlier-alone", b.Page.Words.InText(plain[0].ID))
	b.Sound("a car met before")
}

// Each visit is taken out of the answer with one tap, and back in with another.
func TestAVisitIsLeftOut(t *testing.T) {
	b := open(t)
	b.now("26", "190", "86")
	first := b.visited(14, nil)
	b.visited(3, nil)
	name := first.ID + ".before"
	with := b.Page.Answer().Report.Ranking
	b.Do(func() { b.Page.LeaveOut(name, true) })
	if c := b.Page.Answer().Of; len(c.Earlier) != 1 || c.Earlier[0].Months > 4 {
		t.Errorf("after leaving out the older: %+v", c.Earlier)
	}
	pressed := 0
	for _, tag := range regexp.MustCompile(`<button[^>]*Leave out of[^>]*>`).FindAllString(b.HTML(), -1) {
		if regexp.MustCompile(` aria-pressed(="true")?[ >]`).MatchString(tag) {
			pressed++
		}
	}
	if pressed != 1 {
		t.Errorf("%d visits show that they are left out", pressed)
	}
	b.Sound("left out")
	b.Do(func() { b.Page.LeaveOut(name, false) })
	if again := b.Page.Answer().Report.Ranking; len(b.Page.Job.LeftOut) != 0 || again[0] != with[0] {
		t.Errorf("taken back it is %+v, was %+v", again[0], with[0])
	}
}

// A visit that the model refuses never keeps the answer away: it is left out, with a
// sentence that says which and why, value and limit where there is a value.
func TestRefusedVisitsAreSaid(t *testing.T) {
	for name, k := range map[string]struct {
		change func(*job.Job)
		want   string
	}{
		"swing": {func(j *job.Job) {
			j.Before.SetReading(car.Low, job.Reading{Swing: true, Lo: "10", Hi: "50"})
		}, "a needle swung"},
		"no weather":  {func(j *job.Job) { j.Before.SetText(present.Ambient, "") }, "no outside temperature"},
		"refrigerant": {func(j *job.Job) { j.Car.Refrigerant = car.R12 }, "another refrigerant"},
		"no reading":  {func(j *job.Job) { j.Before.Readings = nil }, "nothing was read"},
		"hot":         {func(j *job.Job) { j.Before.SetText(present.Ambient, "150") }, "150 °F"},
	} {
		b := open(t)
		b.now("26", "190", "86")
		b.Do(func() { b.Page.Job.Car.Refrigerant = car.R134a; b.Page.Edited() })
		b.visited(5, k.change)
		b.Answered(name)
		if n := len(b.Page.Answer().Of.Earlier); n != 0 {
			t.Errorf("%s: %d visits reach the model", name, n)
		}
		b.Has("earlier-visits", "Left out: ")
		b.Has("earlier-visits", k.want)
		b.Sound(name)
	}
}

// More visits than the model takes: the latest are taken, the others say so.
func TestTheLatestVisitsAreTaken(t *testing.T) {
	b := open(t)
	b.now("26", "190", "86")
	for i := range car.MostEarlier + 2 {
		b.visited(float64(i+1), nil)
	}
	c := b.Page.Answer().Of
	if len(c.Earlier) != car.MostEarlier || c.Earlier[0].Months > 1.1 || c.Earlier[car.MostEarlier-1].Months > car.MostEarlier+0.1 {
		t.Errorf("%d visits, from %g to %g months ago", len(c.Earlier), c.Earlier[0].Months, c.Earlier[len(c.Earlier)-1].Months)
	}
	if got := strings.Count(b.Text("earlier-visits"), "twelve later visits"); got != 2 {
		t.Errorf("%d of 2 visits say why they are not taken", got)
	}
}

// Readings no one car can have in order then are asked about.
func TestAnotherCarIsNoticed(t *testing.T) {
	b := open(t)
	b.now("26", "190", "86")
	b.visited(1, nil)
	if b.Text("earlier-other") != "" {
		t.Error("a car like itself is taken for another")
	}
	c := b.Page.Answer().Of
	r := b.Page.Answer().Report
	r.Memory.NotTheSame = true
	p := &earlierPanel{s: b.place}
	html := ""
	for _, item := range p.says(&r, &c) {
		html += app.HTMLString(item)
	}
	if !strings.Contains(html, "does not look like the same car") {
		t.Errorf("nothing is said: %s", html)
	}
}

// The next visit of a car knows its car and what holds it, and none of its readings.
func TestNextVisit(t *testing.T) {
	b := open(t)
	b.now("26", "190", "86")
	b.Do(func() {
		b.Page.Job.Car.Metering = "orifice_tube"
		b.Page.Job.SetText(present.LabelCharge, "24 oz")
		b.Page.Job.Before.Sound = true
		b.Page.Edited()
		b.Page.NextVisit()
	})
	j := b.Page.Job
	if !job.SameCar(j.OfCar, van) || j.Car.Metering != "orifice_tube" || j.Text[present.LabelCharge] != "24 oz" || !j.Before.Empty() {
		t.Errorf("%+v", j)
	}
	if got := b.Page.Earlier(); len(got) != 1 || !got[0].Used() {
		t.Errorf("the visit before: %+v", got)
	}
	b.Has("earlier-visits", "26")
}

// Whoever is sent the readings, or the page for the customer, sees the answer that the
// sender sees, though the car's jobs stay behind; a visit that came along can be left out
// like any other. Five digits go along: chances agree to a thousandth.
func TestTheAnswerIsTheSameWhereItIsSent(t *testing.T) {
	b := open(t)
	b.now("26", "190", "86")
	b.visited(14, nil)
	b.visited(3, func(j *job.Job) { j.Before.SetReading(car.Low, job.Reading{Text: "35"}) })
	want := b.Page.Answer().Report
	alone := want.Memory.Alone[0].Probability
	if d := alone - want.Ranking[0].Probability; d < 0.01 && d > -0.01 {
		t.Fatal("the visits say nothing: the test is empty")
	}
	for what, link := range map[string]string{"readings": b.Page.LinkReadings(), "sheet": b.Page.LinkSheet(), "job": b.Page.Link("", false)} {
		to := open(t)
		_, fragment, _ := strings.Cut(link, "#")
		to.At(fragment)
		to.Answered(what)
		got := to.Page.Answer().Report
		if got.Memory == nil || got.Memory.Visits != 2 {
			t.Errorf("%s: the visits did not go along", what)
			continue
		}
		if d := got.Ranking[0].Probability - want.Ranking[0].Probability; got.Ranking[0].ID != want.Ranking[0].ID || d > 1e-3 || d < -1e-3 {
			t.Errorf("%s: %+v, the sender sees %+v", what, got.Ranking[0], want.Ranking[0])
		}
		to.Has("earlier-visits", "35 and 205 psi, outside 84 °F")
		to.Sound(what)
		to.Do(func() { to.Page.LeaveOut("past.0", true) })
		if m := to.Page.Answer().Report.Memory; m == nil || m.Visits != 1 {
			t.Errorf("%s: leaving out one: %+v", what, m)
		}
	}
}

// The picture over time has every visit, in order or not, as it came and as it left, each
// on the band of its own weather, and this one last.
func TestTheCarOverTime(t *testing.T) {
	b := open(t)
	b.now("26", "190", "86")
	b.Do(func() { b.place.years.open = true; b.place.askYears() })
	if b.Text("earlier") != "" {
		t.Error("a car that was met once has a past")
	}
	b.visited(24, nil)
	b.visited(12, func(j *job.Job) {
		j.Before.Sound = false
		j.Before.SetReading(car.Low, job.Reading{Text: "9"})
		j.After.SetReading(car.Low, job.Reading{Text: "33"})
		j.After.SetReading(car.High, job.Reading{Text: "210"})
		j.After.SetText(present.Ambient, "60")
		j.After.Sound = true
	})
	b.visited(6, func(j *job.Job) { j.Before.Engine = job.EngineOff })
	b.visited(-3, nil)
	b.Do(b.place.askYears)
	got := b.place.years.visits
	if len(got) != 4 || !got[0].Sound || got[1].Sound || !got[2].Sound || got[3].Months != 0 {
		t.Fatalf("%d visits: %+v", len(got), got)
	}
	if got[1].HighBand.Hi-got[2].HighBand.Hi < 2e5 { // 84 °F as it came, 60 °F as it left
		t.Errorf("a cool day has the band of a warm one: %+v, %+v", got[1].HighBand, got[2].HighBand)
	}
	b.Has("years-summary", "as it left, in order: low side 33 psi")
	b.Sound("over time")
}
