package practice

import (
	"maps"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/claim"
	"twoneedles/app/internal/browser"
	"twoneedles/app/page"
	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/practice"
	"twoneedles/refrig/sim"
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
	search  *practice.Search // nil until it is over
	err     error            // why the plan broke off
}

// markIt marks the answer. The verdict is on screen before the plan is worked
// out, which takes a diagnosis for every step.
func (p *view) markIt() {
	if !p.drill.Given.complete() || p.review != nil {
		return
	}
	r := &review{}
	err := p.ask.Now(func(m *diagnose.Model) (err error) {
		if r.mark, err = p.desk.Mark(m, p.drill.Given.answer()); err == nil {
			r.plane, r.err = m.Plane(p.desk.Case(), r.lines())
		}
		return err
	})
	if err != nil {
		p.failure, p.desk = p.s.Voice().Error(err), nil
		return
	}
	p.review = r
	p.progress.Record(p.drill.Level, r.mark)
	p.store.Set(keyProgress, p.progress.Text()) // where storing is refused, progress ends with the page
	if p.drill.Class {
		p.drill.Answers = maps.Clone(p.drill.Answers) // what was kept of the drill before stays as it was
		if p.drill.Answers == nil {
			p.drill.Answers = map[int]answer{}
		}
		p.drill.Answers[p.drill.At] = answerOf(r.mark)
		if p.drill.last() {
			p.finish()
		}
	}
	p.keep(p.afterThis()) // a page loaded from here on begins with the next case
	p.said = ""
	p.ctx.Defer(func(app.Context) { browser.Reveal("review-title") })

	puzzle := p.desk.Puzzle
	p.ask.Ask(p.ctx, func(_ app.Context, err error) { r.err, r.planned = err, true },
		func(m *diagnose.Model, deliver func(func(app.Context)) bool) error {
			for step, err := range practice.Plan(m, puzzle) {
				if err != nil {
					return err
				}
				if !deliver(func(app.Context) { r.plan = append(r.plan, step) }) {
					return nil
				}
			}
			deliver(func(app.Context) { r.planned = true })
			return nil
		},
		func(m *diagnose.Model, deliver func(func(app.Context)) bool) error {
			for s := practice.NewSearch(m, puzzle); ; {
				over, err := s.Go(triedAtOnce)
				if err != nil {
					return err
				}
				if !deliver(func(app.Context) {
					if over {
						r.search = s
					}
				}) || over {
					return nil
				}
			}
		})
}

// triedAtOnce is how many combinations are tried before the browser has its turn: a few
// hundredths of a second on a slow phone.
const triedAtOnce = 20

// afterThis is the drill at its next case.
func (p *view) afterThis() drill {
	next := p.drill
	if next.last() {
		return p.freshDrill(next.Level)
	}
	next.At++
	next.Bought, next.Given = nil, answerGiven{}
	return next
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
func (p *view) reviewCard() app.UI {
	w, k := p.s.Words, p.review.mark
	said := w.T("practice.cannot_tell")
	chance := ""
	if !k.Answer.CannotTell() {
		said = p.s.Words.InText(k.Answer.Condition)
		for _, c := range p.claimed().Candidates {
			if c.ID == k.Answer.Condition {
				chance = c.Chance // as the list below says it
			}
		}
	}
	args := map[string]any{"said": said, "chance": chance, "want": p.s.Words.InText(k.Want)}
	return app.Section().ID("review").Class("card stack review").Aria("labelledby", "review-title").Body(
		app.H2().ID("review-title").Class("say").TabIndex(-1).DataSet("outcome", string(k.Outcome)).
			Text(w.T("practice.outcome."+string(k.Outcome)+".title")),
		app.P().ID("truth").Class("truth").Text(p.truthText(k.Truth)),
		app.P().Text(w.Text("practice.outcome."+string(k.Outcome)+".text", args)),
		app.Dl().Class("tally").Body(
			app.Div().Body(app.Dt().Text(w.T("practice.points")), app.Dd().ID("points").Text(p.points(k.Points))),
			app.Div().Body(app.Dt().Text(w.T("practice.yours")), app.Dd().ID("your-minutes").Text(p.minutes(k.Minutes))),
			app.Div().Body(app.Dt().Text(w.T("practice.plans")), app.Dd().ID("plan-minutes").Text(p.planMinutes())),
		),
		app.Div().Class("row").Body(
			page.Button("next-case", "btn main", p.nextText(), func() {
				if p.next(); p.screen == theCase {
					p.ctx.Defer(func(app.Context) { browser.EnterPlace(false) })
				}
			}),
		),
		p.because(),
		p.reviewPicture(),
		p.weighed(),
		p.planPart(),
		p.shortPart(),
		app.Details().Class("settings").Body(
			app.Summary().Text(w.T("practice.score.title")),
			app.Div().Class("tight small").Body(app.P().Text(w.T("practice.score.how")), app.P().Text(w.T("practice.score.why")),
				app.P().Text(w.T("practice.score.wait")), app.P().Text(w.T("practice.score.minutes"))),
		),
	)
}

func (p *view) nextText() string {
	switch {
	case !p.drill.last():
		return p.s.Words.T("practice.next_of")
	case p.drill.Class:
		return p.s.Words.T("practice.to_result")
	}
	return p.s.Words.T("practice.next")
}

// truthText says what had been done to the car, and how much.
func (p *view) truthText(t sim.Truth) string {
	w := p.s.Words
	switch {
	case t.Second != "":
		return w.T("practice.truth.pair", "first", p.s.Words.InText(t.Cause), "second", p.s.Words.InText(t.Second))
	case t.Reserve:
		return w.T("practice.truth.reserve", "condition", p.s.Words.InText(t.Cause))
	case t.Cause == car.Undercharge, t.Cause == car.Overcharge:
		return w.T("practice.truth.charge", "condition", p.s.Words.InText(t.Cause),
			"share", p.s.Voice().Quantity(t.ChargeShare, unit.Fraction))
	case !practice.Graded(t.Cause):
		return w.T("practice.truth.plain", "condition", p.s.Words.InText(t.Cause))
	}
	return w.T("practice.truth."+severity(t.Severity), "condition", p.s.Words.InText(t.Cause))
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

func (p *view) planMinutes() string {
	if !p.review.planned {
		return p.s.Words.T("practice.working")
	}
	sum := 0.0
	for _, s := range p.review.plan {
		sum += s.Minutes
	}
	return p.minutes(sum)
}

// reviewPicture shows the reading against healthy cars, with the way of what it
// was and of what was said.
func (p *view) reviewPicture() app.UI {
	r := p.review
	if len(r.plane.Regions) == 0 {
		return app.Figure().Hidden(true)
	}
	if o := p.s.ChartOptions("review-plane"); r.figure == nil || r.units != o.Units {
		f, err := chart.Plane(r.plane, page.ChartReading(p.desk.Case()), r.lines(), o)
		if err != nil {
			return app.Figure().Body(p.s.Failed(err))
		}
		r.figure, r.units = &f, o.Units
	}
	return app.Figure().ID("review-figure").Body(app.Raw(r.figure.SVG), p.s.FigureText(*r.figure))
}

// claimed is what the page says of the report: its chances are those of Readings.
func (p *view) claimed() claim.Claim { return claim.Of(p.s.Words, p.review.mark.Report, nil, true) }

// weighed is what the diagnosis makes of the same readings: what a careful
// technician would have claimed, and what each reading said.
func (p *view) weighed() app.UI {
	w, r, said := p.s.Words, p.review.mark.Report, p.claimed()
	var ranks, why []app.UI
	for _, c := range said.Candidates[:said.Open] {
		ranks = append(ranks, app.Li().Body(
			app.Span().Class("what").Text(p.s.Words.ConditionName(c.ID)), app.Span().Class("chance").Text(c.Chance),
			page.ChanceBar(c.Probability)))
	}
	for _, e := range r.Evidence {
		line, sign := claim.Reason(p.s.Voice(), e, r)
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
func (p *view) planPart() app.UI {
	w, r := p.s.Words, p.review
	var steps []app.UI
	for _, s := range r.plan {
		key := "practice.plan.leads"
		if s.Settled {
			key = "practice.plan.settles"
		}
		says := w.T(key, "condition", p.s.Words.InText(s.Leader), "chance", w.Chance(s.Chance))
		what := w.T("practice.plan.start")
		if s.Quantity != "" {
			what = w.T("practice.plan.step", "quantity", p.s.Words.QuantityName(s.Quantity), "minutes", p.minutes(s.Minutes),
				"value", p.s.Voice().Reading(s.Quantity, p.desk.Puzzle.Case.Readings[s.Quantity]))
		}
		steps = append(steps, app.Li().Body(app.Strong().Text(what), app.Span().Text(says)))
	}
	end := w.T("practice.plan.about")
	if n := len(r.plan); r.planned && n > 0 && !r.plan[n-1].Settled {
		end = w.T("practice.plan.open")
	}
	if r.err != nil {
		end = p.s.Voice().Error(r.err).What
	}
	return app.Div().Class("tight").Body(
		app.H3().Text(w.T("practice.plan.title")),
		app.Ol().ID("plan").Class("plan").DataSet("done", page.Pressed(r.planned)).Body(steps...),
		app.P().Class("soft small").Text(end),
	)
}

// shortPart lays the shortest way there was beside what the student did.
func (p *view) shortPart() app.UI {
	w, s := p.s.Words, p.review.search
	list := func(qs []car.Quantity) string {
		var names []string
		for _, q := range qs {
			if q == car.HighIdle {
				names = append(names, w.T("practice.short.idle"))
				continue
			}
			names = append(names, w.T("quantity."+string(q)+".in_text"))
		}
		return p.s.Words.List(names)
	}
	yours := w.T("practice.short.yours_none")
	if d := p.desk; len(d.Bought()) > 0 {
		yours = w.T("practice.short.yours", "list", list(d.Bought()), "minutes", p.minutes(d.Minutes()))
	}
	found, about := w.T("practice.working"), ""
	if s != nil {
		about = w.T("practice.short.about", "n", s.Tried)
		args := []any{"condition", p.s.Words.InText(p.review.mark.Want), "chance", w.Chance(s.Chance), "enough", w.Chance(practice.SettledAt)}
		switch {
		case s.Found && len(s.Way) == 0:
			found = w.T("practice.short.needles", args...)
		case s.Found:
			found = w.T("practice.short.found", append(args, "list", list(s.Way), "minutes", p.minutes(s.Minutes()))...)
		case s.All():
			found = w.T("practice.short.open", args...)
		default:
			found = w.T("practice.short.gave_up", append(args, "n", s.Tried)...)
		}
	}
	return app.Div().Class("tight").Body(
		app.H3().Text(w.T("practice.short.title")),
		app.P().ID("your-way").Text(yours),
		app.P().ID("short-way").DataSet("done", page.Pressed(s != nil)).Text(found),
		app.P().Class("soft small").Hidden(about == "").Text(about),
	)
}
