package readings

import (
	"math"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/page"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// answerPanel says what the readings most likely mean: a sentence for the
// customer, one for the technician, the ranking and the reasons.
type answerPanel struct {
	app.Compo
	Answer, Plan, Announced int // revisions of what it shows

	s    *Place
	rows page.Unfolder // conditions whose catalogue page is open
	rest bool          // the page.Unlikely conditions are unfolded
}

func (p *answerPanel) Render() app.UI {
	w, a := p.s.Words, p.s.Answer()
	p.rows.On = p.s.Page
	return app.Section().ID("answer").TabIndex(-1).Class("card answer").Aria("labelledby", "answer-title").Body(
		app.H2().ID("answer-title").Class("sr").Text(w.T("readings.answer")),
		app.P().ID("answer-live").Class("sr").Aria("live", "polite").Text(p.s.announced.text),
		app.Div().ID("answer-say").Body(
			app.If(a.State == page.Answered, func() app.UI { return p.sentences() }).
				Else(func() app.UI { return p.notYet() }),
		),
		app.If(a.State == page.Answered, func() app.UI { return p.doubts() }),
		app.If(a.State == page.Answered, func() app.UI { return p.ranking() }),
		app.If(a.State == page.Answered, func() app.UI { return &page.Memo{Of: p.Plan, Draw: p.reasons} }),
	)
}

// reasons are read after the answer, and follow with the next measurement once the
// answer is on screen.
func (p *answerPanel) reasons() app.UI {
	r := p.s.Answer().Report
	return app.Div().ID("reasons").Body(
		app.If(r.Group != "", func() app.UI { return p.pattern() }),
		app.If(len(r.Evidence) > 0, func() app.UI { return p.why() }),
		app.If(len(r.Warnings) > 0, func() app.UI { return p.notes() }),
	)
}

func (p *answerPanel) sentences() app.UI {
	customer, technician := p.s.Sentences(p.s.Answer().Report)
	next := p.s.WouldTell(p.s.Answer().Report)
	return app.Div().Body(
		app.P().ID("verdict").Class("verdict").DataSet("verdict", string(p.s.Answer().Report.Verdict)).
			Text(p.s.Words.T("verdict."+string(p.s.Answer().Report.Verdict)+".name")),
		app.P().ID("customer-sentence").Class("say").Text(customer),
		app.P().ID("technician-sentence").Class("tech").Text(technician),
		app.P().ID("would-tell").Class("tech").Hidden(next == "").Text(next),
		p.weighed(),
	)
}

// weighed says what a recovered mass means, in grams or ounces beside the label: a
// charge that was weighed is known, whatever the needles hide.
func (p *answerPanel) weighed() app.UI {
	w := p.s.Answer().Report.Weighed
	if w == nil {
		return nil
	}
	mass := func(kg float64) string { return p.s.Voice().Quantity(math.Max(kg, 0), unit.Mass) }
	key := "readings.weighed.right"
	off, least, most := 0.0, 0.0, 0.0
	switch {
	case w.Charge < w.Label*(1-w.Tolerance):
		key, off, least, most = "readings.weighed.short", w.Label-w.Charge, w.Label-w.Hi, w.Label-w.Lo
	case w.Charge > w.Label*(1+w.Tolerance):
		key, off, least, most = "readings.weighed.over", w.Charge-w.Label, w.Lo-w.Label, w.Hi-w.Label
	}
	return app.P().ID("weighed").Class("tech").Text(p.s.Words.T(key, "mass", mass(w.Charge), "label", mass(w.Label),
		"off", mass(off), "least", mass(least), "most", mass(most)))
}

// notYet says what is missing, or what went wrong, in place of an answer.
func (p *answerPanel) notYet() app.UI {
	w, a := p.s.Words, p.s.Answer()
	switch a.State {
	case page.Failed:
		m := a.Failure
		return app.Div().Class("empty").Body(
			app.P().Class("say").Text(m.What), app.P().Text(m.Why), app.P().Text(m.Next))
	case page.Invalid:
		return app.Div().Class("empty").Body(
			app.P().Class("say").Text(w.T("readings.invalid.title")), app.P().Text(w.T("readings.invalid.then")))
	case page.Loading:
		return app.Div().Class("empty").Body(app.P().Class("say soft").Text(w.T("readings.busy")))
	}
	items := []app.UI{app.P().Class("say").Text(w.T("readings.empty.title"))}
	for _, id := range a.Missing {
		items = append(items, app.P().Text(w.T("readings.empty.missing_"+string(id))))
	}
	items = append(items, app.P().Class("soft").Text(w.T("readings.empty.then")))
	return app.Div().Class("empty").Body(items...)
}

// doubts are questions about the readings themselves; they come before any
// condition of the car.
func (p *answerPanel) doubts() app.UI {
	var items []app.UI
	for _, q := range p.s.Answer().Report.Questions {
		m := p.s.Voice().Warning(q)
		items = append(items, app.Div().Class("msg tight").Body(
			app.P().Body(app.Strong().Text(m.What)), app.P().Text(m.Why), app.P().Text(m.Next)))
	}
	if len(items) == 0 {
		return nil
	}
	return app.Section().ID("questions").Class("tight").Body(items...)
}

func (p *answerPanel) ranking() app.UI {
	w := p.s.Words
	var open, rest []app.UI
	folded := 0
	for i, c := range p.s.Answer().Report.Ranking {
		switch {
		case i == 0 || i < page.RankedOpen && c.Probability >= page.Unlikely, p.rows.Open[c.ID]: // what is being read stays
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
	w := p.s.Words
	return app.Li().DataSet("condition", string(c.ID)).Body(
		p.rows.Row(c.ID, "rank",
			app.Span().Class("what").Text(p.s.ConditionName(c.ID)),
			app.Span().Class("chance").Body(app.Text(w.Chance(c.Probability)),
				app.If(c.Probability >= page.Unlikely, func() app.UI {
					return app.Span().Class("percent").Text(w.Percent(c.Probability))
				})),
			page.ChanceBar(c.Probability),
		),
		p.pairLine(c),
		p.rows.Page(c.ID),
	)
}

// pairLine names the two that fit together, where the readings tell.
func (p *answerPanel) pairLine(c diagnose.Ranked) app.UI {
	r := p.s.Answer().Report
	if c.ID != car.Combination || r.PairA == "" || r.PairB == "" {
		return nil
	}
	return app.P().ID("pair").Class("small").Text(p.s.Words.T("readings.pair", "first", p.s.InText(r.PairA), "second", p.s.InText(r.PairB)))
}

// pattern says how the two needles stand together and what else makes them stand
// so: what a person who reads gauges would name first.
func (p *answerPanel) pattern() app.UI {
	const most = 4 // more are no line but a list (judgement)
	w, r := p.s.Words, p.s.Answer().Report
	text := w.T("group." + string(r.Group) + ".tech")
	if n := len(r.Members); n > 0 {
		names := make([]string, min(n, most))
		for i := range names {
			names[i] = p.s.InText(r.Members[i])
		}
		key := "readings.pattern"
		if n > most {
			key = "readings.pattern_more"
		}
		text = w.T("readings.two_sentences", "first", text, "second", w.T(key, "list", p.s.List(names)))
	}
	return app.P().ID("pattern").Class("small soft").Text(text)
}

func (p *answerPanel) why() app.UI {
	var items []app.UI
	for _, e := range p.s.Answer().Report.Evidence {
		line, sign := p.s.Reason(e, p.s.Answer().Report)
		items = append(items, app.Li().DataSet("quantity", string(e.Quantity)).Body(
			app.Span().Class("sign").Aria("hidden", true).Text(sign), app.Span().Text(line)))
	}
	return app.Section().Aria("labelledby", "why-title").Class("tight").Body(
		app.H2().ID("why-title").Text(p.s.Words.T("readings.why", "condition", p.s.InText(p.s.Answer().Report.Ranking[0].ID))),
		app.Ul().ID("why").Class("why").Body(items...),
	)
}

func (p *answerPanel) notes() app.UI {
	var items []app.UI
	for _, n := range p.s.Answer().Report.Warnings {
		m := p.s.Voice().Warning(n)
		items = append(items, app.Li().Body(app.Text(page.JoinSentences(m))))
	}
	return app.Details().ID("notes").Body(
		app.Summary().Class("small").Text(p.s.Words.T("readings.notes")),
		app.Ul().Class("list small tight").Body(items...),
	)
}
