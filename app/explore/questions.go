package explore

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/ask"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/practice"
	"twoneedles/refrig/unit"
)

// armAnswer is what one half of an experiment showed.
type armAnswer struct {
	arm   practice.Arm
	moves []practice.Move
	err   error
}

// questions are experiments that the model does when one is opened, and again
// whenever the dials have come to rest.
func (p *view) questions() app.UI {
	w := p.s.Words
	var items []app.UI
	for _, q := range practice.Questions {
		var body []app.UI
		switch told := p.told[q]; {
		case !p.open[q]:
		case told == nil:
			body = []app.UI{app.P().Class("soft").Text(w.T("explore.asking"))}
		default:
			body = p.answered(q, told)
		}
		items = append(items, app.Details().ID("ask-"+string(q)).Class("settings").Body(
			app.Summary().Text(w.T("explore.ask."+string(q)+".question")),
			app.Div().ID("told-"+string(q)).Class("tight told").Body(body...),
		).On("toggle", func(ctx app.Context, _ app.Event) {
			if open := ctx.JSSrc().Get("open").Bool(); open != p.open[q] {
				p.open[q] = open
				p.askOpen()
			}
		}, app.EventScope(q)))
	}
	return app.Section().ID("questions").Class("card rig-ask").Aria("labelledby", "ask-title").Body(
		append([]app.UI{
			app.H2().ID("ask-title").Text(w.T("explore.ask_title")),
			app.P().Class("small soft").Text(w.T("explore.ask_about")),
		}, items...)...)
}

// askOpen does the experiments of the open questions, each half as a piece of its
// own. What is still on its way for an older state is dropped.
func (p *view) askOpen() {
	var works []ask.Work
	for _, q := range practice.Questions {
		if !p.open[q] {
			continue
		}
		var told []armAnswer
		arms := p.set.Arms(q)
		for _, arm := range arms {
			works = append(works, func(_ *diagnose.Model, deliver func(func(app.Context)) bool) error {
				a := armAnswer{arm: arm}
				var rig practice.Rig // its own: the page's is at work
				a.moves, a.err = rig.Watch(arm)
				if told = append(told, a); len(told) == len(arms) {
					deliver(func(app.Context) { p.told[q] = told })
				}
				return nil
			})
		}
	}
	p.asks.Ask(p.ctx, func(_ app.Context, err error) { p.failed = p.s.Voice().Error(err) }, works...)
}

// answered puts one answer into words: a sentence that answers the question, then
// what each half showed, in the order it was seen.
func (p *view) answered(q practice.Question, told []armAnswer) []app.UI {
	w, s := p.s.Words, p.s
	for _, a := range told {
		if a.err != nil {
			return []app.UI{app.P().Class("msg").Text(s.Voice().Error(a.err).What)}
		}
	}
	var parts []app.UI
	for _, a := range told {
		var steps []app.UI
		var held []string
		for _, m := range a.moves {
			sign := w.T("explore.sign." + string(m.Sign))
			if !m.Moved {
				held = append(held, sign)
				continue
			}
			steps = append(steps, app.Li().Text(w.T("explore.moved", "sign", sign,
				"at", p.dialText(a.arm.Dial, m.At), "from", p.signText(m.Sign, m.From), "to", p.signText(m.Sign, m.To))))
		}
		parts = append(parts, app.Div().Body(
			app.H3().Text(w.T("explore.arm."+a.arm.Kind)),
			app.Ol().Body(steps...),
			app.P().Class("small soft").Hidden(len(held) == 0).Text(w.T("explore.held", "list", s.Words.List(held))),
		))
	}
	return append([]app.UI{app.P().Class("answered").Text(w.Text(answerKey(q, told), p.answerArgs(told)))},
		app.Div().Class("arms").Body(parts...))
}

// answerKey chooses the sentence that is true of what was seen: where a half shows
// nothing, or the low side does not part the two, the usual one would be false.
func answerKey(q practice.Question, told []armAnswer) string {
	switch q {
	case practice.AskCharge, practice.AskCondAir, practice.AskEvapAir:
		for _, a := range told {
			if !a.moves[0].Moved {
				return "explore.unseen"
			}
		}
	case practice.AskApart:
		if wear, restriction := lowSide(told[0]), lowSide(told[1]); !(wear.Moved && wear.To > wear.From && restriction.Moved && restriction.To < restriction.From) {
			return "explore.not_apart"
		}
	}
	return "explore.ask." + string(q) + ".answer"
}

func lowSide(a armAnswer) practice.Move {
	for _, m := range a.moves {
		if m.Sign == practice.LowSide {
			return m
		}
	}
	return practice.Move{}
}

// answerArgs are the numbers an answer may name: where the dial went, and for the
// first and the second half what moved first, where, and how far each sign went
// (first, first_at, first_low_from, first_low_to, …).
func (p *view) answerArgs(told []armAnswer) map[string]any {
	args := map[string]any{}
	for i, a := range told {
		half := [...]string{"first", "second"}[i]
		args["from"], args["to"] = p.dialText(a.arm.Dial, a.arm.From), p.dialText(a.arm.Dial, a.arm.To)
		if m := a.moves[0]; m.Moved {
			args[half], args[half+"_at"] = p.s.Words.T("explore.sign."+string(m.Sign)), p.dialText(a.arm.Dial, m.At)
		}
		for _, m := range a.moves {
			sign := half + "_" + string(m.Sign)
			args[sign+"_from"], args[sign+"_to"] = p.signText(m.Sign, m.From), p.signText(m.Sign, m.To)
		}
	}
	return args
}

// signText says the value of a sign. A superheat or subcooling below zero is no
// difference of temperatures any more but a mixture.
func (p *view) signText(sign practice.Sign, x float64) string {
	switch sign {
	case practice.LowSide, practice.HighSide:
		return p.s.Voice().Quantity(x, unit.GaugePressure)
	case practice.VentAir, practice.Discharge:
		return p.s.Voice().Quantity(x, unit.Temperature)
	}
	if x <= 0 {
		return p.s.Words.T("explore.no_" + string(sign))
	}
	return p.s.Voice().Quantity(x, unit.TempDiff)
}
