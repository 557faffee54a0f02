package readings

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/claim"
	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// entryPanel holds what is asked first: the two needles, the outside air, and
// what is assumed about the rest.
type entryPanel struct {
	app.Compo
	Lang, Offline string
	Job, Answer   int // revisions of what it shows

	s *Place
}

func (p *entryPanel) Render() app.UI {
	s, w := p.s, p.s.Words
	return app.Section().ID("inputs").Class("card readouts").Aria("label", w.T("readings.inputs")).Body(
		app.H1().ID("title").TabIndex(-1).Class("sr").Text(w.T("readings.title")),
		&exampleLine{Lang: s.Lang(), Of: s.exampleShown(), s: s},
		app.If(s.Job.Before.Engine == job.EngineOff, p.atRest).Else(p.running),
	)
}

// running are the fields of a running car.
func (p *entryPanel) running() app.UI {
	s := p.s
	maker := s.makerSays()
	return app.Div().Class("readouts").Body(
		app.Div().Class("pair").Body(
			page.Memo(s.Lang(), s.gaugeShown(car.Low), func() app.UI { return p.gauge(car.Low, "low", lowSign) }),
			page.Memo(s.Lang(), s.gaugeShown(car.High), func() app.UI { return p.gauge(car.High, "high", highSign) }),
		),
		s.Messages(page.TextOf("low")),
		s.Messages(page.TextOf("high")),
		page.Memo(s.Lang(), s.airShown(), func() app.UI {
			return app.Div().Class("outside").Body(
				p.air(present.Ambient, "readings.ambient", s.Words.T("readings.ambient_hint")),
				p.air(ventField, "readings.vent", s.bandText(car.Vent)),
				s.GaugeUnits(app.A().ID("to-saturation").Class("way").Href(page.Href("/saturation")).Text(s.Words.T("saturation.open"))))
		}),
		app.If(maker != "", func() app.UI { return app.P().ID("maker-now").Class("small").Text(maker) }),
		s.Messages(page.TextOf(present.Ambient)),
		s.Messages(page.TextOf(ventField)),
	)
}

// atRest are the fields of a car whose engine is off.
func (p *entryPanel) atRest() app.UI {
	s, w := p.s, p.s.Words
	gauge := func(id present.FieldID, side, sign string) app.UI {
		in := page.TextOf(id)
		return app.Div().Class("gauge "+side).Body(
			app.Label().Class("name").For(in.HTML()).Body(app.Raw(sign), app.Text(w.T("readings."+side))),
			app.Label().Class("big").For(in.HTML()).Body(p.number(in, w.T("readings."+side)), app.Span().Class("unit").Text(s.UnitBeside(in))),
			app.Div().Class("band").Text(w.T("readings.rest.at_rest")))
	}
	low := present.FieldID(car.Resting)
	return app.Div().Class("readouts").Body(
		app.Div().Class("pair").Body(gauge(low, "low", lowSign), gauge(present.RestingHigh, "high", highSign)),
		s.Messages(page.TextOf(low)),
		s.Messages(page.TextOf(present.RestingHigh)),
		app.Div().Class("outside").Body(p.air(present.Ambient, "readings.ambient", w.T("readings.ambient_hint")),
			p.air(present.Soak, "readings.rest.car", w.T("readings.rest.car_hint")), s.GaugeUnits()),
		s.Messages(page.TextOf(present.Ambient)),
		s.Messages(page.TextOf(present.Soak)),
		s.soaked("engine-off-"),
	)
}

// engine asks whether the engine runs: two taps lead to the check at rest and back.
func (s *Place) engine(prefix string) app.UI {
	w := s.Words
	var buttons []app.UI
	for _, e := range job.Engines[1:] {
		buttons = append(buttons, page.Button(prefix+e, "", w.T("readings.engine."+e), func() { s.SetEngine(e) }).
			Attr("aria-pressed", page.Pressed(e == s.Job.Before.Engine)))
	}
	return app.Div().Class("seg engine").Role("group").Aria("label", w.T("readings.engine.ask")).Body(buttons...)
}

// ventField stands with the two needles and the outside air: it is what a driver and a
// technician know first.
const ventField = present.FieldID(car.Vent)

// The signs of the two sides: they are told apart without colour.
const (
	lowSign  = `<svg viewBox="0 0 12 12" aria-hidden="true"><path d="M1 2h10L6 11z" fill="currentColor"/></svg>`
	highSign = `<svg viewBox="0 0 12 12" aria-hidden="true"><path d="M1 10h10L6 1z" fill="currentColor"/></svg>`
)

// gaugeShown is what a gauge shows, for go-app to compare.
func (s *Place) gaugeShown(q car.Quantity) any {
	type shown struct {
		Typed    job.Reading
		Units    unit.Units
		Band     string
		Heat     [2]string
		Problems []present.Problem
	}
	return shown{s.Job.Before.Readings[q], s.Job.Units, s.bandText(q), [2]string{s.saturationText(q), s.heatText(q)}, s.Problems(page.TextOf(present.FieldID(q)))}
}

// airShown is what the fields of the outside air and of the vent show.
func (s *Place) airShown() any {
	type shown struct {
		Typed    [2]string
		Band     string
		Units    unit.Units
		Problems [2][]present.Problem
	}
	out, vent := page.TextOf(present.Ambient), page.TextOf(ventField)
	return shown{[2]string{s.Typed(out), s.Typed(vent)}, s.bandText(car.Vent), s.Job.Units, [2][]present.Problem{s.Problems(out), s.Problems(vent)}}
}

// gauge is one needle: steady as one number, or swinging as two.
func (p *entryPanel) gauge(q car.Quantity, side, sign string) app.UI {
	s, w := p.s, p.s.Words
	id := present.FieldID(q)
	swings := s.Job.Before.Readings[q].Swing
	unit := s.UnitBeside(page.TextOf(id))
	if swings {
		unit = s.UnitBeside(page.Text{Field: id, End: "lo"})
	}
	class := "gauge " + side
	numbers := []app.UI{
		p.number(page.TextOf(id), w.T("readings."+side)),
		app.Span().Class("unit").Text(unit),
	}
	if swings {
		class += " swings"
		numbers = []app.UI{
			p.number(page.Text{Field: id, End: "lo"}, w.T("readings."+side+"_lowest")),
			app.Span().Class("to").Text(w.T("readings.to")),
			p.number(page.Text{Field: id, End: "hi"}, w.T("readings."+side+"_highest")),
			app.Span().Class("unit").Text(unit),
		}
	}
	name := app.UI(app.Label().Class("name").For(page.TextOf(id).HTML()).Body(app.Raw(sign), app.Text(w.T("readings."+side))))
	if swings {
		name = app.Div().Class("name").Body(app.Raw(sign), app.Text(w.T("readings."+side)))
	}
	// A tap anywhere on the line of a steady needle goes into its number.
	big := app.UI(app.Label().Class("big").For(page.TextOf(id).HTML()).Body(numbers...))
	if swings {
		big = app.Div().Class("big").Body(numbers...)
	}
	return app.Div().Class(class).Body(
		name,
		big,
		app.Div().ID(string(id)+"-band").Class("band").Text(s.bandText(q)),
		app.Div().ID(string(id)+"-saturation").Class("band").Text(s.saturationText(q)),
		app.Div().ID(string(id)+"-heat").Class("band heat").Hidden(s.heatText(q) == "").Text(s.heatText(q)),
		app.Div().Class("ways").Body(
			p.way(id, "swings", swings, func() { s.SetSwing(q, !s.Job.Before.Readings[q].Swing) }),
			app.If(!swings, func() app.UI { return p.mark(id) }),
		),
	)
}

// mark is the button for what the keypad of a phone may lack: the sign of a
// vacuum on the low side, of a needle at its stop on the high side.
func (p *entryPanel) mark(id present.FieldID) app.UI {
	sign, way := pegSign, "pegged"
	if id == "low" {
		sign, way = p.s.vacuumSign(), "vacuum"
	}
	in := page.TextOf(id)
	return p.way(id, way, strings.HasPrefix(p.s.Typed(in), sign), func() {
		text, on := strings.CutPrefix(p.s.Typed(in), sign)
		if !on {
			text = sign + text
		}
		p.s.Put(in, text)
		p.s.Edited()
		p.s.SyncInputs()
		p.s.Then(func() { browser.Focus(in.HTML()) })
	})
}

// pegSign and vacuumSign are how a bound and a vacuum are typed: see present.Parse.
const pegSign = ">"

func (s *Place) vacuumSign() string {
	if s.Job.Units.InHg {
		return "in "
	}
	return "-"
}

// way is a toggle below a needle. toggle looks at the job when it is called: go-app
// keeps the one of the first drawing.
func (p *entryPanel) way(id present.FieldID, way string, on bool, toggle func()) app.UI {
	w := p.s.Words
	return app.Button().ID(string(id)+"-"+way).Type("button").Class("way").Attr("aria-pressed", page.Pressed(on)).
		Aria("label", w.T("readings.way."+way+".say", "side", w.T("readings."+string(id)))).Text(w.T("readings.way."+way+".name")).
		OnClick(func(app.Context, app.Event) { toggle() }, app.EventScope(id, way, p.s.Job.Units.InHg))
}

// number is the large input of a gauge.
func (p *entryPanel) number(in page.Text, label string) app.UI {
	return p.s.Input(in).Placeholder("–").Aria("label", label)
}

// air is the field of an air temperature, with a line below it.
func (p *entryPanel) air(id present.FieldID, name, line string) app.UI {
	w, in := p.s.Words, page.TextOf(id)
	return app.Div().Class("gauge plain").Body(
		app.Label().Class("name").For(in.HTML()).Text(w.T(name)),
		app.Label().Class("big").For(in.HTML()).Body(
			p.s.Input(in).Placeholder("–").Aria("label", w.T(name)),
			app.Span().Class("unit").Text(p.s.UnitBeside(in)),
		),
		app.Div().ID(string(id)+"-band").Class("band").Text(line),
	)
}

// bar is the answer and the next step in a few words. On a phone it stays in view,
// above the fields and while one scrolls; it leads to the next step.
type bar struct {
	app.Compo
	Lang string
	Text string

	s *Place
}

func (b *bar) Render() app.UI {
	return app.Button().ID("glance").Type("button").Class("glance").Body(
		app.Span().Text(b.Text), app.Span().Class("sr").Text(b.s.Words.T("readings.glance.go"))).
		OnClick(func(ctx app.Context, _ app.Event) {
			ctx.PreventUpdate()
			if b.s.Said().Step.Text != "" {
				browser.ShowTop("next")
				return
			}
			browser.ShowTop("answer")
		})
}

// inFewWords is what the bar says.
func (s *Place) inFewWords() string {
	switch a := s.Answer(); a.State {
	case page.Answered, page.Resting:
		return s.Said().Bar
	case page.Invalid:
		return s.unusable()
	case page.Failed:
		return a.Failure.What
	case page.Loading:
		return s.Words.T("readings.busy")
	default:
		if len(a.Missing) == 1 {
			return s.Words.T("readings.empty.missing_" + string(a.Missing[0]))
		}
		return s.Words.T("readings.empty.title")
	}
}

// bandText says where healthy cars read, once there is an answer, and on which
// side of them the needle is. It belongs to the case that was answered.
func (s *Place) bandText(q car.Quantity) string {
	if s.Answer().State != page.Answered {
		return ""
	}
	for _, e := range s.Answer().Report.Evidence {
		if e.Quantity != q || !e.HasExpected {
			continue
		}
		key := [...]string{"readings.band_below", "readings.band_inside", "readings.band_above"}[e.Place+1]
		if claim.AtEdge(s.Voice(), e) {
			key = "readings.band_edge"
		}
		return s.Words.T(key, "range", s.bareRange(e.Expected.Lo, e.Expected.Hi, q.Info().Kind))
	}
	return ""
}

// bareRange is a range whose unit stands beside it already, unless its ends are
// in different units.
func (s *Place) bareRange(lo, hi float64, k unit.Kind) string {
	a, ua := s.Voice().Number(lo, k)
	b, ub := s.Voice().Number(hi, k)
	if ua != ub {
		return s.Voice().Range(lo, hi, k)
	}
	const joiner = "\u2060" // no line break at the dash
	return s.Words.T("number.range", "lo", a+joiner, "hi", joiner+b)
}
