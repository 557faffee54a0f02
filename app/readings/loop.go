package readings

import (
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/page"
	"twoneedles/chart"
	"twoneedles/chart/loop"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// loopPicture is the picture of the loop, drawn once it is unfolded and then with each answer:
// with its numbers it takes no more than the plane.
type loopPicture struct {
	open   bool
	of     int // revision of the answer it was drawn for
	figure chart.Figure
	err    error
}

// loopPart is what is read where along the loop and which parts are suspect, folded
// until it is wanted.
func (p *picturePanel) loopPart() app.UI {
	s, w := p.s, p.s.Words
	var body []app.UI
	switch {
	case !s.loop.open:
	case s.Answer().State != page.Answered:
		body = []app.UI{app.P().Class("soft").Text(w.T("readings.plane.waiting"))}
	default:
		if s.loop.of != s.Answer().Rev {
			s.drawLoop()
		}
		if s.loop.err != nil {
			body = []app.UI{s.Failed(s.loop.err)}
			break
		}
		body = []app.UI{app.Div().ID("loop-frame").Body(app.Raw(s.loop.figure.SVG)), s.FigureText(s.loop.figure)}
	}
	return page.Unfolding("loop", w.T("readings.loop"), body, func(open bool) { s.loop.open = open })
}

func (s *Place) drawLoop() {
	a := s.Answer()
	s.loop.of = a.Rev
	s.loop.err = s.weather.ask.Now(func(m *diagnose.Model) error {
		points, err := m.Loop(a.Of)
		if err != nil {
			return err
		}
		s.loop.figure, err = loop.Draw(loop.Of{Car: a.Of.Car, Read: a.Of.Readings, Points: points, Suspects: s.suspects()}, s.ChartOptions("loop-picture"))
		return err
	})
}

// suspects are what is ranked in the open, with the parts that each concerns, as the
// picture of the loop takes it. Of two things at once the parts are those of both.
func (s *Place) suspects() (list []loop.Suspect) {
	said, r := s.Said(), s.Answer().Report
	for _, c := range said.Candidates[:said.Open] {
		parts := c.ID.Parts()
		if c.ID == car.Combination {
			parts = slices.Concat(r.PairA.Parts(), r.PairB.Parts())
		}
		list = append(list, loop.Suspect{ID: c.ID, Chance: c.Chance, Parts: parts})
	}
	return list
}
