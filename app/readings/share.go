package readings

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
)

// sharePanel holds what is done with the readings beside reading them: the
// cautions of coupling the gauges, the link, the print-out.
type sharePanel struct {
	app.Compo
	Car car.Spec // the cautions depend on it

	s         *Place
	shared    string // what became of sharing
	linkShown string // the link, where it could not be copied
}

func (p *sharePanel) Render() app.UI {
	w := p.s.Words
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
func (p *sharePanel) share(ctx app.Context, _ app.Event) {
	link, w := p.s.Link(""), p.s.Words
	page.CopyText(ctx, link,
		func(app.Context) { p.shared, p.linkShown = w.T("readings.share.copied"), "" },
		func(ctx app.Context) {
			p.shared, p.linkShown = w.T("readings.share.failed"), link
			ctx.Defer(func(app.Context) { page.Focus("share-link") })
		})
}

// beforeCoupling are all cautions of reading gauges on this car.
func (p *sharePanel) beforeCoupling() app.UI {
	s, w := p.s, p.s.Words
	return app.Details().ID("before-coupling").Class("settings").Body(
		app.Summary().Text(w.T("readings.before_coupling")),
		s.Cautions("cautions-all", present.Cautions(present.StepRead, p.Car)),
	)
}
