package app

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/practice"
	"twoneedles/refrig/unit"
)

// review is a marked answer with what belongs to it.
type review struct {
	mark    practice.Mark
	plane   diagnose.Plane
	figure  *chart.Figure // drawn from plane when first shown, and when units change
	units   unit.Units
	plan    []practice.Step
	planned bool
	err     error // why the plan broke off
}

// markIt marks the answer. The verdict is on screen before the plan is worked
// out, which takes a diagnosis for every step.
func (p *practicePage) markIt() {
	if !p.answer.complete() || p.review != nil {
		return
	}
	mark, err := p.desk.Mark(p.model, p.answer.answer())
	if err != nil {
		p.failure, p.desk = p.s.voice().Error(err), nil
		return
	}
	p.review = &review{mark: mark}
	p.review.plane, p.review.err = p.model.Plane(p.desk.Case(), p.review.lines())
	p.progress.Record(p.drill.Level, mark)
	p.store.Set(keyProgress, p.progress.Text()) // where storing is refused, progress ends with the page
	p.afterThis()
	p.said = ""
	p.ctx.Defer(func(app.Context) { reveal("review-title") })

	p.turn++
	turn, m, puzzle, r := p.turn, p.model, p.desk.Puzzle, p.review
	p.ctx.Async(func() {
		for step, err := range practice.Plan(m, puzzle) {
			p.ctx.Dispatch(func(app.Context) {
				if r.err = err; err == nil {
					r.plan = append(r.plan, step)
				}
			})
			time.Sleep(breath)
			if turn != p.turn {
				return
			}
		}
		p.ctx.Dispatch(func(app.Context) { r.planned = true })
	})
}

// afterThis makes a page loaded from here on begin with the next case.
func (p *practicePage) afterThis() {
	at := p.drill
	if at.At+1 < len(at.Cases) {
		at.At++
	} else {
		at = drill{Level: at.Level, Cases: []int{p.progress.Next(at.Level, uint64(time.Now().UnixNano()))}}
	}
	at.Bought = nil
	keep := p.drill
	p.drill = at
	p.keepDrill()
	p.drill = keep
}

// lines are the conditions whose way from healthy the picture shows: what it
// was, and what was said.
func (r *review) lines() []car.ConditionID {
	var out []car.ConditionID
	add := func(id car.ConditionID) {
		if id != "" && id != car.Healthy && (len(out) == 0 || out[0] != id) {
			out = append(out, id)
		}
	}
	if t := r.mark.Truth; t.Second != "" {
		add(t.Cause)
		add(t.Second)
	} else {
		add(r.mark.Want)
	}
	add(r.mark.Answer.Condition)
	return out
}

// reviewCard says what the answer was worth and why.
func (p *practicePage) reviewCard() app.UI {
	w, k := p.s.words, p.review.mark
	said := w.T("practice.cannot_tell")
	chance := ""
	if !k.Answer.CannotTell() {
		said, chance = p.s.inText(k.Answer.Condition), w.Chance(k.Given)
	}
	args := map[string]any{"said": said, "chance": chance, "want": p.s.inText(k.Want)}
	return app.Section().ID("review").Class("card stack review").Aria("labelledby", "review-title").Body(
		app.H2().ID("review-title").Class("say").TabIndex(-1).DataSet("outcome", string(k.Outcome)).
			Text(w.T("practice.outcome."+string(k.Outcome)+".title")),
		app.P().ID("truth").Class("truth").Text(p.truthText()),
		app.P().Text(w.Text("practice.outcome."+string(k.Outcome)+".text", args)),
		app.Dl().Class("tally").Body(
			app.Div().Body(app.Dt().Text(w.T("practice.points")), app.Dd().ID("points").Text(p.points(k.Points))),
			app.Div().Body(app.Dt().Text(w.T("practice.yours")), app.Dd().ID("your-minutes").Text(p.minutes(k.Minutes))),
			app.Div().Body(app.Dt().Text(w.T("practice.plans")), app.Dd().ID("plan-minutes").Text(p.planMinutes())),
		),
		app.Div().Class("row").Body(
			app.Button().ID("next-case").Type("button").Class("btn main").Text(p.nextText()).
				OnClick(func(app.Context, app.Event) {
					p.next()
					p.ctx.Defer(func(app.Context) { enterPlace(false) })
				}),
		),
		p.reviewPicture(),
		p.weighed(),
		p.planPart(),
		app.Details().Class("settings").Body(
			app.Summary().Text(w.T("practice.score.title")),
			app.Div().Class("tight small").Body(app.P().Text(w.T("practice.score.how")), app.P().Text(w.T("practice.score.why")),
				app.P().Text(w.T("practice.score.wait"))),
		),
	)
}

func (p *practicePage) nextText() string {
	if p.drill.At+1 < len(p.drill.Cases) {
		return p.s.words.T("practice.next_of")
	}
	return p.s.words.T("practice.next")
}

// truthText says what had been done to the car, and how much.
func (p *practicePage) truthText() string {
	w, t := p.s.words, p.review.mark.Truth
	switch {
	case t.Second != "":
		return w.T("practice.truth.pair", "first", p.s.inText(t.Cause), "second", p.s.inText(t.Second))
	case t.Reserve:
		return w.T("practice.truth.reserve", "condition", p.s.inText(t.Cause))
	case t.Cause == car.Undercharge, t.Cause == car.Overcharge:
		return w.T("practice.truth.charge", "condition", p.s.inText(t.Cause),
			"share", p.s.voice().Quantity(t.ChargeShare, unit.Fraction))
	case !practice.Graded(t.Cause):
		return w.T("practice.truth.plain", "condition", p.s.inText(t.Cause))
	}
	return w.T("practice.truth."+severity(t.Severity), "condition", p.s.inText(t.Cause))
}

// severity names thirds of the scale from just a fault to a severe one.
func severity(x float64) string {
	switch {
	case x < 1./3:
		return "slight"
	case x < 2./3:
		return "clear"
	}
	return "severe"
}

func (p *practicePage) planMinutes() string {
	if !p.review.planned {
		return p.s.words.T("practice.working")
	}
	sum := 0.0
	for _, s := range p.review.plan {
		sum += s.Minutes
	}
	return p.minutes(sum)
}

// reviewPicture shows the reading against healthy cars, with the way of what it
// was and of what was said.
func (p *practicePage) reviewPicture() app.UI {
	r := p.review
	if len(r.plane.Regions) == 0 {
		return app.Figure().Hidden(true)
	}
	if o := p.s.chartOptions("review-plane"); r.figure == nil || r.units != o.Units {
		f, err := chart.Plane(r.plane, chartReading(p.desk.Case()), r.lines(), o)
		if err != nil {
			return app.Figure().Body(app.P().Class("msg").Text(p.s.voice().Error(err).What))
		}
		r.figure, r.units = &f, o.Units
	}
	return app.Figure().ID("review-figure").Body(app.Raw(r.figure.SVG), p.s.figureText(*r.figure))
}

// weighed is what the diagnosis makes of the same readings: what a careful
// technician would have claimed, and what each reading said.
func (p *practicePage) weighed() app.UI {
	w, r := p.s.words, p.review.mark.Report
	var ranks, why []app.UI
	for i, c := range r.Ranking {
		if i > 0 && (i >= shownConditions || c.Probability < unlikely) {
			break
		}
		ranks = append(ranks, app.Li().Body(
			app.Span().Class("what").Text(p.s.conditionName(c.ID)), app.Span().Class("chance").Text(w.Chance(c.Probability)),
			chanceBar(c.Probability)))
	}
	for _, e := range r.Evidence {
		line, sign := p.s.reason(e, r)
		why = append(why, app.Li().Body(app.Span().Class("sign").Aria("hidden", true).Text(sign), app.Span().Text(line)))
	}
	return app.Div().Class("tight").Body(
		app.H3().Text(w.T("practice.weighed")),
		app.Ol().ID("weighed").Class("ranks").Body(ranks...),
		app.H3().Text(w.T("practice.why")),
		app.Ul().ID("practice-why").Class("why").Body(why...),
	)
}

// planPart walks the way the diagnosis would have gone.
func (p *practicePage) planPart() app.UI {
	w, r := p.s.words, p.review
	var steps []app.UI
	for _, s := range r.plan {
		key := "practice.plan.leads"
		if s.Settled {
			key = "practice.plan.settles"
		}
		says := w.T(key, "condition", p.s.inText(s.Leader), "chance", w.Chance(s.Chance))
		what := w.T("practice.plan.start")
		if s.Quantity != "" {
			what = w.T("practice.plan.step", "quantity", p.s.quantityName(s.Quantity), "minutes", p.minutes(s.Minutes),
				"value", p.s.readingText(s.Quantity, p.desk.Puzzle.Case.Readings[s.Quantity]))
		}
		steps = append(steps, app.Li().Body(app.Strong().Text(what), app.Span().Text(says)))
	}
	end := w.T("practice.plan.about")
	if n := len(r.plan); r.planned && n > 0 && !r.plan[n-1].Settled {
		end = w.T("practice.plan.open")
	}
	if r.err != nil {
		end = p.s.voice().Error(r.err).What
	}
	return app.Div().Class("tight").Body(
		app.H3().Text(w.T("practice.plan.title")),
		app.Ol().ID("plan").Class("plan").DataSet("done", pressed(r.planned)).Body(steps...),
		app.P().Class("soft small").Text(end),
	)
}
