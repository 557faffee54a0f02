package app

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
		return example(firstUS)
	}
	return example(firstMetric)
}

// example returns a new job of the invented car.
func example(name string) job.Job {
	for _, j := range job.Examples(time.Now()) {
		if j.Example == name {
			return j
		}
	}
	panic("app: no example " + name)
}

// exampleLine says whose readings these are, and leads to others.
type exampleLine struct {
	app.Compo
	Of exampleShown

	s    *session
	open bool // the list of invented cars
}

// exampleShown is what the line shows, for go-app to compare.
type exampleShown struct {
	Title, Example string
	Empty, Undo    bool
}

func (s *session) exampleShown() exampleShown {
	return exampleShown{s.job.Title, s.job.Example, s.job.Before.Empty(), s.before != nil}
}

func (p *exampleLine) Render() app.UI {
	s, w := p.s, p.s.words
	about := s.job.Title
	switch {
	case s.job.Example != "":
		about = w.T("readings.example.shown", "title", s.job.Title)
	case about == "":
		about = w.T("readings.example.own")
	}
	label := "readings.example.others"
	if p.open {
		label = "readings.example.hide"
	}
	return app.Div().Class("tight").Body(
		app.Div().Class("example").Body(
			app.P().ID("about").Text(about),
			app.Button().ID("examples").Type("button").Class("btn quiet").Aria("expanded", pressed(p.open)).
				Text(w.T(label)).OnClick(p.toggle),
			app.If(!s.job.Before.Empty(), func() app.UI {
				return app.Button().ID("start-empty").Type("button").Class("btn quiet").Text(w.T("readings.example.start")).OnClick(p.startEmpty)
			}),
			app.If(s.before != nil, func() app.UI {
				return app.Button().ID("undo").Type("button").Class("btn quiet").Text(w.T("readings.example.undo")).
					OnClick(func(ctx app.Context, _ app.Event) { s.undo(ctx) })
			}),
		),
		app.If(p.open, p.list),
	)
}

func (p *exampleLine) toggle(app.Context, app.Event) { p.open = !p.open }

func (p *exampleLine) list() app.UI {
	s := p.s
	var cars []app.UI
	for _, j := range job.Examples(time.Now()) {
		cars = append(cars, app.Button().Type("button").Class("chip").DataSet("example", j.Example).
			Attr("aria-pressed", pressed(j.Example == s.job.Example)).
			Body(app.Span().Text(strings.TrimPrefix(j.Title, s.words.T("readings.example.prefix"))), app.Small().Text(s.glance(j))).
			OnClick(func(ctx app.Context, _ app.Event) {
				p.open = false
				s.lend(ctx, example(j.Example)) // a new one: the one tapped before may be at work
			}, app.EventScope(j.Example)))
	}
	return app.Div().Class("cars").Role("group").Aria("label", s.words.T("readings.example.list")).Body(cars...)
}

// glance shows the two needles of a job as they were typed.
func (s *session) glance(j job.Job) string {
	side := func(q string) string {
		r := j.Before.Readings[car.Quantity(q)]
		if r.Swing {
			return s.words.T("number.range", "lo", r.Lo, "hi", r.Hi)
		}
		return r.Text
	}
	return s.words.T("readings.example.glance", "low", side("low"), "high", side("high"),
		"unit", s.words.T("unit."+string(j.Units.For(unit.GaugePressure))))
}

// startEmpty clears the bench. The job that was on it stays on the device, if it
// was anybody's.
func (p *exampleLine) startEmpty(ctx app.Context, _ app.Event) {
	j := job.New(time.Now(), p.s.job.Units)
	j.Shop = p.s.job.Shop
	p.s.lend(ctx, j)
	p.s.ctx.Defer(func(app.Context) { focus("low") })
}
