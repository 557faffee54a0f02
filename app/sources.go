package app

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/refrig"
)

// sourcesPage prints the bibliography, the method and the limits of the tool.
type sourcesPage struct {
	app.Compo

	s *session
}

func newSources(s *session) app.Composer { return &sourcesPage{s: s} }

func (p *sourcesPage) Render() app.UI {
	w := p.s.words
	return app.Div().Class("stack prose").Body(
		app.Header().Class("tight").Body(
			app.H1().ID("title").TabIndex(-1).Text(w.T("shell.place.sources")),
			app.P().Class("lead").Text(w.T("sources.lead")),
		),
		p.chapter("method", true),
		p.chapter("limits", false),
		p.chapter("privacy", true),
		&conditionList{s: p.s},
		p.bibliography(),
		app.P().ID("version").Class("soft small").Text(w.T("sources.version", "release", shellField("release"), "build", shellField("version"))),
		app.P().Class("soft small").Body(app.A().ID("licences").Href(href("/licences.txt")).Target("_blank").Rel("noopener").Text(w.T("sources.licences"))),
	)
}

// chapter prints sources.<id>.1, .2, … as paragraphs or as a list.
func (p *sourcesPage) chapter(id string, paragraphs bool) app.UI {
	w := p.s.words
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

func (p *sourcesPage) bibliography() app.UI {
	w := p.s.words
	keys := refrig.RefKeys()
	items := make([]app.UI, len(keys))
	for i, key := range keys {
		ref, _ := refrig.Ref(key)
		items[i] = app.Li().ID("ref-"+key).TabIndex(-1).Body(
			app.P().Body(app.Strong().Text(ref.Title)),
			app.P().Text(citation(ref)),
			app.P().Class("soft").Text(w.T("sources.list.used", "what", ref.UsedFor, "how", howRead(p.s, ref.Read))),
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

func howRead(s *session, how string) string {
	if key := "sources.list." + how; s.words.Has(key) {
		return s.words.T(key)
	}
	return how
}
