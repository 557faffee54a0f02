package readings

import (
	"math"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/claim"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// answerPanel says what the readings most likely mean: the verdict, its sentence and
// what is doubtful about the readings themselves.
type answerPanel struct {
	app.Compo
	Lang                    string
	Answer, Plan, Announced int // revisions of what it shows

	s *Place
}

func (p *answerPanel) Render() app.UI {
	w, a := p.s.Words, p.s.Answer()
	return app.Section().ID("answer").TabIndex(-1).Class("card answer").Aria("labelledby", "answer-title").Body(
		app.H2().ID("answer-title").Class("sr").Text(w.T("readings.answer")),
		app.P().ID("answer-live").Class("sr").Aria("live", "polite").Text(p.s.announced.text),
		app.Div().ID("answer-say").Body(
			app.If(p.s.Said().Technician != "", func() app.UI { return p.claim() }).
				Else(func() app.UI { return p.notYet() }),
		),
		app.If(a.State == page.Answered, func() app.UI { return p.doubts() }),
		app.If(a.State == page.Answered, func() app.UI { return p.s.Learnt().Line() }),
	)
}

func (p *answerPanel) claim() app.UI {
	said := p.s.Said()
	return app.Div().Body(
		app.P().ID("verdict").Class("verdict").DataSet("verdict", string(said.Verdict)).Text(said.Title),
		app.P().ID("technician-sentence").Class("say").Text(said.Technician),
		app.If(said.AskEngine, func() app.UI { return app.Div().Class("row").Body(p.s.engine("ask-engine-")) }),
		app.If(p.s.Answer().State == page.Answered, func() app.UI { return p.weighed() }),
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
	off, least, most := 0.0, w.Lo, w.Hi
	switch {
	case w.Charge < w.Label*(1-w.Tolerance):
		key, off, least, most = "readings.weighed.short", w.Label-w.Charge, w.Label-w.Hi, w.Label-w.Lo
	case w.Charge > w.Label*(1+w.Tolerance):
		key, off, least, most = "readings.weighed.over", w.Charge-w.Label, w.Lo-w.Label, w.Hi-w.Label
	}
	return app.P().ID("weighed").Class("tech").Text(p.s.Words.T(key, "mass", mass(w.Charge), "label", mass(w.Label),
		"off", mass(off), "least", mass(least), "most", mass(most)))
}

// firstAsked are the numbers that are asked first.
var firstAsked = []present.FieldID{present.FieldID(car.Low), present.FieldID(car.High), present.Ambient}

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
			app.P().Class("say").Text(p.s.unusable()), app.P().Text(w.T("readings.invalid.then")))
	case page.Resting:
		return app.Div().Class("empty").Body(app.P().Class("say").Text(p.s.Said().Bar))
	case page.Loading:
		return app.Div().Class("empty").Body(app.P().Class("say soft").Text(w.T("readings.busy")))
	}
	items := []app.UI{app.P().Class("say").Text(w.T("readings.empty.title"))}
	for _, id := range a.Missing {
		if len(a.Missing) == len(firstAsked) {
			break // the title names them all
		}
		items = append(items, app.P().Text(w.T("readings.empty.missing_"+string(id))))
	}
	items = append(items, app.P().Class("soft").Text(w.T("readings.empty.then")))
	if len(a.Missing) == len(firstAsked) { // the gauges are not coupled yet
		items = append(items, app.H3().Text(w.T("readings.before_coupling")),
			p.s.Cautions("cautions-first", present.Cautions(present.StepRead, p.s.Case().Car)))
	}
	return app.Div().Class("empty").Body(items...)
}

// doubts are questions about the readings themselves; they come before any
// condition of the car.
func (p *answerPanel) doubts() app.UI {
	var items []app.UI
	for _, q := range p.s.Answer().Report.Questions {
		items = append(items, app.Div().Class("msg tight").Body(page.Told(p.s.Voice().Warning(q))...))
	}
	if len(items) == 0 {
		return nil
	}
	return app.Section().ID("questions").Class("tight").Body(items...)
}

// rankingPanel lists what it may be, the likeliest first.
type rankingPanel struct {
	app.Compo
	Lang         string
	Answer, Plan int // revisions of what it shows

	s    *Place
	rows page.Unfolder // conditions whose catalogue page is open
	rest bool          // the unlikely conditions are unfolded
}

func (p *rankingPanel) Render() app.UI {
	w, said := p.s.Words, p.s.Said()
	if len(said.Candidates) == 0 {
		return app.Section().ID("odds").Hidden(true)
	}
	p.rows.On = p.s.Page
	var open, rest []app.UI
	folded := 0
	for i, c := range said.Candidates {
		switch {
		case i < said.Open, p.rows.Open[c.ID]: // what is being read stays
			open = append(open, p.ranked(c))
		case p.rest: // folded rows are not built: they would change with every key
			rest = append(rest, p.ranked(c))
			fallthrough
		default:
			folded++
		}
	}
	return app.Section().ID("odds").Class("card").Aria("labelledby", "ranking-title").Body(
		app.H2().ID("ranking-title").Text(w.T("readings.ranking")),
		app.Ol().ID("ranking").Class("ranks").Body(open...),
		app.If(folded > 0, func() app.UI {
			return app.Details().ID("ranking-rest").Body(
				app.Summary().Class("small soft").Text(w.T("readings.rest", "n", folded)),
				app.Ol().Class("ranks").Body(rest...)).On("toggle", p.unfoldRest)
		}),
	)
}

func (p *rankingPanel) unfoldRest(ctx app.Context, _ app.Event) {
	p.rest = ctx.JSSrc().Get("open").Bool()
}

func (p *rankingPanel) ranked(c claim.Candidate) app.UI {
	return app.Li().DataSet("condition", string(c.ID)).Body(
		p.rows.Row(c.ID, "rank",
			app.Span().Class("what").Text(p.s.Words.ShortName(c.ID)),
			app.Span().Class("chance").Text(c.Chance),
			page.ChanceBar(c.Probability),
		),
		p.pairLine(c.ID),
		p.rows.Page(c.ID),
	)
}

// pairLine names the two that fit together, where the readings tell.
func (p *rankingPanel) pairLine(id car.ConditionID) app.UI {
	r := p.s.Answer().Report
	if id != car.Combination || r.PairA == "" || r.PairB == "" {
		return nil
	}
	return app.P().ID("pair").Class("small").Text(p.s.Words.T("readings.pair", "first", p.s.Words.InText(r.PairA), "second", p.s.Words.InText(r.PairB)))
}

// reasonsPanel says why, one line for each reading. It is read after the answer, and
// follows with the next measurement once the answer is on screen.
type reasonsPanel struct {
	app.Compo
	Lang string
	Plan int // revision of what it shows

	s *Place
}

func (p *reasonsPanel) Render() app.UI {
	if p.s.Answer().State != page.Answered || p.s.Said().AskEngine {
		return app.Section().ID("reasons").Hidden(true)
	}
	r := p.s.Answer().Report
	return app.Section().ID("reasons").Class("card tight").Aria("labelledby", "why-title").Body(
		app.H2().ID("why-title").Text(p.s.Words.T("readings.why", "condition", p.s.Words.InText(r.Ranking[0].ID))),
		app.If(r.Group != "", func() app.UI {
			return app.P().ID("pattern").Class("small soft").Text(p.s.Words.T("group." + string(r.Group) + ".tech"))
		}),
		app.If(len(r.Evidence) > 0, func() app.UI { return p.why() }),
		app.If(len(r.Warnings) > 0, func() app.UI { return p.notes() }),
	)
}

func (p *reasonsPanel) why() app.UI {
	var items []app.UI
	for _, e := range p.s.Answer().Report.Evidence {
		line, sign := claim.Reason(p.s.Voice(), e, p.s.Answer().Report)
		items = append(items, app.Li().DataSet("quantity", string(e.Quantity)).Body(
			app.Span().Class("sign").Aria("hidden", true).Text(sign), app.Span().Text(line)))
	}
	return app.Ul().ID("why").Class("why").Body(items...)
}

func (p *reasonsPanel) notes() app.UI {
	var items []app.UI
	for _, n := range p.s.Answer().Report.Warnings {
		m := p.s.Voice().Warning(n)
		items = append(items, app.Li().Body(app.Text(m.Sentences())))
	}
	return app.Details().ID("notes").Body(
		app.Summary().Class("small").Text(p.s.Words.T("readings.notes")),
		app.Ul().Class("list small tight").Body(items...),
	)
}
