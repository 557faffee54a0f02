package app

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// readingsPage is the place where the work starts: what was read on one side,
// what it means on the other. On a phone the columns dissolve into one (see
// readings.css), in the order readings, picture,
// answer, next measurement, more, keep.
type readingsPage struct {
	app.Compo
	Rev int

	s *session
}

// Revisions only grow, so their sum changes with any of them.
func newReadings(s *session) app.Composer {
	return &readingsPage{Rev: s.rev + s.answerRev + s.planRev + s.aloudRev, s: s}
}

func (p *readingsPage) Render() app.UI {
	s := p.s
	return app.Div().Class("bench").Body(
		app.Div().Class("left").Body(
			&entryPanel{Rev: s.rev, s: s},
			&morePanel{Rev: s.rev, s: s},
			&keepPanel{Car: s.current.Car, s: s},
		),
		app.Div().Class("right").Body(
			&picturePanel{Rev: s.answerRev + s.planRev, s: s},
			&answerPanel{Rev: s.answerRev + s.planRev + s.aloudRev, s: s},
			&nextPanel{Rev: s.planRev, s: s},
		),
	)
}
