package practice

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/page"
	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/practice"
)

// because says why the readings are what they are: what the condition moves on this
// very car and by how much, which is the model's to say, and why, which is the words'.
// A reason is given only for a reading that the model moves in its direction.
func (p *view) because() app.UI {
	w, puzzle := p.s.Words, p.desk.Puzzle
	causes := puzzle.Causes()
	body := []app.UI{app.H3().ID("because-title").Text(w.T("practice.because.title"))}
	if len(causes) == 0 {
		return app.Section().ID("because").Class("tight").Aria("labelledby", "because-title").Body(append(body,
			app.P().Text(w.T("practice.because.healthy")))...)
	}
	var names []string
	for _, id := range causes {
		names = append(names, p.s.Words.InText(id))
		body = append(body, app.P().Class("reason").Text(w.T("practice.reason."+string(id)+".why")))
	}
	wrong := names[0]
	if len(names) > 1 {
		wrong = w.T("practice.because.both", "first", names[0], "second", names[1])
	}
	about, sound, found := w.T("practice.because.about", "condition", wrong), "practice.because.sound", "practice.because.found"
	if causes[0] == car.Gauge {
		about, sound, found = w.T("practice.because.about_gauge"), "practice.because.truly", "practice.because.shows"
	}
	shifts := puzzle.Shifts()
	body = append(body, app.P().Class("soft small").Text(about), p.besides(shifts, w.T(sound), w.T(found)),
		p.shiftTable(causes, shifts, w.T(sound), w.T(found)))
	for _, id := range causes {
		body = append(body,
			app.Div().Class("tight").Body(
				p.pages.Row(id, "row", app.Span().Text(w.T("practice.because.page", "condition", p.s.Words.ConditionName(id)))),
				p.pages.Page(id)))
	}
	return app.Section().ID("because").Class("tight").Aria("labelledby", "because-title").Body(body...)
}

// besides draws both needles twice: the car without the condition, and with it.
func (p *view) besides(shifts []practice.Shift, sound, found string) app.UI {
	without, with := car.Case{Readings: car.Readings{}}, car.Case{Readings: car.Readings{}}
	for _, x := range shifts {
		without.Readings[x.Quantity], with.Readings[x.Quantity] = x.Sound, x.Found
	}
	one := func(id string, c car.Case, title string) app.UI {
		f, err := chart.Gauges(page.ChartReading(c), car.Interval{}, car.Interval{}, p.s.ChartOptions(id))
		if err != nil {
			return app.Figure().Body(p.s.Failed(err))
		}
		return app.Figure().Body(app.FigCaption().Text(title), app.Raw(f.SVG))
	}
	return app.Div().ID("beside").Class("beside").Body(one("beside-sound", without, sound), one("beside-found", with, found))
}

// shiftTable lists what moves, with the reasons that hold for its direction, and below
// it what does not.
func (p *view) shiftTable(causes []car.ConditionID, shifts []practice.Shift, sound, found string) app.UI {
	w := p.s.Words
	var rows []app.UI
	var held []string
	for _, x := range shifts {
		name := p.s.Words.QuantityName(x.Quantity)
		if x.Way == 0 {
			held = append(held, w.T("quantity."+string(x.Quantity)+".in_text"))
			continue
		}
		way := wayName(x.Way)
		var reasons []app.UI
		for _, id := range causes {
			if key := reasonKey(id, x); w.Has(key) {
				reasons = append(reasons, app.Div().Class("soft small").Text(w.T(key)))
			}
		}
		rows = append(rows, app.Tr().DataSet("quantity", string(x.Quantity)).DataSet("way", way).Body(
			app.Th().Scope("row").Text(name),
			app.Td().Class("n").Text(p.s.Voice().Reading(x.Quantity, x.Sound)),
			app.Td().Class("n").Text(p.s.Voice().Reading(x.Quantity, x.Found)),
			app.Td().Text(w.T("practice.because."+way))))
		if len(reasons) > 0 { // a row of its own: beside the numbers it has no room on a phone
			rows = append(rows, app.Tr().Class("reasons").Body(app.Td().ColSpan(4).Body(reasons...)))
		}
	}
	if len(rows) == 0 {
		return app.P().ID("shifts").Text(w.T("practice.because.none"))
	}
	return app.Div().ID("shifts").Class("tight").Body(
		app.Table().Class("shifts").Body(
			app.Caption().Class("sr").Text(w.T("practice.because.title")),
			app.THead().Body(app.Tr().Body(
				app.Th().Scope("col").Text(w.T("practice.because.what")),
				app.Th().Scope("col").Class("n").Text(sound), app.Th().Scope("col").Class("n").Text(found),
				app.Th().Scope("col").Text(w.T("practice.because.way")))),
			app.TBody().Body(rows...)),
		app.P().Class("soft small").Hidden(len(held) == 0).Text(w.T("practice.because.held", "list", p.s.Words.List(held))))
}

// wayName is the part of a key that names a direction.
func wayName(way int) string {
	if way > 0 {
		return "up"
	}
	return "down"
}

// reasonKey is the key of the reason why a condition moves a reading so.
func reasonKey(id car.ConditionID, x practice.Shift) string {
	return "practice.reason." + string(id) + "." + string(x.Quantity) + "." + wayName(x.Way)
}
