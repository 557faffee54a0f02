package readings

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
)

// sharePanel holds what is done with the readings beside reading them: the
// cautions of coupling the gauges, the link, the print-out.
type sharePanel struct {
	app.Compo
	Lang string
	Car  car.Spec // the cautions depend on it

	s         *Place
	shared    string // what became of sharing
	linkShown string // the link, where it could not be copied
}

func (p *sharePanel) Render() app.UI {
	w := p.s.Words
	button := func(id, key string, tap app.EventHandler) app.UI {
		return app.Button().ID(id).Type("button").Class("btn").Text(w.T(key)).OnClick(tap)
	}
	first := "readings.share.copy"
	if browser.CanShare() {
		first = "readings.share.share"
	}
	return app.Section().Class("card keep").Aria("label", w.T("readings.share.title")).Body(
		p.beforeCoupling(),
		app.Details().ID("keep").Class("settings").Body(append([]app.UI{app.Summary().Text(w.T("readings.share.title"))}, p.hand(button, first)...)...),
	)
}

// hand are the ways to hand the readings on.
func (p *sharePanel) hand(button func(id, key string, tap app.EventHandler) app.UI, first string) []app.UI {
	w := p.s.Words
	return []app.UI{
		app.Div().Class("row").Body(
			button("share", first, p.share),
			app.If(browser.CanShare(), func() app.UI { return button("share-copy", "readings.share.copy", p.copy) }),
			app.If(browser.CanPrint(), func() app.UI { return button("print", "readings.share.print", browser.Print) }),
		),
		app.P().Class("hint").Body(app.Text(w.T("readings.share.holds")+" "),
			app.A().Href(page.Href("/job")).Text(w.T("readings.share.whole"))),
		app.P().ID("share-said").Role("status").Class("small").Text(p.shared),
		app.If(p.linkShown != "", func() app.UI {
			return app.Div().Class("entry").Body(
				app.Input().ID("share-link").Type("text").ReadOnly(true).Aria("label", w.T("readings.share.link")).Value(p.linkShown))
		}),
	}
}

// share hands the link to the readings to the device's own sheet, or copies it.
func (p *sharePanel) share(ctx app.Context, _ app.Event) {
	link := p.s.LinkReadings()
	browser.Share(ctx, p.s.Words.T("shell.name"), link, p.became(link))
}

func (p *sharePanel) copy(ctx app.Context, _ app.Event) {
	link := p.s.LinkReadings()
	then := p.became(link)
	browser.CopyText(ctx, link,
		func(ctx app.Context) { then(ctx, browser.SharedCopied) }, func(ctx app.Context) { then(ctx, browser.SharedNot) })
}

// became says what became of the link; one that could not be handed on is shown.
func (p *sharePanel) became(link string) func(app.Context, browser.Shared) {
	w := p.s.Words
	return func(ctx app.Context, how browser.Shared) {
		p.linkShown = ""
		switch how {
		case browser.SharedAway:
			p.shared = w.T("readings.share.sent")
		case browser.SharedCopied:
			p.shared = w.T("readings.share.copied")
		case browser.SharedEnded:
			p.shared = ""
		default:
			p.shared, p.linkShown = w.T("readings.share.failed"), link
			ctx.Defer(func(app.Context) { browser.Focus("share-link") })
		}
	}
}

// beforeCoupling are all cautions of reading gauges on this car.
func (p *sharePanel) beforeCoupling() app.UI {
	s, w := p.s, p.s.Words
	return app.Details().ID("before-coupling").Class("settings").Body(
		app.Summary().Text(w.T("readings.before_coupling")),
		s.Cautions("cautions-all", present.Cautions(present.StepRead, p.Car)),
	)
}
