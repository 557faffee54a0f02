package page

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// cautionSign marks a caution by its form.
const cautionSign = `<svg viewBox="0 0 20 20" aria-hidden="true"><path d="M10 2.5 18.5 17.5h-17z" fill="none" stroke="currentColor" stroke-width="2" stroke-linejoin="round"/><path d="M10 8v4.500M10 14.700v.6" stroke="currentColor" stroke-width="2" stroke-linecap="round"/></svg>`

// Cautions lists what to mind, where the hand is. Without codes it is nothing.
func (s *Page) Cautions(id string, codes []string) app.UI {
	if len(codes) == 0 {
		return nil
	}
	items := make([]app.UI, len(codes))
	for i, c := range codes {
		items[i] = app.Li().DataSet("caution", c).Body(app.Raw(cautionSign), app.Span().Text(s.Words.Caution(c)))
	}
	return app.Ul().ID(id).Class("cautions").Aria("label", s.Words.T("readings.cautions")).Body(items...)
}
