package readings

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/claim"
	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// nextPanel says what to do next: which measurement would tell most, with the field for
// it, how it is made, what each result would mean, and what to mind while making it.
type nextPanel struct {
	app.Compo
	Lang        string
	Plan        int // revision of what it shows
	Job, Answer int // the same while a measurement is being typed

	s    *Place
	open car.Quantity // the other measurement that is unfolded
}

// held is the card as it was when somebody began to type a measurement in it: it stays
// so, or the field would go away under the finger as soon as the next step changes.
type held struct {
	of   car.Quantity
	text string // what was typed so far
	step claim.Step
	next []diagnose.Next
	was  claim.Claim // what was said before
}

// hold keeps the card while q is typed in it.
func (s *Place) hold(q car.Quantity) {
	if s.held != nil && s.held.of == q {
		return
	}
	step, next := s.stepAndNext()
	s.held = &held{of: q, text: s.typedOf(q), step: step, next: next, was: s.Said()}
}

// stepAndNext is what the card shows.
func (s *Place) stepAndNext() (claim.Step, []diagnose.Next) {
	if s.held != nil {
		return s.held.step, s.held.next
	}
	said := s.Said()
	if len(said.Candidates) == 0 {
		return said.Step, nil
	}
	return said.Step, s.Answer().Report.Next
}

// letGo frees the card when something else was changed than what is typed in it.
func (s *Place) letGo() {
	if s.held == nil {
		return
	}
	if text := s.typedOf(s.held.of); text != s.held.text {
		s.held.text = text
		return
	}
	s.held = nil
}

// typedOf is what was typed of a measurement, with what is asked beside it.
func (s *Place) typedOf(q car.Quantity) string {
	text := s.Typed(page.TextOf(present.FieldID(q)))
	switch q {
	case car.Resting:
		text += "\n" + s.Typed(page.TextOf(present.Soak)) + "\n" + page.Pressed(s.Job.Repair.Soaked)
	case car.Recovered:
		text += "\n" + s.Typed(page.TextOf(present.LabelCharge))
	}
	return text
}

func (p *nextPanel) Render() app.UI {
	s, w := p.s, p.s.Words
	step, next := s.stepAndNext()
	if step.Text == "" {
		// An element without content keeps its place, so that go-app does not
		// move its neighbours.
		return app.Section().ID("next").Hidden(true)
	}
	body := []app.UI{app.H2().ID("next-title").Text(w.T("readings.next.title"))}
	others := "readings.next.surer"
	if len(next) > 0 && step.Measure == next[0].Quantity {
		body = append(body, p.measurement(next[0], "")...)
		next, others = next[1:], "readings.next.others"
	} else {
		body = append(body, app.P().ID("next-ask").Class("ask").Text(step.Text))
		if s.Answer().State == page.Resting {
			fresh, _ := present.NewCautions(present.StepRead, present.StepResting, s.Case().Car)
			body = append(body, s.Cautions("cautions", fresh), app.Div().Class("row").Body(page.Button("start-engine", "btn", w.T("readings.rest.running"), func() {
				s.SetEngine(job.EngineOn)
				s.Then(func() { browser.ShowTop("inputs"); browser.Focus("low") })
			})), app.A().Class("way").Href(page.Href("/job")).Text(w.T("readings.rest.more")))
		}
	}
	if len(next) > 0 {
		body = append(body, p.others(next, w.T(others)))
	}
	return app.Section().ID("next").TabIndex(-1).Class("card next tight").Aria("labelledby", "next-title").Body(body...)
}

// measurement is one that is proposed: its field first, then what to know of it. The
// ids of the first have no prefix.
func (p *nextPanel) measurement(n diagnose.Next, prefix string) []app.UI {
	s, w := p.s, p.s.Words
	name := app.UI(app.Label().For(askedText(n.Quantity).HTML()).Text(w.T("readings.step.measure", "quantity", w.T("quantity."+string(n.Quantity)+".in_text"))))
	return []app.UI{
		app.Div().ID("next-of-"+string(n.Quantity)).Class("tight asked").Body(
			app.P().ID(prefix+"next-ask").Class("ask").DataSet("quantity", string(n.Quantity)).Body(name),
			p.field(n.Quantity),
			p.change(n.Quantity),
		),
		s.Cautions(prefix+"cautions", s.hazards(n)),
		p.outcomes(n, prefix+"outcomes"),
		app.Details().ID(prefix+"how").Body(
			app.Summary().Class("small").Text(w.T("readings.next.how", "minutes", s.Voice().Quantity(n.Minutes*60, unit.Duration))),
			app.P().Text(w.T("quantity."+string(n.Quantity)+".how"))),
	}
}

// askedText is the text of a measurement in this card; that among the further
// measurements is the same.
func askedText(q car.Quantity) page.Text { return page.Text{Field: present.FieldID(q), Again: true} }

// keypadOpens is about how long a keypad takes to open, and a finger to leave the screen:
// nothing moves under it (judgement).
const keypadOpens = 300 * time.Millisecond

// field is where the measurement is typed.
func (p *nextPanel) field(q car.Quantity) app.UI {
	s, t := p.s, askedText(q)
	return app.Div().Class("tight").Body(
		app.Div().Class("entry").Body(
			s.Input(t).Placeholder("–").
				OnFocus(func(ctx app.Context, _ app.Event) {
					ctx.JSSrc().Call("select")
					s.hold(q)
					s.Later(keypadOpens, func() { browser.AboveKeypad("next-of-" + string(q)) })
				}, app.EventScope("hold", q)).
				OnKeyDown(p.entered, app.EventScope("entered", q)),
			app.Span().Class("unit").Text(s.UnitBeside(t)),
		),
		s.Messages(t),
		app.If(q == car.Recovered && s.Case().Car.LabelCharge == 0, func() app.UI {
			return s.Field("readings", page.Text{Field: present.LabelCharge, Again: true}, "–")
		}),
		app.If(q == car.Resting, func() app.UI { return s.rested("again-") }),
	)
}

// entered takes the Next key for "on to the next step".
func (p *nextPanel) entered(ctx app.Context, e app.Event) {
	if e.Get("key").String() != "Enter" {
		ctx.PreventUpdate()
		return
	}
	e.PreventDefault()
	p.goOn()
}

// goOn shows the next step as it is now.
func (p *nextPanel) goOn() {
	s := p.s
	s.held, p.open = nil, ""
	s.Then(func() {
		browser.ShowTop("next")
		if q := s.Said().Step.Measure; q != "" {
			browser.Focus(askedText(q).HTML())
		}
	})
}

// change says what the measurement that is being typed has changed, beside its field,
// and leads on.
func (p *nextPanel) change(q car.Quantity) app.UI {
	s := p.s
	h := s.held
	if h == nil || h.of != q || !s.Made(q) || s.Answer().State != page.Answered {
		return app.Div().Hidden(true)
	}
	reading, read := s.Answer().Of.Readings[q]
	if !read {
		return app.Div().Hidden(true)
	}
	now := s.Said()
	return app.Div().ID("change").Class("tight").Role("status").Body(
		app.P().Body(app.Strong().Text(s.changed(s.Voice().Reading(q, reading), h.was, now))),
		page.Button("go-on", "btn main", s.Words.T("readings.step.on"), p.goOn),
	)
}

// changed says how the chance of what led and of what leads has changed with a reading.
func (s *Place) changed(reading string, was, now claim.Claim) string {
	w := s.Words
	chance := func(said claim.Claim, id car.ConditionID) string {
		for _, c := range said.Candidates {
			if c.ID == id {
				return c.Chance
			}
		}
		return w.T("chance.unknown")
	}
	line := func(id car.ConditionID) string {
		before, after := chance(was, id), chance(now, id)
		if before == after {
			return w.T("readings.step.same", "condition", s.Words.ShortName(id), "chance", after)
		}
		return w.T("readings.step.changed", "condition", s.Words.ShortName(id), "before", before, "after", after)
	}
	lead, led := now.Candidates[0].ID, was.Candidates[0].ID
	text := line(lead)
	if led != lead {
		text = w.T("readings.two_sentences", "first", text, "second", line(led))
	}
	return w.T("readings.step.with", "reading", reading, "text", text)
}

// outcomes says what each result would mean. Where every result leaves the same
// condition in the lead, that is what there is to say.
func (p *nextPanel) outcomes(n diagnose.Next, id string) app.UI {
	s, w := p.s, p.s.Words
	if len(n.Outcomes) == 0 {
		return nil
	}
	if leader := n.Outcomes[0].Leader; oneLeader(n.Outcomes) {
		if s.held == nil && leader != s.Answer().Report.Ranking[0].ID {
			return nil // every result cannot speak for another: the model is at its edge
		}
		return app.P().ID(id).Text(w.T("readings.next.same", "condition", s.Words.InText(leader)))
	}
	items := make([]app.UI, len(n.Outcomes))
	for i, o := range n.Outcomes {
		items[i] = app.Li().Body(
			app.Span().Class("when").Text(s.outcomeRange(n.Quantity, o)),
			app.Span().Class("then").Text(w.T("readings.next.means", "condition", s.Words.ShortName(o.Leader), "chance", w.Chance(o.LeaderChance))),
		)
	}
	return app.Div().Body(
		app.H3().Class("sr").Text(w.T("readings.next.outcomes")),
		app.Ul().ID(id).Class("outcomes").Body(items...),
	)
}

func oneLeader(outcomes []diagnose.Outcome) bool {
	for _, o := range outcomes {
		if o.Leader != outcomes[0].Leader {
			return false
		}
	}
	return true
}

// outcomeRange names the values an outcome stands for.
func (s *Place) outcomeRange(q car.Quantity, o diagnose.Outcome) string {
	w := s.Words
	kind := q.Info().Kind
	text := func(r string) string { return r }
	if q == car.Recovered {
		text = func(r string) string { return w.T("readings.next.of_label", "share", r) }
	}
	switch {
	case o.OpenLo:
		return text(w.T("readings.next.below", "hi", s.Voice().Quantity(o.Hi, kind)))
	case o.OpenHi:
		return text(w.T("readings.next.above", "lo", s.Voice().Quantity(o.Lo, kind)))
	}
	return text(s.Voice().Range(o.Lo, o.Hi, kind))
}

// others offers what tells less for the time; one at a time unfolds.
func (p *nextPanel) others(rest []diagnose.Next, title string) app.UI {
	const most = 2 // in one line of a phone; the others are among the further measurements
	s := p.s
	var chips, unfolded []app.UI
	for _, n := range rest[:min(len(rest), most)] {
		open := n.Quantity == p.open
		chips = append(chips, page.Button("other-"+string(n.Quantity), "chip", s.Words.QuantityName(n.Quantity), func() {
			s.held = nil
			if p.open == n.Quantity {
				p.open = ""
			} else {
				p.open = n.Quantity
			}
		}).Aria("expanded", page.Pressed(open)))
		if open {
			unfolded = p.measurement(n, "other-")
		}
	}
	return app.Div().Class("tight others").Body(
		app.P().Class("soft small").Text(title),
		app.Div().Class("row").Body(chips...),
		app.Div().ID("other").Class("tight").Body(unfolded...),
	)
}

// hazards are the cautions of a measurement where the hand is: its own. Those of every
// step with the gauges on the car stand before coupling; a recovery is a step of its own
// and has all of its.
func (s *Place) hazards(n diagnose.Next) []string {
	if n.Quantity == car.Recovered {
		return present.Cautions(present.StepRecover, s.Case().Car)
	}
	if n.Hazard == "" {
		return nil
	}
	return []string{n.Hazard}
}
