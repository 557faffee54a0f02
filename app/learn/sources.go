package learn

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/page"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// sources prints the bibliography, the method and the limits of the tool.
type sources struct {
	app.Compo
	Lang string

	s *page.Page
}

func (p *sources) Render() app.UI {
	w := p.s.Words
	return app.Div().ID("sources").Class("stack").Body(
		p.chapter("method", true),
		p.chapter("limits", false),
		p.chapter("privacy", true),
		p.bibliography(),
		app.P().ID("version").Class("soft small").Text(w.T("sources.version", "release", page.ShellField("release"), "build", page.ShellField("version"))),
		app.A().ID("licences").Class("way").Href(page.Href("/licences.txt")).Target("_blank").Rel("noopener").Text(w.T("sources.licences")),
	)
}

// chapter prints sources.<id>.1, .2, … as paragraphs or as a list.
func (p *sources) chapter(id string, paragraphs bool) app.UI {
	w := p.s.Words
	var items []app.UI
	for i := 1; w.Has("sources." + id + "." + strconv.Itoa(i)); i++ {
		text := w.T("sources." + id + "." + strconv.Itoa(i))
		if paragraphs {
			items = append(items, app.P().Text(text))
		} else {
			items = append(items, app.Li().Text(text))
		}
	}
	var body app.UI = app.Ul().Class("list").Body(items...)
	if paragraphs {
		body = app.Div().Class("tight").Body(items...)
	}
	return app.Section().ID(id).Class("card tight").Body(app.H2().Text(w.T("sources."+id+".title")), body)
}

func (p *sources) bibliography() app.UI {
	w := p.s.Words
	keys := refrig.RefKeys()
	items := make([]app.UI, len(keys))
	for i, key := range keys {
		ref, _ := refrig.Ref(key)
		items[i] = app.Li().ID("ref-"+key).TabIndex(-1).Body(
			app.P().Body(app.Strong().Text(ref.Title)),
			app.P().Text(citation(ref)),
			app.P().Class("soft").Text(w.T("sources.list.used", "what", w.T("ref."+key), "how", page.HowRead(p.s, ref.Read))),
		)
	}
	return app.Section().ID("list").Class("card tight").Body(
		app.H2().Text(w.T("sources.list.title")),
		app.P().Text(w.T("sources.list.lead")),
		app.Ul().Class("refs").Body(items...),
	)
}

// citation is the line under a title: authors, year, where, DOI. It is a list,
// not a sentence, and keeps its order in every language.
func citation(r refrig.Reference) string {
	s := r.Authors
	if r.Year != 0 {
		s += " (" + strconv.Itoa(r.Year) + ")"
	}
	s += ". " + r.Where
	if r.DOI != "" {
		s += ". doi:" + r.DOI
	}
	return s
}

// conditionList is every condition with its page, for whoever wants to read on.
type conditionList struct {
	app.Compo
	Lang string

	s    *page.Page
	rows page.Unfolder
}

func (l *conditionList) Render() app.UI {
	s, w := l.s, l.s.Words
	l.rows.On = s
	items := make([]app.UI, len(car.Conditions()))
	for i, id := range car.Conditions() {
		items[i] = app.Li().DataSet("condition", string(id)).Body(
			l.rows.Row(id, "", app.Span().Class("what").Text(s.Words.ConditionName(id))), l.rows.Page(id))
	}
	return app.Section().ID("catalogue").Class("card tight").Body(
		app.H2().Text(w.T("catalogue.title")),
		app.P().Text(w.T("catalogue.lead")),
		app.Ul().Class("ranks").Body(items...),
	)
}
