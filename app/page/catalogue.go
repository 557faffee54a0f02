package page

import (
	"regexp"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/catalogue"
)

// Unfolder is a row that opens a catalogue page below it. A button and not a
// <details>: rows change places while one types, and what the browser had opened
// would stay in the place and not with its condition.
type Unfolder struct {
	On   *Page
	Open map[car.ConditionID]bool
}

// Row is the button; what stands in it is the caller's.
func (u *Unfolder) Row(id car.ConditionID, class string, body ...app.UI) app.UI {
	return app.Button().ID("open-"+string(id)).Type("button").Class("unfold "+class).
		Aria("expanded", Pressed(u.Open[id])).Body(body...).
		OnClick(func(app.Context, app.Event) {
			if u.Open == nil {
				u.Open = map[car.ConditionID]bool{}
			}
			u.Open[id] = !u.Open[id]
		}, app.EventScope("unfold", id))
}

// Page is what the row opens; nothing is made before it is wanted.
func (u *Unfolder) Page(id car.ConditionID) app.UI {
	if !u.Open[id] {
		return nil
	}
	return &conditionPage{Lang: u.On.Lang(), ID: id, s: u.On}
}

// conditionPage is the catalogue page of one condition, put together from its
// blocks: the catalogue holds text and no markup.
type conditionPage struct {
	app.Compo
	Lang string
	ID   car.ConditionID

	s *Page
}

func (c *conditionPage) Render() app.UI {
	w := c.s.Words
	page, err := w.Page(c.ID)
	if err != nil {
		return c.s.Failed(err)
	}
	section := func(title string, blocks []catalogue.Block) app.UI {
		return app.Section().Class("tight").Body(append([]app.UI{app.H3().Text(title)}, c.blocks(blocks)...)...)
	}
	return app.Div().ID("page-"+string(c.ID)).Class("catalogue stack").Body(
		app.P().Body(c.cited(page.OneLine)...),
		section(w.T("catalogue.needles"), page.Needles),
		section(w.T("catalogue.why"), page.Why),
		section(w.T("catalogue.next"), page.Next),
		section(w.T("catalogue.before"), page.Before),
		app.Section().Class("tight small").Body(app.H3().Text(w.T("catalogue.sources")), c.sources(page.Sources)),
	)
}

// blocks sets paragraphs, and items that follow each other as one list.
func (c *conditionPage) blocks(blocks []catalogue.Block) []app.UI {
	var out, items []app.UI
	flush := func() {
		if len(items) > 0 {
			out, items = append(out, app.Ul().Class("list").Body(items...)), nil
		}
	}
	for _, b := range blocks {
		if b.Item {
			items = append(items, app.Li().Body(c.cited(b.Text)...))
			continue
		}
		flush()
		out = append(out, app.P().Body(c.cited(b.Text)...))
	}
	flush()
	return out
}

var citedKey = regexp.MustCompile(`\[([A-Z][A-Za-z0-9]+)\]`)

// cited is a text in which every key of the bibliography leads to its entry.
func (c *conditionPage) cited(text string) []app.UI {
	var out []app.UI
	from := 0
	for _, m := range citedKey.FindAllStringSubmatchIndex(text, -1) {
		key := text[m[2]:m[3]]
		if _, ok := refrig.Ref(key); !ok {
			continue
		}
		out = append(out, app.Text(text[from:m[0]]), SourceLink(key))
		from = m[1]
	}
	return append(out, app.Text(text[from:]))
}

// SourceLink leads from a key to its entry in the Sources place.
func SourceLink(key string) app.UI {
	return app.A().Class("cite").Href(Href("/sources") + "#ref-" + key).Text("[" + key + "]")
}

func (c *conditionPage) sources(list []catalogue.PageSource) app.UI {
	w := c.s.Words
	items := make([]app.UI, len(list))
	for i, src := range list {
		name := "[" + src.Key + "]"
		switch src.Name {
		case "":
		case "common practice":
			name = w.T("catalogue.practice")
		default:
			name = w.T("catalogue.model")
		}
		items[i] = app.Li().Body(c.cited(w.T("catalogue.source", "source", name, "what", src.For, "how", HowRead(c.s, src.Mark)))...)
	}
	return app.Ul().Class("list").Body(items...)
}

func HowRead(s *Page, how string) string {
	if key := "sources.list." + how; s.Words.Has(key) {
		return s.Words.T(key)
	}
	return how
}
