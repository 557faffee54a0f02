package repair

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/page"
)

// line is one line of free text of the job; area several.
func (s *Place) line(id string, at *string, limit int, placeholder string) app.UI {
	return app.Div().Class("entry plain").Body(
		app.Input().ID(id).Type("text").AutoComplete(false).Attr("enterkeyhint", "next").MaxLength(limit).Placeholder(placeholder).Value(*at).
			OnInput(func(ctx app.Context, _ app.Event) {
				*at = ctx.JSSrc().Get("value").String()
				s.Edited()
			}, app.EventScope(id)))
}

func (s *Place) area(id string, at *string, rows, limit int, placeholder string) app.UI {
	return app.Textarea().ID(id).Rows(rows).MaxLength(limit).Placeholder(placeholder).Text(*at).
		OnInput(func(ctx app.Context, _ app.Event) {
			*at = ctx.JSSrc().Get("value").String()
			s.Edited()
		}, app.EventScope(id))
}

// chip is a choice that is on or off.
func chip(id, text string, on bool, tap func()) app.UI {
	return app.Button().ID(id).Type("button").Class("chip").Attr("aria-pressed", page.Pressed(on)).Text(text).
		OnClick(func(app.Context, app.Event) { tap() }, app.EventScope(id))
}

// chips are the items of a menu of which any number may be on. Words are
// <menu>.<item>.
func (s *Place) chips(menu string, list *[]string, items []string) app.UI {
	var all []app.UI
	for _, item := range items {
		on := false
		for _, have := range *list {
			on = on || have == item
		}
		all = append(all, chip(menu+"-"+item, s.Words.T(menu+"."+item), on,
			func() { s.toggle(list, items, item) }))
	}
	return app.Div().Class("row chips").Body(all...)
}

// choose is a labelled menu of the job; "" is its first item. Words are
// job.field.<id>.name, job.field.<id>.none and <menu>.<item>.
func (s *Place) choose(id, menu string, items []string, at *string) app.UI {
	w := s.Words
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
			// go-app drops an empty attribute, so the first item has no value but its
			// text: take the place in the list instead.
			if i := ctx.JSSrc().Get("selectedIndex").Int(); 0 <= i && i < len(items) {
				*at = items[i]
			}
			s.Edited()
			s.SyncInputs()
		}, app.EventScope(id)),
		app.If(w.Has(how), func() app.UI { return app.P().Class("hint").Text(w.Text(how, nil)) }),
	)
}

// syncLines brings the free texts and the points of the hold test on screen to what
// the job holds.
func (s *Place) syncLines() {
	for i, h := range s.Job.Repair.Hold {
		browser.SetValue(holdID("time", i), h.Time)
		browser.SetValue(holdID("pressure", i), h.Pressure)
	}
	for _, visit := range []string{"before", "after"} {
		b := logbook{s, visit}
		for i := range b.log().Points {
			for _, col := range logColumns {
				browser.SetValue(b.line(col.name, i), *col.of(&b.log().Points[i]))
			}
		}
	}
	for id, text := range map[string]string{"job-title": s.Job.Title, "shop": s.Job.Shop, "plate": s.Job.Plate, "odometer": s.Job.Odometer, "of-car": s.Job.OfCar, "technician": s.Job.Technician, "work": s.Job.Repair.Work, "notes-text": s.Job.Notes} {
		browser.SetValue(id, text)
	}
}
