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
	years     years
	loop      loopPicture
	behind    behind
	measuring bool // the further measurements are unfolded
	held      *held
	first     string // as noted last

	announceRev, weatherRev, yearsRev int
}

// New returns the place. It listens to the page for as long as that is open.
func New(pg *page.Page) *Place {
	s := &Place{Page: pg, weather: weather{ask: pg.Questions().Own()}, years: years{ask: pg.Questions().Own()}, behind: newBehind()}
	pg.OnPlan(s.announceSoon)
	pg.OnPlan(s.askWeather)
	pg.OnPlan(s.askYears)
	pg.OnEdited(s.behind.note)
	pg.OnEdited(s.letGo)
	pg.OnEdited(s.noteFirst)
	pg.OnReplaced(func() { s.held = nil })
	return s
}

// View draws the place.
func (s *Place) View() app.Composer {
	return &view{Lang: s.Lang(), Job: s.JobRev(), Offline: page.ShellField("offline"), Answer: s.Answer().Rev, Plan: s.Answer().PlanRev,
		Announced: s.announceRev, Weather: s.weatherRev, Years: s.yearsRev, s: s}
}

// view is the place where the work starts: what was read on one side, what it means
// on the other. It is in the order in which it is read on a phone, where it is one
// column: readings, verdict, next step, ranking, picture, reasons, then what is folded.
// On a wider screen the readings and what is folded stand beside the rest.
type view struct {
	app.Compo
	Lang, Offline                                string
	Job, Answer, Plan, Announced, Weather, Years int // revisions of what it shows

	s *Place
}

func (v *view) Render() app.UI {
	s := v.s
	due := func(id string) int { return s.behind.due(id, s.Answer()) }
	next := &nextPanel{Lang: s.Lang(), Plan: v.Plan, s: s}
	if s.held != nil {
		next.Job, next.Answer = v.Job, v.Answer
	}
	return app.Div().Class("bench").Body(
		&bar{Lang: s.Lang(), Text: s.inFewWords(), s: s},
		&entryPanel{Lang: s.Lang(), Job: v.Job, Offline: v.Offline, Answer: v.Answer, s: s},
		app.Div().Class("means").Body(
			app.Div().Class("said").Body(
				&answerPanel{Lang: s.Lang(), Answer: v.Answer, Plan: v.Plan, Announced: v.Announced, s: s},
				next,
				&rankingPanel{Lang: s.Lang(), Answer: due("odds"), Plan: v.Plan, s: s},
				&earlierPanel{Lang: s.Lang(), Job: v.Job, Answer: due("earlier"), Stored: s.StoredRev(), Years: v.Years, s: s},
			),
			app.Div().Class("shown").Body(
				&picturePanel{Lang: s.Lang(), Answer: due("picture"), Plan: v.Plan, Weather: v.Weather, s: s},
				&reasonsPanel{Lang: s.Lang(), Plan: v.Plan, s: s},
			),
		),
		app.Div().Class("folded").Body(
			&settingsPanel{Lang: s.Lang(), Job: v.Job, s: s},
			&measurementsPanel{Lang: s.Lang(), Job: v.Job, s: s},
			&sharePanel{Lang: s.Lang(), Car: s.Case().Car, s: s},
		),
	)
}
