package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// slot names one text of the job on screen: of the job itself, of the visit before
// the repair or of the one after it. A text of the job that stands in two steps is
// the second time shown "again".
type slot struct {
	id    present.FieldID
	visit string // "", "again", "before" or "after"
}

// html is the id of the element. Before the repair it is that of the Readings
// place, which shows the same text.
func (sl slot) html() string {
	if sl.visit == "after" || sl.visit == "again" {
		return sl.visit + "-" + string(sl.id)
	}
	return string(sl.id)
}

func (sl slot) ofJob() bool { return sl.visit == "" || sl.visit == "again" }

// key is where the words of the slot are: job.field.<key>.
func (sl slot) key() string {
	if sl.visit == "after" {
		return "after_" + string(sl.id)
	}
	return string(sl.id)
}

func (s *session) visitOf(sl slot) *job.Visit {
	if sl.visit == "after" {
		return &s.job.After
	}
	return &s.job.Before
}

func (s *session) slotText(sl slot) string {
	switch v := s.visitOf(sl); {
	case sl.ofJob():
		return s.job.Text[sl.id]
	case isQuantity[sl.id]:
		return v.Readings[car.Quantity(sl.id)].Text
	default:
		return v.Text[sl.id]
	}
}

func (s *session) putSlot(sl slot, text string) {
	switch v := s.visitOf(sl); {
	case sl.ofJob():
		s.job.SetText(sl.id, text)
	case isQuantity[sl.id]:
		q := car.Quantity(sl.id)
		r := v.Readings[q]
		r.Text, r.Swing = text, false
		v.SetReading(q, r)
	default:
		v.SetText(sl.id, text)
	}
}

// slotProblems are the problems of a slot that are said beside it.
func (s *session) slotProblems(sl slot) []present.Problem {
	var all, out []present.Problem
	switch sl.visit {
	case "after":
		all = s.desk.problems[sl.id]
	case "before":
		all = s.problems[sl.id]
	default:
		if _, _, p := s.job.Number(sl.id); p != nil {
			all = append(all, *p)
		}
	}
	for _, p := range all {
		if p.Level == present.Asked || p.Level == present.Refused {
			out = append(out, p)
		}
	}
	return out
}

// slotField is a labelled text with its unit, how to get it, and its message. The
// placeholder is what is taken while nothing is typed.
func (s *session) slotField(sl slot, placeholder string) app.UI {
	f, ok := present.FieldOf(sl.id)
	if !ok {
		panic("app: no field " + string(sl.id))
	}
	w, html := s.words, sl.html()
	if placeholder == "" {
		placeholder = w.T("number.missing")
	}
	problems := s.slotProblems(sl)
	el := s.bareInput(html, s.slotMode(f), s.slotText(sl), problems).Placeholder(placeholder).
		OnInput(func(ctx app.Context, _ app.Event) {
			s.putSlot(sl, ctx.JSSrc().Get("value").String())
			s.edited(ctx)
		}, app.EventScope(html))
	how := "job.field." + sl.key() + ".how"
	return app.Div().Class("field").Body(
		app.Label().For(html).Text(w.T("job.field."+sl.key()+".name")),
		app.Div().Class("entry").Body(el, app.Span().Class("unit").Text(s.unitName(f.Kind))),
		app.If(w.Has(how), func() app.UI { return app.P().Class("hint").Text(w.Text(how, nil)) }),
		s.slotMessages(html, problems, func(ctx app.Context, text string) {
			s.putSlot(sl, text)
			s.edited(ctx)
			s.syncSlots(ctx)
			ctx.Defer(func(app.Context) { focus(html) })
		}),
	)
}

// bareInput is an input that takes anything: what cannot be read stays in it.
func (s *session) bareInput(html, mode, text string, problems []present.Problem) app.HTMLInput {
	el := app.Input().ID(html).Type("text").Attr("inputmode", mode).AutoComplete(false).
		Attr("enterkeyhint", "next").Attr("autocapitalize", "off").Spellcheck(false).MaxLength(2 * present.MaxText).Value(text)
	if len(problems) > 0 {
		el.Aria("describedby", html+"-note")
	}
	for _, p := range problems {
		if p.Level == present.Refused {
			el.Attr("aria-invalid", "true")
		}
	}
	return el
}

// slotMode chooses the keypad: a vacuum may be typed as "28 in", a mass as "1 lb 8".
func (s *session) slotMode(f present.Field) string {
	if f.Kind == unit.AbsolutePressure || f.Swing {
		return "text"
	}
	return s.inputMode(f.ID)
}

// slotMessages says what is wrong or doubtful, and what may have been meant.
func (s *session) slotMessages(html string, problems []present.Problem, take func(app.Context, string)) app.UI {
	if len(problems) == 0 {
		return nil
	}
	var items []app.UI
	for _, p := range problems {
		m := s.voice().Problem(&p)
		var offers []app.UI
		for _, o := range m.Suggest {
			if o.Text == "" {
				continue
			}
			offers = append(offers, app.Button().Type("button").Class("btn").Text(o.Words).
				OnClick(func(ctx app.Context, _ app.Event) { take(ctx, o.Text) }, app.EventScope(html, o.Text)))
		}
		items = append(items, app.Div().Class("msg").Body(
			app.P().Body(app.Strong().Text(m.What)), app.P().Text(m.Why), app.P().Text(m.Next),
			app.If(len(offers) > 0, func() app.UI { return app.Div().Body(offers...) }),
		))
	}
	return app.Div().ID(html + "-note").Class("tight").Body(items...)
}

// line is one line of free text of the job; area several.
func (s *session) line(id string, at *string, limit int, placeholder string) app.UI {
	return app.Div().Class("entry plain").Body(
		app.Input().ID(id).Type("text").AutoComplete(false).Attr("enterkeyhint", "next").MaxLength(limit).Placeholder(placeholder).Value(*at).
			OnInput(func(ctx app.Context, _ app.Event) {
				*at = ctx.JSSrc().Get("value").String()
				s.edited(ctx)
			}, app.EventScope(id)))
}

func (s *session) area(id string, at *string, rows, limit int, placeholder string) app.UI {
	return app.Textarea().ID(id).Rows(rows).MaxLength(limit).Placeholder(placeholder).Text(*at).
		OnInput(func(ctx app.Context, _ app.Event) {
			*at = ctx.JSSrc().Get("value").String()
			s.edited(ctx)
		}, app.EventScope(id))
}

// chip is a choice that is on or off.
func chip(id, text string, on bool, tap func(app.Context)) app.UI {
	return app.Button().ID(id).Type("button").Class("chip").Attr("aria-pressed", pressed(on)).Text(text).
		OnClick(func(ctx app.Context, _ app.Event) { tap(ctx) }, app.EventScope(id))
}

// chips are the items of a menu of which any number may be on. Words are
// <menu>.<item>.
func (s *session) chips(menu string, list *[]string, items []string) app.UI {
	var all []app.UI
	for _, item := range items {
		on := false
		for _, have := range *list {
			on = on || have == item
		}
		all = append(all, chip(menu+"-"+item, s.words.T(menu+"."+item), on,
			func(ctx app.Context) { s.toggle(ctx, list, items, item) }))
	}
	return app.Div().Class("row chips").Body(all...)
}

// choose is a labelled menu of the job; "" is its first item. Words are
// job.field.<id>.name, job.field.<id>.none and <menu>.<item>.
func (s *session) choose(id, menu string, items []string, at *string) app.UI {
	w := s.words
	var options []app.UI
	for _, v := range items {
		text := w.T("job.field." + id + ".none")
		if v != "" {
			text = w.T(menu + "." + v)
			if w.Has(menu + "." + v + ".name") {
				text = w.T(menu + "." + v + ".name")
			}
		}
		options = append(options, app.Option().Attr("value", v).Selected(v == *at).Text(text))
	}
	how := "job.field." + id + ".how"
	return app.Div().Class("field").Body(
		app.Label().For(id).Text(w.T("job.field."+id+".name")),
		app.Select().ID(id).Body(options...).OnChange(func(ctx app.Context, _ app.Event) {
			*at = ctx.JSSrc().Get("value").String()
			s.edited(ctx)
			s.syncSlots(ctx)
		}, app.EventScope(id)),
		app.If(w.Has(how), func() app.UI { return app.P().Class("hint").Text(w.Text(how, nil)) }),
	)
}

// jobSlots are the texts of the Job place that the Readings place does not have.
var jobSlots = func() []slot {
	var all []slot
	for _, id := range []present.FieldID{
		present.RestingHigh, present.Soak, present.LabelCharge, present.MassAtStart, present.LeakMonths, present.OutTemp,
		present.OilOut, present.DrainedCompressor, present.DrainedAccumulator, present.OilIn, present.R12Charge,
		present.VacuumReached, present.PumpTime, present.SystemVolume, present.HoseLength, present.HoseBore,
		present.MassIn, present.LeakPressure,
	} {
		all = append(all, slot{id, ""})
	}
	all = append(all, slot{present.LabelCharge, "again"})
	for _, q := range []car.Quantity{car.Resting, car.Recovered} {
		all = append(all, slot{present.FieldID(q), "before"})
	}
	for _, id := range []present.FieldID{present.Ambient, present.Humidity, present.EngineSpeed,
		present.FieldID(car.Low), present.FieldID(car.High), present.FieldID(car.Vent)} {
		all = append(all, slot{id, "after"})
	}
	return all
}()

// syncSlots brings the inputs of the Job and Customer places to what the job holds,
// after it was changed by anything but typing.
func (s *session) syncSlots(ctx app.Context) {
	ctx.Defer(func(app.Context) {
		for _, sl := range jobSlots {
			setValue(sl.html(), s.slotText(sl))
		}
		for i, h := range s.job.Repair.Hold {
			setValue(holdID("time", i), h.Time)
			setValue(holdID("pressure", i), h.Pressure)
		}
		for id, text := range map[string]string{"job-title": s.job.Title, "shop": s.job.Shop, "work": s.job.Repair.Work, "notes-text": s.job.Notes} {
			setValue(id, text)
		}
	})
}
