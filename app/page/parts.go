package page

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/present"
	"twoneedles/chart"
)

// The parts that the places are made of. go-app keeps the handler of the first drawing
// while an element keeps its id: what is handed over here looks at the page when it is
// called, not at what was there as it was drawn.

// Button is a button that does something.
func Button(id, class, text string, do func()) app.HTMLButton {
	return app.Button().ID(id).Type("button").Class(class).Text(text).
		OnClick(func(app.Context, app.Event) { do() }, app.EventScope(id))
}

// Chip is a choice that is on or off.
func Chip(id, text string, on bool, tap func()) app.HTMLButton {
	return Button(id, "chip", text, tap).Attr("aria-pressed", Pressed(on))
}

// Typing calls put with what stands in an input, at every key.
func Typing(put func(text string)) app.EventHandler {
	return func(ctx app.Context, _ app.Event) { put(ctx.JSSrc().Get("value").String()) }
}

// Cell is an input in a table, with its label for those who hear the page.
func Cell(id, text, label, note string, problems []present.Problem, put func(text string)) app.UI {
	return app.Td().Body(app.Div().Class("entry").Body(BareInput(id, "text", text, note, problems).
		Aria("label", label).OnInput(Typing(put), app.EventScope(id))))
}

// Menu is a choice of one item, "" among them.
func Menu(id string, items []string, now string, text func(item string) string, choose func(item string)) app.HTMLSelect {
	options := make([]app.UI, len(items))
	for i, item := range items {
		options[i] = app.Option().Attr("value", item).Selected(item == now).Text(text(item))
	}
	return app.Select().ID(id).Body(options...).OnChange(func(ctx app.Context, _ app.Event) {
		// go-app drops an empty attribute, so "" has no value but its text: take the
		// place in the list instead.
		choose(items[ctx.JSSrc().Get("selectedIndex").Int()])
	}, app.EventScope(id))
}

// Told is a message: what, why, what next.
func Told(m present.Message) []app.UI {
	return []app.UI{app.P().Body(app.Strong().Text(m.What)), app.P().Text(m.Why), app.P().Text(m.Next)}
}

// Failed says why there is no picture, or no page.
func (s *Page) Failed(err error) app.UI { return app.P().Class("msg").Text(s.Voice().Error(err).What) }

// Drawn is a picture with its text below, or why there is none.
func (s *Page) Drawn(f chart.Figure, err error) app.UI {
	if err != nil {
		return s.Failed(err)
	}
	return app.Figure().Body(app.Div().Class("drawn").Body(app.Raw(f.SVG)), s.FigureText(f))
}

// Unfolding is a picture that is made once it is unfolded.
func Unfolding(id, title string, body []app.UI, toggled func(open bool)) app.HTMLDetails {
	return app.Details().ID(id).Body(app.Summary().Class("small soft").Text(title), app.Figure().Body(body...)).
		On("toggle", func(ctx app.Context, _ app.Event) { toggled(ctx.JSSrc().Get("open").Bool()) })
}
