package practice

import (
	"strconv"
	"strings"
	"time"
	"unicode"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/page"
	"twoneedles/refrig/car"
	"twoneedles/refrig/practice"
)

// progressCard folds away what was practised so far and the link for a class.
func (p *view) progressCard() app.UI {
	w, g := p.s.Words, p.progress
	now := w.T("practice.progress.none")
	if g.Done > 0 {
		now = w.T("practice.progress.now", "n", g.Done, "points", p.points(g.Points/float64(g.Done)))
	}
	return app.Section().Class("card progress").Aria("label", w.T("practice.progress.title")).Body(
		app.Details().ID("progress").Body(
			app.Summary().Body(app.Span().Text(w.T("practice.progress.title")), app.Span().Class("now").Text(now)),
			p.progressTable(),
		),
		p.classPart(),
		p.lastResult(),
	)
}

// lastResult leads back to the result of the class set that was finished last.
func (p *view) lastResult() app.UI {
	if p.result == nil {
		return app.Div().Hidden(true)
	}
	return app.Div().Class("row").Body(page.Button("last-result", "btn quiet",
		p.s.Words.T("practice.result.again", "number", p.result.Set.Number()), func() { p.show(theResult) }))
}

func (p *view) progressTable() app.UI {
	w, g := p.s.Words, p.progress
	var rows []app.UI
	for _, id := range car.Conditions() {
		t := g.Conditions[id]
		if t == nil || t.Seen == 0 && t.Lapse == 0 {
			continue
		}
		confused := w.T("practice.progress.never")
		if m, ok := g.Confused[id]; ok {
			confused = p.s.Words.ConditionName(m.Said)
		}
		rows = append(rows, app.Tr().Body(
			app.Td().Text(p.s.Words.ConditionName(id)),
			app.Td().Class("n").Text(w.T("practice.progress.of", "right", t.Right, "seen", t.Seen)),
			app.Td().Text(confused)))
	}
	if len(rows) == 0 {
		return app.P().Class("soft small").Text(w.T("practice.progress.about"))
	}
	return app.Div().Class("tight").Body(
		app.P().Class("soft small").Text(w.T("practice.progress.about")),
		app.Div().Class("scroll").Body(app.Table().Body(
			app.Caption().Class("sr").Text(w.T("practice.progress.title")),
			app.THead().Body(app.Tr().Body(
				app.Th().Scope("col").Text(w.T("practice.progress.condition")),
				app.Th().Scope("col").Class("n").Text(w.T("practice.progress.right")),
				app.Th().Scope("col").Text(w.T("practice.progress.confused")))),
			app.TBody().Body(rows...))),
		app.Button().ID("forget").Type("button").Class("btn quiet").Text(w.T("practice.progress.forget")).OnClick(p.forget),
	)
}

// forget starts progress anew.
func (p *view) forget(app.Context, app.Event) {
	p.progress = practice.NewProgress()
	p.store.Remove(keyProgress) // what cannot be removed is overwritten by the next answer
	p.result = nil
	p.store.Remove(keyResult)
	p.said = p.s.Words.T("practice.progress.forgotten")
}

// classLink is the link being made for others.
type classLink struct {
	cases string // as typed
	said  string
	link  string // shown where it could not be copied
}

// classSize is how many cases a new link holds. judgement: half an hour.
const classSize = 5

func (c *classLink) reset() {
	// Independent of the teacher's own progress: a class needs all conditions.
	from := uint64(time.Now().UnixNano())
	var list []string
	for i := range uint64(classSize) {
		list = append(list, strconv.Itoa(practice.NewProgress().Next(practice.Everyday, from+i)))
	}
	*c = classLink{cases: strings.Join(list, ", ")}
}

// say puts a message in place of a link.
func (c *classLink) say(message string) { c.said, c.link = message, "" }

// classPart makes a link that sets the same cases for everybody.
func (p *view) classPart() app.UI {
	w := p.s.Words
	return app.Details().ID("class").Class("settings").Body(
		app.Summary().Text(w.T("practice.class.title")),
		app.Div().Class("tight").Body(
			app.P().Class("small soft").Text(w.T("practice.class.about", "level", w.T("practice.level."+levelName(p.drill.Level)+".name"))),
			app.Div().Class("field").Body(
				app.Label().For("class-cases").Text(w.T("practice.class.cases")),
				app.Div().Class("entry").Body(app.Input().ID("class-cases").Type("text").Attr("inputmode", "text").
					Value(p.class.cases).OnInput(page.Typing(func(text string) { p.class.cases = text; p.class.say("") }))),
			),
			app.Div().Class("row").Body(
				app.Button().ID("class-copy").Type("button").Class("btn").Text(w.T("practice.class.copy")).OnClick(p.copyLink),
				page.Button("class-this", "btn quiet", w.T("practice.class.this"), func() {
					p.class = classLink{cases: strconv.Itoa(p.drill.Cases[p.drill.At])}
					browser.SetValue("class-cases", p.class.cases)
				}),
			),
			app.P().Class("small soft").Text(w.T("practice.sheet.about")),
			app.Div().Class("row").Body(app.Button().ID("class-answers").Type("button").Class("btn").Text(w.T("practice.sheet.open")).OnClick(p.openSheet)),
			app.P().ID("class-said").Role("status").Class("small").Text(p.class.said),
			app.Div().Class("entry").Hidden(p.class.link == "").Body(
				app.Input().ID("class-link").Type("text").ReadOnly(true).Aria("label", w.T("practice.class.link")).Value(p.class.link)),
		),
	)
}

// classNumbers parts what was typed into numbers of cases, as many as a link holds,
// and what is none, to be named to whoever typed it.
func classNumbers(text string) (cases []int, bad []string) {
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune(",;.", r) }) {
		n, err := strconv.Atoi(word)
		if err != nil || n < 1 || n > practice.MaxSeed || len(cases) == practice.MaxSet {
			bad = append(bad, word)
			continue
		}
		cases = append(cases, n)
	}
	return cases, bad
}

// typedSet is the set whose numbers are typed, and what of it was no number of a case.
func (p *view) typedSet() (set practice.Set, left string, ok bool) {
	cases, bad := classNumbers(p.class.cases)
	set, ok = practice.ParseSet(practice.Set{Level: p.drill.Level, Seeds: cases, Edition: practice.Edition()}.Link())
	if len(bad) > 0 {
		left = " " + p.s.Words.T("practice.class.left_out", "list", p.s.Words.List(bad), "most", practice.MaxSet)
	}
	return set, left, ok
}

// copyLink shows the link and copies it where the browser allows.
func (p *view) copyLink(ctx app.Context, _ app.Event) {
	w := p.s.Words
	set, left, ok := p.typedSet()
	if !ok {
		p.class.say(w.T("practice.class.bad", "most", practice.MaxSet))
		return
	}
	u := app.Window().URL()
	u.RawQuery, u.Fragment = "", set.Link()
	p.class.link, p.class.said = u.String(), w.T("practice.class.made", "n", len(set.Seeds))+left
	browser.SetValue("class-link", p.class.link)
	browser.CopyText(ctx, p.class.link,
		func(app.Context) { p.class.said = w.T("practice.class.copied", "n", len(set.Seeds)) + left },
		func(app.Context) {}) // the link stands there to be copied by hand
}
