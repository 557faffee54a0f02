package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/refrig/car"
)

// arrive looks at the address: a fragment may carry a job. It is opened once and
// taken out of the address, so that going on working and reloading keeps the
// work and not the link.
func (s *session) arrive(ctx app.Context) {
	u := ctx.Page().URL()
	if u.Fragment == "" || !job.IsLink(u.Fragment) {
		return
	}
	fragment := u.Fragment
	u.Fragment = ""
	ctx.Page().ReplaceURL(u)
	j, warnings, err := job.OpenLink(fragment)
	if err != nil {
		s.say(notice{text: joinSentences(s.voice().Error(err))})
		return
	}
	s.put(ctx, j)
	s.keeper.dirty = true
	s.save(ctx)
	text := s.words.T("shell.banner.link_opened")
	for _, w := range warnings {
		text += " " + joinSentences(s.voice().Warning(w))
	}
	s.say(notice{text: text})
}

// link is the address that carries the job.
func (s *session) link() string {
	u := app.Window().URL()
	u.RawQuery, u.Fragment = "", s.job.Link()
	return u.String()
}

// keepPanel holds what is done with the readings beside reading them: the
// cautions of coupling the gauges, the link, the print-out.
type keepPanel struct {
	app.Compo
	Car car.Spec // the cautions depend on it

	s         *session
	shared    string // what became of sharing
	linkShown string // the link, where it could not be copied
}

func (p *keepPanel) Render() app.UI {
	w := p.s.words
	return app.Section().Class("card keep").Aria("label", w.T("readings.share.title")).Body(
		p.beforeCoupling(),
		app.Div().Class("row").Body(
			app.Button().ID("share").Type("button").Class("btn").Text(w.T("readings.share.copy")).OnClick(p.share),
			app.Button().ID("print").Type("button").Class("btn").Text(w.T("readings.share.print")).
				OnClick(func(app.Context, app.Event) { app.Window().Call("print") }),
		),
		app.P().ID("share-said").Role("status").Class("small").Text(p.shared),
		app.If(p.linkShown != "", func() app.UI {
			return app.Div().Class("entry").Body(
				app.Input().ID("share-link").Type("text").ReadOnly(true).Aria("label", w.T("readings.share.link")).Value(p.linkShown))
		}),
	)
}

// share copies the link; where the browser does not allow it, shows it.
func (p *keepPanel) share(ctx app.Context, _ app.Event) {
	link, w := p.s.link(), p.s.words
	show := func(ctx app.Context) {
		p.shared, p.linkShown = w.T("readings.share.failed"), link
		ctx.Defer(func(app.Context) { focus("share-link") })
	}
	clipboard := app.Window().Get("navigator").Get("clipboard")
	if !clipboard.Truthy() { // an insecure origin has none
		show(ctx)
		return
	}
	done := app.FuncOf(func(app.Value, []app.Value) any {
		ctx.Dispatch(func(app.Context) { p.shared, p.linkShown = w.T("readings.share.copied"), "" })
		return nil
	})
	refused := app.FuncOf(func(app.Value, []app.Value) any {
		ctx.Dispatch(show)
		return nil
	})
	clipboard.Call("writeText", link).Call("then", done, refused)
}
