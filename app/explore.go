package app

import "github.com/maxence-charriere/go-app/v10/pkg/app"

type explorePage struct {
	app.Compo
	Rev int

	s *session
}

func newExplore(s *session) app.Composer { return &explorePage{Rev: s.rev, s: s} }

func (p *explorePage) Render() app.UI { return emptyPlace(p.s, "explore") }
