package app

import (
	"math"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// answerPanel says what the readings most likely mean: a sentence for the
// customer, one for the technician, the ranking and the reasons.
type answerPanel struct {
	app.Compo
	Rev int

	s    *session
	rows unfolder // conditions whose catalogue page is open
	rest bool     // the unlikely conditions are unfolded
}

func (p *answerPanel) Render() app.UI {
	w, a := p.s.words, p.s.answer
	p.rows.s = p.s
	return app.Section().ID("answer").TabIndex(-1).Class("card answer").Aria("labelledby", "answer-title").Body(
		app.H2().ID("answer-title").Class("sr").Text(w.T("readings.answer")),
		app.P().ID("answer-live").Class("sr").Aria("live", "polite").Text(p.s.aloud.text),
		app.Div().ID("answer-say").Body(
			app.If(a.state == answered, func() app.UI { return p.sentences() }).
				Else(func() app.UI { return p.notYet() }),
		),
		app.If(a.state == answered, func() app.UI { return p.doubts() }),
		app.If(a.state == answered, func() app.UI { return p.ranking() }),
		app.If(a.state == answered, func() app.UI { return &still{Of: p.s.planRev, draw: p.reasons} }),
	)
}

// reasons are read after the answer, and follow with the next measurement once the
// answer is on screen.
func (p *answerPanel) reasons() app.UI {
	r := p.s.answer.report
	return app.Div().ID("reasons").Body(
		app.If(r.Group != "", func() app.UI { return p.pattern() }),
		app.If(len(r.Evidence) > 0, func() app.UI { return p.why() }),
		app.If(len(r.Warnings) > 0, func() app.UI { return p.notes() }),
	)
}

func (p *answerPanel) sentences() app.UI {
	customer, technician := p.s.sentences(p.s.answer.report)
	next := p.s.wouldTell(p.s.answer.report)
	return app.Div().Body(
		app.P().ID("verdict").Class("verdict").DataSet("verdict", string(p.s.answer.report.Verdict)).
			Text(p.s.words.T("verdict."+string(p.s.answer.report.Verdict)+".name")),
		app.P().ID("customer-sentence").Class("say").Text(customer),
		app.P().ID("technician-sentence").Class("tech").Text(technician),
		app.P().ID("would-tell").Class("tech").Hidden(next == "").Text(next),
		p.weighed(),
	)
}

// weighed says what a recovered mass means, in grams or ounces beside the label: a
// charge that was weighed is known, whatever the needles hide.
func (p *answerPanel) weighed() app.UI {
	w := p.s.answer.report.Weighed
	if w == nil {
		return nil
	}
	mass := func(kg float64) string { return p.s.voice().Quantity(math.Max(kg, 0), unit.Mass) }
	key := "readings.weighed.right"
	off, least, most := 0.0, 0.0, 0.0
	switch {
	case w.Charge < w.Label*(1-w.Tolerance):
		key, off, least, most = "readings.weighed.short", w.Label-w.Charge, w.Label-w.Hi, w.Label-w.Lo
	case w.Charge > w.Label*(1+w.Tolerance):
		key, off, least, most = "readings.weighed.over", w.Charge-w.Label, w.Lo-w.Label, w.Hi-w.Label
	}
	return app.P().ID("weighed").Class("tech").Text(p.s.words.T(key, "mass", mass(w.Charge), "label", mass(w.Label),
		"off", mass(off), "least", mass(least), "most", mass(most)))
}

// notYet says what is missing, or what went wrong, in place of an answer.
func (p *answerPanel) notYet() app.UI {
	w, a := p.s.words, p.s.answer
	switch a.state {
	case failed:
		m := a.failure
		return app.Div().Class("empty").Body(
			app.P().Class("say").Text(m.What), app.P().Text(m.Why), app.P().Text(m.Next))
	case invalid:
		return app.Div().Class("empty").Body(
			app.P().Class("say").Text(w.T("readings.invalid.title")), app.P().Text(w.T("readings.invalid.then")))
	case loading:
		return app.Div().Class("empty").Body(app.P().Class("say soft").Text(w.T("readings.busy")))
	}
	items := []app.UI{app.P().Class("say").Text(w.T("readings.empty.title"))}
	for _, id := range a.missing {
		items = append(items, app.P().Text(w.T("readings.empty.missing_"+string(id))))
	}
	items = append(items, app.P().Class("soft").Text(w.T("readings.empty.then")))
	return app.Div().Class("empty").Body(items...)
}

// doubts are questions about the readings themselves; they come before any
// condition of the car.
func (p *answerPanel) doubts() app.UI {
	var items []app.UI
	for _, q := range p.s.answer.report.Questions {
		m := p.s.voice().Warning(q)
		items = append(items, app.Div().Class("msg tight").Body(
			app.P().Body(app.Strong().Text(m.What)), app.P().Text(m.Why), app.P().Text(m.Next)))
	}
	if len(items) == 0 {
		return nil
	}
	return app.Section().ID("questions").Class("tight").Body(items...)
}

// shownConditions is how many conditions are ranked in the open, and unlikely
// the chance below which a condition is folded away (judgement).
const (
	shownConditions = 4
	unlikely        = 0.05
)

func (p *answerPanel) ranking() app.UI {
	w := p.s.words
	var open, rest []app.UI
	folded := 0
	for i, c := range p.s.answer.report.Ranking {
		switch {
		case i == 0 || i < shownConditions && c.Probability >= unlikely, p.rows.open[c.ID]: // what is being read stays
			open = append(open, p.ranked(c))
		case p.rest: // folded rows are not built: they would change with every key
			rest = append(rest, p.ranked(c))
			fallthrough
		default:
			folded++
		}
	}
	return app.Section().Aria("labelledby", "ranking-title").Body(
		app.H2().ID("ranking-title").Text(w.T("readings.ranking")),
		app.Ol().ID("ranking").Class("ranks").Body(open...),
		app.If(folded > 0, func() app.UI {
			return app.Details().ID("ranking-rest").Body(
				app.Summary().Class("small soft").Text(w.T("readings.rest", "n", folded)),
				app.Ol().Class("ranks").Body(rest...)).On("toggle", p.unfoldRest)
		}),
	)
}

func (p *answerPanel) unfoldRest(ctx app.Context, _ app.Event) {
	p.rest = ctx.JSSrc().Get("open").Bool()
}

func (p *answerPanel) ranked(c diagnose.Ranked) app.UI {
	w := p.s.words
	return app.Li().DataSet("condition", string(c.ID)).Body(
		p.rows.row(c.ID, "rank",
			app.Span().Class("what").Text(p.s.conditionName(c.ID)),
			app.Span().Class("chance").Body(app.Text(w.Chance(c.Probability)),
				app.If(c.Probability >= unlikely, func() app.UI {
					return app.Span().Class("percent").Text(w.T("readings.percent", "n", spokenPercent(c.Probability)))
				})),
			chanceBar(c.Probability),
		),
		p.pairLine(c),
		p.rows.page(c.ID),
	)
}

// pairLine names the two that fit together, where the readings tell.
func (p *answerPanel) pairLine(c diagnose.Ranked) app.UI {
	r := p.s.answer.report
	if c.ID != car.Combination || r.PairA == "" || r.PairB == "" {
		return nil
	}
	return app.P().ID("pair").Class("small").Text(p.s.words.T("readings.pair", "first", p.s.inText(r.PairA), "second", p.s.inText(r.PairB)))
}

// pattern says how the two needles stand together and what else makes them stand
// so: what a person who reads gauges would name first.
func (p *answerPanel) pattern() app.UI {
	const most = 4 // more are no line but a list (judgement)
	w, r := p.s.words, p.s.answer.report
	text := w.T("group." + string(r.Group) + ".tech")
	if n := len(r.Members); n > 0 {
		names := make([]string, min(n, most))
		for i := range names {
			names[i] = p.s.inText(r.Members[i])
		}
		key := "readings.pattern"
		if n > most {
			key = "readings.pattern_more"
		}
		text = w.T("readings.two_sentences", "first", text, "second", w.T(key, "list", p.s.list(names)))
	}
	return app.P().ID("pattern").Class("small soft").Text(text)
}

// spokenPercent is the chance that is said, in percent: "about 3 in 4" is 75,
// whatever finer number it was rounded from. Finer would claim what is not known.
func spokenPercent(p float64) int {
	m, n, ok := strings.Cut(strings.TrimPrefix(present.ChanceKey(p), "chance."), "_in_")
	a, errA := strconv.Atoi(m)
	b, errB := strconv.Atoi(n)
	if !ok || errA != nil || errB != nil || b == 0 {
		return int(math.Round(p*20)) * 5
	}
	return int(math.Round(100 * float64(a) / float64(b)))
}

// chanceBar draws a chance as a length. It repeats the words beside it and is
// hidden from readers of the page.
func chanceBar(p float64) app.UI {
	const ns = "http://www.w3.org/2000/svg"
	bar := func(class string, percent float64) app.UI {
		return app.Elem("rect").XMLNS(ns).Class(class).Attr("width", percent).Attr("height", 2).Attr("rx", .4)
	}
	return app.Elem("svg").XMLNS(ns).Attr("viewBox", "0 0 100 2").Attr("preserveAspectRatio", "none").Aria("hidden", true).Body(
		bar("rail", 100), bar("fill", max(math.Round(p*1000)/10, 0.8)))
}

func (p *answerPanel) why() app.UI {
	var items []app.UI
	for _, e := range p.s.answer.report.Evidence {
		line, sign := p.s.reason(e, p.s.answer.report)
		items = append(items, app.Li().DataSet("quantity", string(e.Quantity)).Body(
			app.Span().Class("sign").Aria("hidden", true).Text(sign), app.Span().Text(line)))
	}
	return app.Section().Aria("labelledby", "why-title").Class("tight").Body(
		app.H2().ID("why-title").Text(p.s.words.T("readings.why", "condition", p.s.inText(p.s.answer.report.Ranking[0].ID))),
		app.Ul().ID("why").Class("why").Body(items...),
	)
}

// reason puts one reading's part in the answer into a line, with a sign that
// repeats its direction.
func (s *session) reason(e diagnose.Evidence, r diagnose.Report) (line, sign string) {
	w := s.words
	leader := r.Ranking[0].ID
	// Below a quarter of a natural log unit the odds move by less than a third
	// (judgement): not worth a claim.
	const little = 0.25
	weight := e.AgainstHealthy
	if leader == car.Healthy {
		weight = e.AgainstNext
	}
	effect := w.T("readings.effect.little")
	sign = "·"
	switch {
	case weight > little:
		effect, sign = w.T("readings.effect.for"), "+"
	case weight < -little && e.Favours != "" && e.Favours != leader:
		effect, sign = w.T("readings.effect.against", "other", s.inText(e.Favours)), "−"
	case weight < -little:
		effect, sign = w.T("readings.effect.against_plain"), "−"
	}
	key := "readings.why_plain"
	args := map[string]any{"quantity": s.quantityName(e.Quantity), "value": s.readingText(e.Quantity, e.Reading), "effect": effect}
	if e.HasExpected {
		key = [...]string{"readings.why_below", "readings.why_inside", "readings.why_above"}[e.Place+1]
		if s.atEdge(e) {
			key = "readings.why_edge"
		}
		args["range"] = s.voice().Range(e.Expected.Lo, e.Expected.Hi, s.shownKind(e.Quantity))
	}
	return w.Text(key, args), sign
}

// atEdge tells whether a reading outside its band looks the same as the end of it:
// to say that 52 is below 52 to 67 helps nobody.
func (s *session) atEdge(e diagnose.Evidence) bool {
	end := e.Expected.Lo
	if e.Place > 0 {
		end = e.Expected.Hi
	}
	a, _ := s.voice().Number(e.Reading.Value, s.shownKind(e.Quantity))
	b, _ := s.voice().Number(end, s.shownKind(e.Quantity))
	return e.Place != 0 && !e.Reading.Swing && a == b
}

func (p *answerPanel) notes() app.UI {
	var items []app.UI
	for _, n := range p.s.answer.report.Warnings {
		m := p.s.voice().Warning(n)
		items = append(items, app.Li().Body(app.Text(joinSentences(m))))
	}
	return app.Details().ID("notes").Body(
		app.Summary().Class("small").Text(p.s.words.T("readings.notes")),
		app.Ul().Class("list small tight").Body(items...),
	)
}

// joinSentences sets the parts of a message one after the other.
func joinSentences(m present.Message) string {
	s := m.What
	for _, part := range []string{m.Why, m.Next} {
		if part != "" {
			s += " " + part
		}
	}
	return s
}
