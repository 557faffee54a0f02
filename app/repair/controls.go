package repair

import (
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/page"
)

// line is one line of free text of the job; area several.
func (s *Place) line(id string, at *string, limit int, placeholder string) app.UI {
	return app.Div().Class("entry plain").Body(
		app.Input().ID(id).Type("text").AutoComplete(false).Attr("enterkeyhint", "next").MaxLength(limit).Placeholder(placeholder).Value(*at).
			OnInput(s.typing(at), app.EventScope(id)))
}

func (s *Place) area(id string, at *string, rows, limit int) app.UI {
	return app.Textarea().ID(id).Rows(rows).MaxLength(limit).Text(*at).OnInput(s.typing(at), app.EventScope(id))
}

func (s *Place) typing(at *string) app.EventHandler {
	return page.Typing(func(text string) { *at = text; s.Edited() })
}

// chips are the items of a menu of which any number may be on. Words are
// <menu>.<item>.
func (s *Place) chips(menu string, list *[]string, items []string) app.UI {
	var all []app.UI
	for _, item := range items {
		all = append(all, page.Chip(menu+"-"+item, s.Words.T(menu+"."+item), slices.Contains(*list, item),
			func() { s.toggle(list, items, item) }))
	}
	return app.Div().Class("row chips").Body(all...)
}

// choose is a labelled menu of the job; "" is its first item. Words are
// job.field.<id>.name, job.field.<id>.none and <menu>.<item>.
func (s *Place) choose(id, menu string, items []string, at *string) app.UI {
	w := s.Words
	text := func(v string) string {
		switch name := menu + "." + v + ".name"; {
		case v == "":
			return w.T("job.field." + id + ".none")
		case w.Has(name):
			return w.T(name)
		}
		return w.T(menu + "." + v)
	}
	how := "job.field." + id + ".how"
	return app.Div().Class("field").Body(
		app.Label().For(id).Text(w.T("job.field."+id+".name")),
		page.Menu(id, items, *at, text, func(v string) {
			*at = v
			s.Edited()
			s.SyncInputs()
		}),
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
