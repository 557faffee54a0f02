package app

import "github.com/maxence-charriere/go-app/v10/pkg/app"

type tellPage struct {
	app.Compo
	Rev int

	s *session
}

func newTell(s *session) app.Composer { return &tellPage{Rev: s.rev, s: s} }

func (p *tellPage) Render() app.UI { return emptyPlace(p.s, "tell") }
