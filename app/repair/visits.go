package repair

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/refrig/service"
)

// The car's earlier visits: what the same car read when it was in order is a better
// ruler than what others of its kind read. A job belongs to a car by the name that
// somebody gave the car.

// ofThisCar says which car this was, whether it was in order, and what it read before.
func (c *stepCard) ofThisCar() app.UI {
	s, w := c.s, c.s.Words
	return app.Div().Class("tight").Body(
		app.H3().Text(w.T("jobs.car.title")),
		app.Div().Class("field").Body(app.Label().For("of-car").Text(w.T("jobs.car.name")),
			s.line("of-car", &s.Job.OfCar, job.MaxTitle, ""), app.P().Class("hint").Text(w.T("jobs.car.how"))),
		app.Div().Class("row chips").Body(
			page.Chip("sound-before", w.T("jobs.car.sound_before"), s.Job.Before.Sound, func() { s.Job.Before.Sound = !s.Job.Before.Sound; s.Edited() }),
			app.If(!s.Job.After.Empty(), func() app.UI {
				return page.Chip("sound-after", w.T("jobs.car.sound_after"), s.Job.After.Sound, func() { s.Job.After.Sound = !s.Job.After.Sound; s.Edited() })
			}),
		),
		app.If(s.Job.OfCar != "", func() app.UI {
			return app.Div().Class("row").Body(app.A().ID("next-visit").Class("btn").Href(page.Href("/")).Text(w.T("jobs.car.next")).
				OnClick(func(app.Context, app.Event) { s.NextVisit() }))
		}),
		app.If(s.Job.OfCar != "", c.visits),
	)
}

func (c *stepCard) visits() app.UI {
	s, w := c.s, c.s.Words
	var items []app.UI
	for _, j := range s.VisitsOf(s.Job.OfCar) {
		for _, v := range []struct {
			when string
			at   *job.Visit
		}{{"before", &j.Before}, {"after", &j.After}} {
			if v.at.Empty() {
				continue
			}
			date := w.Day(j.Created.Local())
			about := w.T("jobs.car.visit_"+v.when, "date", date)
			items = append(items, app.Li().Body(
				app.Div().Body(app.Strong().Text(about), app.P().Class("hint").Text(s.VisitRead(j.Units, *v.at))),
				app.Button().Type("button").Class("chip").Attr("aria-pressed", page.Pressed(v.at.Sound)).
					Aria("label", w.T("jobs.car.mark_label", "visit", about)).Text(w.T("jobs.car.mark")).
					OnClick(func(app.Context, app.Event) {
						v.at.Sound = !v.at.Sound
						if err := s.SaveOther(j); err != nil {
							s.status(s.Voice().Error(err).Sentences())
						}
						s.rev++
					}, app.EventScope(j.ID, v.when, v.at.Sound)),
			))
		}
	}
	if len(items) == 0 {
		return app.P().ID("visits").Class("soft").Text(w.T("jobs.car.no_visits"))
	}
	return app.Ul().ID("visits").Class("jobs").Body(items...)
}

// soundIfProved marks the visit after the repair as one of a car in order, or takes the
// mark off: the step was ticked, and the proof says so.
func (s *Place) soundIfProved(done bool) {
	p := s.proof()
	s.Job.After.Sound = done && p.Ready() && p.Is.Outcome == service.Proved
}
