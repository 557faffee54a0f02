package app

import "github.com/maxence-charriere/go-app/v10/pkg/app"

type jobPage struct {
	app.Compo
	Rev int

	s *session
}

func newJob(s *session) app.Composer { return &jobPage{Rev: s.rev, s: s} }

func (p *jobPage) Render() app.UI { return emptyPlace(p.s, "job") }
