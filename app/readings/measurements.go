package readings

import (
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// measurementsPanel holds every further measurement, the most telling for this case
// first, each with how it is made.
type measurementsPanel struct {
	app.Compo
	Lang string
	Job  int // revision of what it shows

	s *Place
	// order is kept while the panel is used: a field that moves under the finger
	// is worse than one out of rank. It is renewed when the panel opens.
	order []car.Quantity
}

// measureOrder is the order before there is an answer to rank by. The vent stands with
// the needles.
var measureOrder = slices.DeleteFunc(car.Measurements(), func(q car.Quantity) bool { return q == car.Vent })

// rank puts the made measurements first, then the model's order, then the rest.
func (p *measurementsPanel) rank() {
	var made, asked, rest []car.Quantity
	seen := map[car.Quantity]bool{car.Low: true, car.High: true, car.Vent: true}
	for _, q := range measureOrder {
		if p.s.Made(q) {
			made, seen[q] = append(made, q), true
		}
	}
	if p.s.Answer().State == page.Answered {
		for _, n := range p.s.Answer().Report.Next {
			if !seen[n.Quantity] {
				asked, seen[n.Quantity] = append(asked, n.Quantity), true
			}
		}
	}
	for _, q := range measureOrder {
		if !seen[q] {
			rest = append(rest, q)
		}
	}
	p.order = append(append(made, asked...), rest...)
}

func (p *measurementsPanel) Render() app.UI {
	s, w := p.s, p.s.Words
	n := 0
	for _, q := range measureOrder {
		if s.Made(q) {
			n++
		}
	}
	return app.Section().Class("card more").Aria("label", w.T("readings.more")).Body(
		app.Details().ID("more").Class("settings").Open(s.measuring).Body(
			app.Summary().Body(app.Span().Text(w.T("readings.more")), app.Span().Class("now").Hidden(n == 0).Text(w.T("readings.more_some", "n", n))),
			app.Div().Class("measures").Body(p.measurements()...),
		).On("toggle", p.toggled),
	)
}

// measurements are made only while the panel is open: they are half of the page.
func (p *measurementsPanel) measurements() []app.UI {
	if !p.s.measuring {
		p.order = nil
		return nil
	}
	if p.order == nil {
		p.rank()
	}
	var items []app.UI
	for _, q := range p.order {
		if q == car.Resting && p.s.Job.Before.Engine == job.EngineOff {
			continue // it is what the needles show
		}
		items = append(items, p.measurement(q))
	}
	return items
}

func (p *measurementsPanel) toggled(ctx app.Context, _ app.Event) {
	p.s.measuring = ctx.JSSrc().Get("open").Bool()
}

// measurement is one line: what it is, which unfolds how it is made, and its
// number.
func (p *measurementsPanel) measurement(q car.Quantity) app.UI {
	s, w := p.s, p.s.Words
	id := string(q)
	return app.Div().Class("measure").DataSet("quantity", id).Body(
		app.Details().Body(
			app.Summary().Body(app.Span().ID(id+"-name").Text(w.T("quantity."+id+".name")), app.Span().Class("sr").Text(w.T("readings.how"))),
			app.P().Class("hint").Text(w.T("quantity."+id+".how")),
		),
		p.control(q),
		s.Messages(page.TextOf(present.FieldID(q))),
		app.If(q == car.Resting, func() app.UI { return s.rested("") }),
	)
}

// rested is what belongs to a resting pressure: the temperature of the car and whether
// all of it had come to that. prefix is that of its ids: "" is the first on the page.
func (s *Place) rested(prefix string) app.UI {
	outside := ""
	if k := s.Case().Weather.Ambient; k > 0 {
		outside, _ = s.Voice().Number(k, unit.Temperature)
	}
	return app.Div().Class("tight rested").Body(
		s.Field("readings", page.Text{Field: present.Soak, Again: prefix != ""}, outside),
		s.soaked(prefix),
	)
}

// soaked is the tick that all of the car had come to its temperature.
func (s *Place) soaked(prefix string) app.UI {
	id := prefix + "soaked"
	return app.Label().Class("tick").For(id).Body(
		app.Input().ID(id).Type("checkbox").Checked(s.Job.Repair.Soaked).OnChange(func(ctx app.Context, _ app.Event) {
			s.Job.Repair.Soaked = ctx.JSSrc().Get("checked").Bool()
			s.Edited()
		}, app.EventScope(id)),
		app.Span().Text(s.Words.T("readings.soaked")))
}

func (p *measurementsPanel) control(q car.Quantity) app.UI {
	s, w := p.s, p.s.Words
	id := present.FieldID(q)
	if q != car.SightGlass {
		return app.Label().Class("entry").For(string(id)).Body(
			s.Input(page.TextOf(id)).Placeholder("–").Aria("labelledby", string(id)+"-name"),
			app.Span().Class("unit").Text(s.UnitBeside(page.TextOf(id))),
		)
	}
	text := func(c string) string {
		if c == "" {
			return w.T("readings.optional")
		}
		return w.T("sight_glass." + c)
	}
	return page.Menu(string(id), append([]string{""}, job.SightGlassChoices...), s.Job.Before.Readings[q].Choice, text, func(c string) {
		s.Job.Before.SetReading(q, job.Reading{Choice: c})
		s.Edited()
	}).Aria("labelledby", string(id)+"-name")
}
