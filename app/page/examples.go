package page

import (
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/refrig/unit"
)

// The invented car that is shown first, by the units the person uses (judgement).
const (
	firstMetric = "small_hatchback_poor_air"
	firstUS     = "taxi_air_inside"
)

// FirstExample is the invented car that is shown first.
func (s *Page) FirstExample() job.Job {
	if s.Job.Units.Temperature == unit.Fahrenheit {
		return s.Example(firstUS)
	}
	return s.Example(firstMetric)
}

// firstUnits are the units of a person who has chosen none: pounds and °F where the
// browser speaks American English, and where there is no browser (judgement). boot.js
// does the same before the program has come.
func firstUnits() unit.Units {
	if lang := app.Window().Get("navigator").Get("language"); lang.Truthy() && !strings.HasPrefix(lang.String(), "en-US") {
		return unit.Metric()
	}
	return unit.US()
}

// hold remembers the invented car at hand as it is.
func (s *Page) hold() {
	s.example, s.tried = job.Job{}, job.Job{}
	if s.Job.Example != "" {
		s.example, s.tried = s.Job.Clone(), s.Job.Clone()
	}
}

// takeOver makes the invented car at hand the user's own as soon as one of its numbers
// is typed over: of the invented nothing may count beside a real one. What was there
// can be brought back.
func (s *Page) takeOver() {
	if !s.Job.Overwrites(s.example) {
		s.tried = s.Job.Clone()
		return
	}
	before := s.tried
	s.dropLent()
	s.Job = job.Own(time.Now(), s.Job, s.tried)
	s.hold()
	s.units = nil
	s.history.start(s.Job)
	s.previous, s.owned = &before, true
	call(s.onReplaced)
	s.SyncInputs()
}

// TookOver tells whether the job at hand began as somebody typed over an invented one,
// which can still be brought back.
func (s *Page) TookOver() bool { return s.owned && s.previous != nil }

// Example returns a new job of the invented car.
func (s *Page) Example(name string) job.Job {
	for _, j := range job.Examples(time.Now()) {
		if j.Example == name {
			return s.titled(j)
		}
	}
	panic("page: no example " + name)
}

// titled calls an invented car by its name in the language that is spoken.
func (s *Page) titled(j job.Job) job.Job {
	if j.Example != "" {
		j.Title = s.TitleOfExample(j)
	}
	return j
}

// TitleOfExample is the name of an invented car, which says that it is one.
func (s *Page) TitleOfExample(j job.Job) string { return s.Words.T("example." + j.Example) }

// Glance shows the two needles of a job as they were typed.
func (s *Page) Glance(j job.Job) string {
	e := j.Entry()
	return s.Needles(e.Low, e.High, e.Pressure)
}

// Needles shows two needles as they were typed; one that was not is not mentioned.
func (s *Page) Needles(low, high string, in unit.Unit) string {
	key := "readings.example.glance"
	switch {
	case low == "" && high == "":
		key += "_none"
	case high == "":
		key += "_low"
	case low == "":
		key += "_high"
	}
	return s.Words.T(key, "low", low, "high", high, "unit", s.Words.T("unit."+string(in)))
}
