package app

import "github.com/maxence-charriere/go-app/v10/pkg/app"

type practicePage struct {
	app.Compo
	Rev int

	s *session
}

func newPractice(s *session) app.Composer { return &practicePage{Rev: s.rev, s: s} }

func (p *practicePage) Render() app.UI { return emptyPlace(p.s, "practice") }
