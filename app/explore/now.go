package explore

import (
	"math"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/refrig/practice"
	"twoneedles/refrig/unit"
)

// now shows both needles and, beside them, what a thermometer would say.
func (p *view) now() []app.UI {
	w, v, r := p.s.Words, p.s.Voice(), p.state
	if !p.solved {
		return []app.UI{app.P().Class("soft").Text(w.T("explore.none")), p.trouble()}
	}
	number := func(key, num, name string) app.UI {
		return app.Div().Body(app.Dt().Text(w.T("explore.read."+key)),
			app.Dd().ID("read-"+key).Body(app.Text(num), app.Span().Class("unit").Text(name)))
	}
	temperature := func(key string, k float64) app.UI {
		num, name := v.Number(k, unit.Temperature)
		return number(key, num, name)
	}
	difference := func(key string, k float64) app.UI {
		if k <= 0 {
			return number(key, w.T("explore.no_"+key), "")
		}
		num, name := v.Number(k, unit.TempDiff)
		return number(key, num, name)
	}
	return []app.UI{
		app.Figure().ID("rig-needles").Body(app.Raw(p.shown.gauges.SVG)),
		app.Dl().Class("thermo").Body(
			temperature("vent", r.Vent),
			temperature("discharge", r.DischargeLine),
			difference("superheat", r.EvapSuperheat),
			difference("subcooling", r.Subcooling),
		),
		app.P().ID("happening").Class("small").Text(p.happening()),
		p.trouble(),
		p.s.FigureText(p.spoken.gauges),
	}
}

// happening says what the numbers do not show by themselves.
func (p *view) happening() string {
	w, r := p.s.Words, p.state
	switch {
	case r.HighCutOut:
		return w.T("explore.happening.high_cut")
	case r.Cycling:
		return w.T("explore.happening.cycles", "n", int(math.Max(math.Round(r.CyclesPerMin), 1)))
	case r.Icing:
		return w.T("explore.happening.icing")
	}
	return w.T("explore.happening.steady")
}

// trouble says that a setting has no solution, and that the picture is older.
func (p *view) trouble() app.UI {
	if p.failed.What == "" {
		return app.Div().ID("explore-failed").Hidden(true)
	}
	return app.Div().ID("explore-failed").Class("msg").Role("status").Body(
		app.P().Body(app.Strong().Text(p.failed.What)), app.P().Text(p.s.Words.T("explore.kept")))
}

// restTime is how long the dials must rest before the state is spoken and open questions
// are answered again.
const restTime = 400 * time.Millisecond

// settle waits for the dials to rest.
func (p *view) settle() {
	p.rest++
	n := p.rest
	p.asks.Cancel() // what an experiment finds now is of an older state
	p.ctx.After(restTime, func(ctx app.Context) {
		if n != p.rest || !p.solved {
			return
		}
		_ = p.show(p.state, false) // it was drawn before, but for what the screen did not show
		p.spoken, p.said = p.shown, p.inWords()
		p.askOpen()
	})
}

// inWords is the state in one sentence.
func (p *view) inWords() string {
	w, v, r := p.s.Words, p.s.Voice(), p.state
	if p.failed.What != "" {
		return p.failed.What + " " + w.T("explore.kept")
	}
	return w.T("explore.in_words", "low", v.Quantity(r.Low, unit.GaugePressure), "high", v.Quantity(r.High, unit.GaugePressure),
		"vent", v.Quantity(r.Vent, unit.Temperature), "superheat", p.signText(practice.Superheated, r.EvapSuperheat),
		"subcooling", p.signText(practice.Subcooled, r.Subcooling))
}
