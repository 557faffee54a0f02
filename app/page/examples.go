package page

import (
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// The invented car of a first visit, by the units a reader is used to
// (judgement: pounds and °F where the browser speaks American English).
const (
	firstMetric = "small_hatchback_poor_air"
	firstUS     = "taxi_air_inside"
)

// firstExample is the invented car of a first visit.
func firstExample() job.Job {
	if strings.HasPrefix(app.Window().Get("navigator").Get("language").String(), "en-US") {
		return Example(firstUS)
	}
	return Example(firstMetric)
}

// Example returns a new job of the invented car.
func Example(name string) job.Job {
	for _, j := range job.Examples(time.Now()) {
		if j.Example == name {
			return j
		}
	}
	panic("page: no example " + name)
}

// Glance shows the two needles of a job as they were typed.
func (s *Page) Glance(j job.Job) string {
	side := func(q string) string {
		r := j.Before.Readings[car.Quantity(q)]
		if r.Swing {
			return s.Words.T("number.range", "lo", r.Lo, "hi", r.Hi)
		}
		return r.Text
	}
	return s.Words.T("readings.example.glance", "low", side("low"), "high", side("high"),
		"unit", s.Words.T("unit."+string(j.Units.For(unit.GaugePressure))))
}
