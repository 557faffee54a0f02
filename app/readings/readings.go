package readings

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/page"
)

// Place is the page with what this place keeps while one is elsewhere.
type Place struct {
	*page.Page

	announced announcement
	weather   weather
	measuring bool // the further measurements are unfolded

	announceRev, weatherRev, measureRev int
}

// New returns the place. It listens to the page for as long as that is open.
func New(pg *page.Page) *Place {
	s := &Place{Page: pg, weather: weather{ask: pg.Questions()}}
	pg.OnPlan(s.announceSoon)
	pg.OnPlan(s.askWeather)
	return s
}

// View draws the place.
func (s *Place) View() app.Composer {
	return &view{Job: s.JobRev(), Answer: s.Answer().Rev, Plan: s.Answer().PlanRev,
		Announced: s.announceRev, Weather: s.weatherRev, Measure: s.measureRev, s: s}
}

// view is the place where the work starts: what was read on one side, what it means
// on the other. On a phone the columns dissolve into one (see readings.css), in the
// order readings, picture, answer, next measurement, further ones, sharing.
type view struct {
	app.Compo
	Job, Answer, Plan, Announced, Weather, Measure int // revisions of what it shows

	s *Place
}

func (v *view) Render() app.UI {
	s := v.s
	return app.Div().Class("bench").Body(
		app.Div().Class("left").Body(
			&entryPanel{Job: v.Job, Answer: v.Answer, s: s},
			&measurementsPanel{Job: v.Job, Measure: v.Measure, s: s},
			&sharePanel{Car: s.Case().Car, s: s},
		),
		app.Div().Class("right").Body(
			&picturePanel{Answer: v.Answer, Plan: v.Plan, Weather: v.Weather, s: s},
			&answerPanel{Answer: v.Answer, Plan: v.Plan, Announced: v.Announced, s: s},
			&nextPanel{Plan: v.Plan, s: s},
		),
	)
}
