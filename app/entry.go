package app

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// entryPanel holds what is asked first: the two needles, the outside air, and
// what is assumed about the rest.
type entryPanel struct {
	app.Compo
	Rev int

	s *session
}

func (p *entryPanel) Render() app.UI {
	s, w := p.s, p.s.words
	return app.Section().ID("inputs").Class("card readouts").Aria("label", w.T("readings.inputs")).Body(
		app.H1().ID("title").TabIndex(-1).Class("sr").Text(w.T("readings.title")),
		&exampleLine{Of: s.exampleShown(), s: s},
		app.Div().Class("pair").Body(
			&still{Of: s.gaugeShown(car.Low), draw: func() app.UI { return p.gauge(car.Low, "low", lowSign) }},
			&still{Of: s.gaugeShown(car.High), draw: func() app.UI { return p.gauge(car.High, "high", highSign) }},
		),
		s.messages("low"),
		s.messages("high"),
		&still{Of: s.ambientShown(), draw: func() app.UI {
			return app.Div().Class("outside").Body(p.ambient(), s.unitChoice())
		}},
		s.messages(present.Ambient),
		p.glance(),
		&still{Of: s.settings(), draw: func() app.UI { return app.Div().Body(s.airSettings(), s.carSettings()) }},
	)
}

// The signs of the two sides: they are told apart without colour.
const (
	lowSign  = `<svg viewBox="0 0 12 12" aria-hidden="true"><path d="M1 2h10L6 11z" fill="currentColor"/></svg>`
	highSign = `<svg viewBox="0 0 12 12" aria-hidden="true"><path d="M1 10h10L6 1z" fill="currentColor"/></svg>`
)

// gaugeShown is what a gauge shows, for go-app to compare.
func (s *session) gaugeShown(q car.Quantity) any {
	type shown struct {
		Typed    job.Reading
		Units    unit.Units
		Band     string
		Problems []present.Problem
	}
	return shown{s.job.Before.Readings[q], s.job.Units, s.bandText(q), s.problems[present.FieldID(q)]}
}

// ambientShown is what the line of the outside temperature shows.
func (s *session) ambientShown() any {
	type shown struct {
		Typed    string
		Units    unit.Units
		Problems []present.Problem
	}
	return shown{s.text(input{present.Ambient, ""}), s.job.Units, s.problems[present.Ambient]}
}

// gauge is one needle: steady as one number, or swinging as two.
func (p *entryPanel) gauge(q car.Quantity, side, sign string) app.UI {
	s, w := p.s, p.s.words
	id := present.FieldID(q)
	swings := s.job.Before.Readings[q].Swing
	unit := s.unitBeside(id, s.text(input{id, ""}))
	if swings {
		unit = s.unitBeside(id, s.text(input{id, "lo"}))
	}
	class := "gauge " + side
	numbers := []app.UI{
		p.number(input{id, ""}, w.T("readings."+side)),
		app.Span().Class("unit").Text(unit),
	}
	if swings {
		class += " swings"
		numbers = []app.UI{
			p.number(input{id, "lo"}, w.T("readings."+side+"_lowest")),
			app.Span().Class("to").Text(w.T("readings.to")),
			p.number(input{id, "hi"}, w.T("readings."+side+"_highest")),
			app.Span().Class("unit").Text(unit),
		}
	}
	name := app.UI(app.Label().Class("name").For(input{id, ""}.html()).Body(app.Raw(sign), app.Text(w.T("readings."+side))))
	if swings {
		name = app.Div().Class("name").Body(app.Raw(sign), app.Text(w.T("readings."+side)))
	}
	// A tap anywhere on the line of a steady needle goes into its number.
	big := app.UI(app.Label().Class("big").For(input{id, ""}.html()).Body(numbers...))
	if swings {
		big = app.Div().Class("big").Body(numbers...)
	}
	return app.Div().Class(class).Body(
		name,
		big,
		app.Div().ID(string(id)+"-band").Class("band").Text(s.bandText(q)),
		app.Div().Class("ways").Body(
			p.way(id, "swings", swings, func(ctx app.Context) { s.setSwing(ctx, q, !s.job.Before.Readings[q].Swing) }),
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
	in := input{id, ""}
	return p.way(id, way, strings.HasPrefix(p.s.text(in), sign), func(ctx app.Context) {
		text, on := strings.CutPrefix(p.s.text(in), sign)
		if !on {
			text = sign + text
		}
		p.s.putText(in, text)
		p.s.edited(ctx)
		p.s.syncInputs(ctx)
		p.s.ctx.Defer(func(app.Context) { focus(in.html()) })
	})
}

// pegSign and vacuumSign are how a bound and a vacuum are typed: see present.Parse.
const pegSign = ">"

func (s *session) vacuumSign() string {
	if s.job.Units.InHg {
		return "in "
	}
	return "-"
}

// way is a toggle below a needle. toggle looks at the job when it is called: go-app
// keeps the one of the first drawing.
func (p *entryPanel) way(id present.FieldID, way string, on bool, toggle func(app.Context)) app.UI {
	w := p.s.words
	return app.Button().ID(string(id)+"-"+way).Type("button").Class("way").Attr("aria-pressed", pressed(on)).
		Aria("label", w.T("readings.way."+way+".say", "side", w.T("readings."+string(id)))).Text(w.T("readings.way."+way+".name")).
		OnClick(func(ctx app.Context, _ app.Event) { toggle(ctx) }, app.EventScope(id, way, p.s.job.Units.InHg))
}

// number is the large input of a gauge.
func (p *entryPanel) number(in input, label string) app.UI {
	return p.s.textInput(in).Placeholder("–").Aria("label", label)
}

func (p *entryPanel) ambient() app.UI {
	w := p.s.words
	in := input{present.Ambient, ""}
	return app.Div().Class("gauge plain").Body(
		app.Label().Class("name").For(in.html()).Text(w.T("readings.ambient")),
		app.Label().Class("big").For(in.html()).Body(
			p.s.textInput(in).Placeholder("–").Aria("label", w.T("readings.ambient")),
			app.Span().Class("unit").Text(p.s.unitBeside(in.id, p.s.text(in))),
		),
		app.Div().Class("band").Text(w.T("readings.ambient_hint")),
	)
}

// glance is the answer in a few words under the inputs of a phone, where a thumb
// and a keypad leave no room for the answer itself. It leads there.
func (p *entryPanel) glance() app.UI {
	text := p.s.inFewWords()
	return app.Button().ID("glance").Type("button").Class("glance").Hidden(text == "").Body(
		app.Span().Text(text), app.Span().Class("sr").Text(p.s.words.T("readings.glance.go"))).
		OnClick(func(ctx app.Context, _ app.Event) {
			ctx.PreventUpdate()
			showTop("answer")
		})
}

// unitChoice switches units; the numbers follow, the readings stay.
func (s *session) unitChoice() app.UI {
	w := s.words
	seg := func(kind unit.Kind, now unit.Unit, label string) app.UI {
		var buttons []app.UI
		for _, u := range unit.Choices(kind) {
			buttons = append(buttons, app.Button().ID("unit-"+string(u)).Type("button").
				Attr("aria-pressed", pressed(u == now)).Text(w.T("unit."+string(u))).
				OnClick(func(ctx app.Context, _ app.Event) { s.setUnit(ctx, kind, u) }, app.EventScope(u)))
		}
		return app.Div().Class("seg").Role("group").Aria("label", label).Body(buttons...)
	}
	return app.Div().Class("units").Body(
		seg(unit.GaugePressure, s.job.Units.Pressure, w.T("readings.pressure_unit")),
		seg(unit.Temperature, s.job.Units.Temperature, w.T("readings.temperature_unit")),
	)
}

// pressed writes a boolean as ARIA wants it; go-app would drop a false.
func pressed(on bool) string {
	if on {
		return "true"
	}
	return "false"
}

// bandText says where healthy cars read, once there is an answer, and on which
// side of them the needle is. It belongs to the case that was answered.
func (s *session) bandText(q car.Quantity) string {
	if s.answer.state != answered {
		return ""
	}
	for _, e := range s.answer.report.Evidence {
		if e.Quantity != q || !e.HasExpected {
			continue
		}
		key := [...]string{"readings.band_below", "readings.band_inside", "readings.band_above"}[e.Place+1]
		if s.atEdge(e) {
			key = "readings.band_edge"
		}
		return s.words.T(key, "range", s.bareRange(e.Expected.Lo, e.Expected.Hi, s.kind(q)))
	}
	return ""
}

// bareRange is a range whose unit stands beside it already, unless its ends are
// in different units.
func (s *session) bareRange(lo, hi float64, k unit.Kind) string {
	a, ua := s.voice().Number(lo, k)
	b, ub := s.voice().Number(hi, k)
	if ua != ub {
		return s.voice().Range(lo, hi, k)
	}
	const joiner = "\u2060" // no line break at the dash
	return s.words.T("number.range", "lo", a+joiner, "hi", joiner+b)
}
