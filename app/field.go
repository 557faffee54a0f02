package app

import (
	"unicode/utf8"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/present"
	"twoneedles/refrig/unit"
)

// textInput is the bare input of a text. It takes anything: what cannot be read
// stays in it and is explained beside it.
func (s *session) textInput(in input) app.HTMLInput {
	el := app.Input().ID(in.html()).Type("text").Attr("inputmode", s.inputMode(in.id)).AutoComplete(false).
		Attr("enterkeyhint", "next").Attr("autocapitalize", "off").Spellcheck(false).MaxLength(2*present.MaxText).
		Value(s.text(in)).OnInput(s.typed(in), app.EventScope(in.html())).OnKeyDown(onEnter)
	switch n := utf8.RuneCountInString(s.text(in)); {
	case n > 7:
		el.Class("len3")
	case n > 5:
		el.Class("len2")
	case n > 3:
		el.Class("len1")
	}
	if len(s.spoken(in.id)) > 0 {
		el.Aria("describedby", string(in.id)+"-note")
	}
	if s.refused(in.id) {
		el.Attr("aria-invalid", "true")
	}
	return el
}

// spoken are the problems of a field that are said beside it. What is missing
// or assumed is shown elsewhere.
func (s *session) spoken(id present.FieldID) []present.Problem {
	var out []present.Problem
	for _, p := range s.problems[id] {
		if p.Level == present.Asked || p.Level == present.Refused {
			out = append(out, p)
		}
	}
	return out
}

func (s *session) refused(id present.FieldID) bool {
	for _, p := range s.problems[id] {
		if p.Level == present.Refused {
			return true
		}
	}
	return false
}

// messages says what is wrong or doubtful about a field: what, why, what next,
// and what may have been meant, one tap away.
func (s *session) messages(id present.FieldID) app.UI {
	problems := s.spoken(id)
	if len(problems) == 0 {
		// Something must keep the place: go-app would make the neighbours anew, and
		// a finger that is already in the next field would lose it.
		return app.Div().Hidden(true)
	}
	var items []app.UI
	for _, p := range problems {
		m := s.voice().Problem(&p)
		var offers []app.UI
		for i, o := range m.Suggest {
			code := p.Suggest[i].Code
			if o.Text == "" && code != present.SwapSides {
				continue
			}
			offers = append(offers, app.Button().Type("button").Class("btn").DataSet("suggest", code).Text(o.Words).
				OnClick(func(ctx app.Context, _ app.Event) { s.take(ctx, s.inputOf(id), code, o.Text) },
					app.EventScope(id, code, o.Text)))
		}
		items = append(items, app.Div().Class("msg").Body(
			app.P().Body(app.Strong().Text(m.What)),
			app.P().Text(m.Why), app.P().Text(m.Next),
			app.If(len(offers) > 0, func() app.UI { return app.Div().Body(offers...) }),
		))
	}
	return app.Div().ID(string(id) + "-note").Class("tight").Body(items...)
}

// inputOf is the input a suggestion for the field goes into.
func (s *session) inputOf(id present.FieldID) input {
	in := input{id, ""}
	if s.swings(id) {
		in.end = "lo"
	}
	return in
}

// field is a labelled text with its unit, how to get it, and its message.
func (s *session) field(id present.FieldID, placeholder string) app.UI {
	in := input{id, ""}
	w := s.words
	return app.Div().Class("field").Body(
		app.Label().For(in.html()).Text(w.T("readings.field."+string(id)+".name")),
		app.Div().Class("entry").Body(
			s.textInput(in).Placeholder(placeholder),
			app.Span().Class("unit").Text(s.unitBeside(id, s.text(in))),
		),
		app.P().Class("hint").Text(w.T("readings.field."+string(id)+".how")),
		s.messages(id),
	)
}

// menu is a labelled choice; "" is "don't know". Words are
// readings.choice.<name>.<value>.
func (s *session) menu(name string, shown []string, now string, set func(app.Context, string)) app.UI {
	w := s.words
	var options []app.UI
	for _, v := range shown {
		text := w.T("readings.choice.unknown")
		if v != "" {
			text = w.T("readings.choice." + name + "." + v)
		}
		options = append(options, app.Option().Attr("value", v).Selected(v == now).Text(text))
	}
	return app.Div().Class("field").Body(
		app.Label().For(name).Text(w.T("readings.field."+name+".name")),
		app.Select().ID(name).Body(options...).
			OnChange(func(ctx app.Context, _ app.Event) {
				// go-app drops an empty attribute, so "don't know" has no value but
				// its text: take the place in the list instead.
				set(ctx, shown[ctx.JSSrc().Get("selectedIndex").Int()])
			}, app.EventScope(name)),
		app.P().Class("hint").Text(w.T("readings.field."+name+".how")),
	)
}

// unitName is what stands beside a number of the kind.
func (s *session) unitName(k unit.Kind) string {
	return s.words.T("unit." + string(s.job.Units.For(k)))
}

// inputMode chooses the keypad of a phone: digits, or letters too where a unit
// within the number is usual.
func (s *session) inputMode(id present.FieldID) string {
	f, _ := present.FieldOf(id)
	if f.Kind == unit.Duration || f.Kind == unit.Mass && s.job.Units.Mass == unit.PoundOunce || f.Swing && id != "low" && id != "high" && f.Kind == unit.GaugePressure {
		return "text"
	}
	return "decimal"
}

// onEnter goes to the next number, as the key of a phone's keypad says; after
// the last of the three that are asked first it puts the keypad away.
func onEnter(ctx app.Context, e app.Event) {
	if e.Get("key").String() != "Enter" {
		ctx.PreventUpdate()
		return
	}
	e.PreventDefault()
	now := ctx.JSSrc()
	if now.Get("id").String() == string(present.Ambient) {
		now.Call("blur")
		return
	}
	inputs := app.Window().Get("document").Call("querySelectorAll", "#main input")
	for i := range inputs.Get("length").Int() - 1 {
		if inputs.Index(i).Equal(now) {
			inputs.Index(i + 1).Call("focus")
			return
		}
	}
}

// unitBeside is the unit that stands beside a typed text: none where the text
// brings its own, because "12 in" psi is nonsense.
func (s *session) unitBeside(id present.FieldID, text string) string {
	f, ok := present.FieldOf(id)
	if !ok {
		panic("app: no field " + string(id))
	}
	if e, err := present.Parse(text, f.Kind, s.job.Units.For(f.Kind)); err == nil && e.Typed {
		return ""
	}
	return s.unitName(f.Kind)
}
