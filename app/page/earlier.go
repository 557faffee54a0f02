package page

import (
	"errors"
	"math"
	"slices"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// Earlier is a visit of the car at hand before this one, at which it was in order.
type Earlier struct {
	job.SoundVisit
	LeftOut bool  // by the person
	Refused error // why it can be no ruler today: an *[diagnose.EarlierError]
}

// Used tells whether the answer takes it as a ruler.
func (e Earlier) Used() bool { return !e.LeftOut && e.Refused == nil }

// Earlier are the sound visits of the car at hand before this one, the latest first.
// Those that the answer takes are in the order of car.Case.Earlier.
//
// The answer to the visit after a repair takes none: how often its proof is right was
// counted without them.
func (s *Page) Earlier() []Earlier {
	var sound []job.SoundVisit
	if s.Job.OfCar != "" {
		s.VisitsOf(s.Job.OfCar)
		sound = s.visits.sound
	}
	var out []Earlier
	used := 0
	for _, v := range s.Job.Earlier(sound) {
		e := Earlier{SoundVisit: v, LeftOut: slices.Contains(s.Job.LeftOut, v.Name)}
		if e.Refused = diagnose.CheckEarlier(v.Is, s.Job.Car.Refrigerant); e.Refused == nil && used == car.MostEarlier {
			e.Refused = &diagnose.EarlierError{Visit: used, Reason: diagnose.EarlierTooMany}
		}
		if e.Used() {
			used++
		}
		out = append(out, e)
	}
	return out
}

// rulers are the visits that the answer takes.
func (s *Page) rulers() []car.Visit {
	var out []car.Visit
	for _, e := range s.Earlier() {
		if e.Used() {
			out = append(out, e.Is)
		}
	}
	return out
}

// whole is the job at hand as it leaves the device, with the visits its answer takes and
// from how many jobs was learnt what it takes besides.
func (s *Page) whole() job.Job {
	j := s.Job
	j.Table, j.Past, j.Learnt = s.Table(), nil, s.learnt.taken()
	for _, v := range s.rulers() {
		j.Past = append(j.Past, job.PastOf(v))
	}
	return j
}

// Table is the maker's table of the car at hand: that of this job, or of the latest visit
// of the car that has one.
func (s *Page) Table() []job.TableRow {
	if len(s.Job.Table) > 0 || s.Job.OfCar == "" {
		return s.Job.Table
	}
	for _, j := range s.VisitsOf(s.Job.OfCar) {
		if len(j.Table) > 0 {
			return j.WithUnits(s.Job.Units).Table
		}
	}
	return nil
}

// withTable is the job at hand with the table of its car.
func (s *Page) withTable() job.Job {
	j := s.Job
	j.Table = s.Table()
	return j
}

// MakerTable reads the table of the car at hand.
func (s *Page) MakerTable() ([]job.MakerRow, error) { return s.withTable().MakerTable() }

// PutTable changes a line of the table; empty ones at the end are dropped again.
func (s *Page) PutTable(i int, change func(*job.TableRow)) {
	rows := slices.Clone(s.Table())
	for len(rows) <= i {
		rows = append(rows, job.TableRow{})
	}
	change(&rows[i])
	for n := len(rows); n > 0 && rows[n-1] == (job.TableRow{}); n-- {
		rows = rows[:n-1]
	}
	s.Job.Table = rows
	s.Edited()
}

// LeaveOut takes a visit out of the answer, or back in.
func (s *Page) LeaveOut(name string, out bool) {
	s.Job.LeftOut = slices.DeleteFunc(s.Job.LeftOut, func(n string) bool { return n == name })
	if out {
		s.Job.LeftOut = append(s.Job.LeftOut, name)
	}
	s.Edited()
}

// VisitsOf returns the other jobs of the car with the name, the latest first. They are
// read again when something else was written, not at every key.
func (s *Page) VisitsOf(name string) []job.Job {
	v := &s.visits
	if v.rev == s.saver.others+1 && v.name == name && v.at == s.Job.ID {
		return v.jobs
	}
	*v = carVisits{rev: s.saver.others + 1, name: name, at: s.Job.ID}
	list, _ := s.Entries()
	for _, e := range list {
		if e.ID == s.Job.ID || !job.SameCar(e.OfCar, name) {
			continue
		}
		if j, err := s.saver.store.Look(e.ID); err == nil {
			v.jobs = append(v.jobs, j)
			v.sound = append(v.sound, j.SoundVisits()...)
		}
	}
	slices.SortFunc(v.jobs, func(a, b job.Job) int { return b.Created.Compare(a.Created) })
	return v.jobs
}

// carVisits are the visits that were read last.
type carVisits struct {
	rev      int
	name, at string
	jobs     []job.Job
	sound    []job.SoundVisit
}

// NextVisit begins a job of the car at hand: what is known of the car stays.
func (s *Page) NextVisit() {
	was := s.Job
	s.NewJob()
	s.Job.OfCar, s.Job.Title, s.Job.Plate, s.Job.Car = was.OfCar, was.Title, was.Plate, was.Car
	s.Job.Table = was.WithUnits(s.Job.Units).Table
	s.Job.SetText(present.LabelCharge, was.Text[present.LabelCharge])
	s.Edited()
}

// VisitRead is what was read at a visit, as it was typed and in the units of then.
func (s *Page) VisitRead(in unit.Units, v job.Visit) string {
	text := s.Glance(job.Job{Units: in, Before: v})
	temperature := s.Words.T("unit." + string(in.Temperature))
	for _, t := range []struct{ key, text string }{
		{"ambient", v.Text[present.Ambient]}, {"vent", v.Readings[car.Vent].Text},
	} {
		if t.text != "" {
			text += ", " + s.Words.T("jobs.car."+t.key, "value", t.text, "unit", temperature)
		}
	}
	return text
}

// Ago says how long ago a visit was.
func (s *Page) Ago(months float64) string {
	if n := int(math.Round(months)); n > 0 {
		return s.Words.T("jobs.ago", "n", n)
	}
	return s.Words.T("jobs.ago_little")
}

// Refusal says why an earlier visit is no ruler for today.
func (s *Page) Refusal(err error) string {
	var e *diagnose.EarlierError
	if !errors.As(err, &e) {
		return s.Voice().Error(err).Sentences()
	}
	var limit *refrig.RangeError
	// A value that was typed is said with its limits; one that is missing has none.
	if errors.As(err, &limit) && limit.Value > 0 {
		return s.Voice().Error(limit).Sentences()
	}
	return s.Words.T("jobs.refused." + string(e.Reason))
}
