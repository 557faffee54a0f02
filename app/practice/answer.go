package practice

import (
	"math"
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/page"
	"twoneedles/refrig/car"
	"twoneedles/refrig/practice"
)

// measureCard shows what was measured and sells what was not.
func (p *view) measureCard() app.UI {
	w, d := p.s.Words, p.desk
	var made, offers []app.UI
	c := d.Case()
	line := func(q car.Quantity) app.UI {
		return app.Li().DataSet("quantity", string(q)).Body(
			app.Span().Class("what").Text(p.s.Words.QuantityName(q)),
			app.Span().Class("read").Text(p.s.Voice().Reading(q, c.Readings[q])))
	}
	for _, q := range d.Bought() {
		made = append(made, line(q))
		if _, ok := c.Readings[car.LowIdle]; ok && q == car.HighIdle {
			made = append(made, line(car.LowIdle))
		}
	}
	if p.review == nil {
		for _, o := range d.Offers() {
			offers = append(offers, p.offer(o))
		}
	}
	return app.Section().ID("measure").Class("card tight measure-card").Aria("labelledby", "measure-title").Body(
		app.Div().Class("row spread").Body(
			app.H2().ID("measure-title").TabIndex(-1).Text(w.T("practice.measure")),
			app.P().ID("spent").Class("small").Text(w.T("practice.spent", "minutes", p.minutes(d.Minutes()))),
		),
		app.Ul().ID("made").Class("made").Hidden(len(made) == 0).Body(made...),
		app.P().Class("soft small").Hidden(len(offers) == 0).Text(w.T("practice.measure_about")),
		app.Div().ID("offers").Class("offers").Role("group").Aria("label", w.T("practice.measure")).Body(offers...),
	)
}

func (p *view) offer(o practice.Offer) app.UI {
	w, q := p.s.Words, o.Quantity
	name := w.T("quantity." + string(q) + ".name")
	if q == car.HighIdle {
		name = w.T("practice.idle")
	}
	return app.Button().ID("buy-"+string(q)).Type("button").Class("chip").Body(
		app.Span().Text(name), app.Small().Text(p.minutes(o.Minutes))).
		OnClick(func(app.Context, app.Event) { p.buy(q) }, app.EventScope(q, p.turn))
}

// minutes writes whole minutes.
func (p *view) minutes(m float64) string {
	return p.s.Words.T("practice.minutes", "n", int(math.Round(m)))
}

// buy makes a measurement. The focus goes to the button that takes its place, so
// that the keyboard is not thrown back to the top.
func (p *view) buy(q car.Quantity) {
	at := 0
	for i, o := range p.desk.Offers() {
		if o.Quantity == q {
			at = i
		}
	}
	if !p.desk.Buy(q) {
		return
	}
	p.drill.Bought = p.desk.Bought()
	p.keep(p.drill)
	p.said = p.s.Words.T("practice.read", "quantity", p.s.Words.QuantityName(q), "value", p.s.Voice().Reading(q, p.desk.Case().Readings[q]))
	focusOn := "measure-title"
	if left := p.desk.Offers(); len(left) > 0 {
		focusOn = "buy-" + string(left[min(at, len(left)-1)].Quantity)
	}
	p.ctx.Defer(func(app.Context) { browser.Focus(focusOn) })
}

// answerGiven is the answer as far as it is given.
type answerGiven struct {
	Choice     string `json:"choice"`     // a condition, waiting, or "" for none yet
	Confidence int    `json:"confidence"` // place in practice.Confidences plus one; 0 is none yet
}

// give takes the answer as far as it is given, and keeps it with the case.
func (p *view) give(a answerGiven) {
	p.drill.Given = a
	p.keep(p.drill)
}

// of is the answer if it is one to the puzzle, else none: what a device kept may be anything.
func (a answerGiven) of(puzzle *practice.Puzzle) answerGiven {
	if a.Choice != "" && a.Choice != waiting && !slices.Contains(puzzle.Answers(), car.ConditionID(a.Choice)) || a.Confidence < 0 || a.Confidence > len(practice.Confidences) {
		return answerGiven{}
	}
	return a
}

// waiting is the choice "cannot tell yet".
const waiting = "cannot_tell"

func (a answerGiven) complete() bool {
	return a.Choice == waiting || a.Choice != "" && a.Confidence > 0
}

func (a answerGiven) answer() practice.Answer {
	if a.Choice == waiting {
		return practice.Answer{}
	}
	return practice.Answer{Condition: car.ConditionID(a.Choice), Confidence: practice.Confidences[a.Confidence-1]}
}

// answerCard takes the answer and how sure it is. It shows what is at stake
// before it is said: that is how the points teach honesty. Menu and steps are told
// only what was chosen when the page came: they know it sooner than the page, and
// begin anew with each case because the card does.
func (p *view) answerCard() app.UI {
	w := p.s.Words
	choices := []string{"", waiting}
	options := []app.UI{
		app.Option().Attr("value", "-").Text(w.T("practice.choose")),
		app.Option().Attr("value", waiting).Selected(p.begun.Choice == waiting).Text(w.T("practice.cannot_tell")),
	}
	for _, id := range p.desk.Puzzle.Answers() {
		choices = append(choices, string(id))
		options = append(options, app.Option().Attr("value", string(id)).Selected(p.begun.Choice == string(id)).Text(p.s.Words.ConditionName(id)))
	}
	return app.Section().ID("answer-form").Class("card stack").Aria("labelledby", "answer-form-title").Body(
		app.H2().ID("answer-form-title").Text(w.T("practice.answer")),
		app.Div().Class("field").Body(
			app.Label().For("choice").Text(w.T("practice.what")),
			app.Select().ID("choice").Body(options...).OnChange(func(ctx app.Context, _ app.Event) {
				p.give(answerGiven{choices[ctx.JSSrc().Get("selectedIndex").Int()], p.drill.Given.Confidence})
			}, app.EventScope(p.turn)),
		),
		p.confidence(),
		app.P().ID("stakes").Class("small soft").Role("status").Text(p.stakes()),
		page.Button("commit", "btn main", w.T("practice.commit"), p.markIt).Disabled(!p.drill.Given.complete()).Aria("describedby", "stakes"),
	)
}

func (p *view) confidence() app.UI {
	w := p.s.Words
	var steps []app.UI
	for i, c := range practice.Confidences {
		id := "confidence-" + string(rune('1'+i))
		steps = append(steps, app.Div().Body(
			app.Input().ID(id).Type("radio").Name("confidence").Attr("value", string(rune('1'+i))).
				Disabled(p.drill.Given.Choice == waiting).Checked(p.begun.Confidence == i+1).
				OnChange(func(app.Context, app.Event) { p.give(answerGiven{p.drill.Given.Choice, i + 1}) }, app.EventScope(i, p.turn)),
			app.Label().For(id).Body(app.Span().Text(w.T("practice.sure."+string(rune('1'+i)))), app.Small().Text(w.Chance(c))),
		))
	}
	return app.FieldSet().ID("confidence").Class("sure").Body(append([]app.UI{app.Legend().Text(w.T("practice.how_sure"))}, steps...)...)
}

func (p *view) stakes() string {
	w, n, cost := p.s.Words, len(p.desk.Puzzle.Answers()), p.desk.Cost()
	switch {
	case p.drill.Given.Choice == waiting && len(p.desk.Bought()) == 0:
		return w.T("practice.stakes_look")
	case p.drill.Given.Choice == waiting:
		return w.T("practice.stakes_wait", "points", p.points(p.desk.Waiting()), "told", p.points(-cost))
	case p.drill.Given.Choice == "":
		return w.T("practice.stakes_none")
	case !p.drill.Given.complete():
		return w.T("practice.stakes_sure")
	}
	c := practice.Confidences[p.drill.Given.Confidence-1]
	return w.T("practice.stakes", "right", p.points(practice.Points(n, c, true)-cost), "wrong", p.points(practice.Points(n, c, false)-cost))
}

// points writes points as a whole number with its sign.
func (p *view) points(x float64) string {
	n := int(math.Round(x))
	switch {
	case n > 0:
		return p.s.Words.T("practice.plus", "n", n)
	case n < 0:
		return p.s.Words.T("practice.minus", "n", -n)
	}
	return p.s.Words.T("practice.zero")
}
