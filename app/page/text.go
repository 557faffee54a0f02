package page

import (
	"unicode/utf8"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// Text names one text of the job on screen: a field, at the visit before or after the
// repair where it belongs to one, and which end of it where a needle swings.
type Text struct {
	Field present.FieldID
	End   string // "", "lo" or "hi"
	After bool   // at the visit after the repair
	Again bool   // the second element of a page that shows the same text
}

// TextOf is the text of a field, at the visit before the repair where it has one.
func TextOf(id present.FieldID) Text { return Text{Field: id} }

// TextAfter is the text of a field at the visit after the repair.
func TextAfter(id present.FieldID) Text { return Text{Field: id, After: true} }

// HTML is the id of the element: low, low-lo, after-low, again-label_charge, …
func (t Text) HTML() string {
	id := t.base()
	if t.End != "" {
		id += "-" + t.End
	}
	return id
}

func (t Text) base() string {
	switch {
	case t.After:
		return "after-" + string(t.Field)
	case t.Again:
		return "again-" + string(t.Field)
	}
	return string(t.Field)
}

// Words is the last part of the keys of its name and of how to get it.
func (t Text) Words() string {
	if t.After {
		return "after_" + string(t.Field)
	}
	return string(t.Field)
}

func (t Text) note() string { return t.base() + "-note" }

// What is typed once per visit; the other texts belong to the whole job.
var (
	isQuantity = setOf(job.Quantities)
	isOfVisit  = setOf(job.VisitFields)
)

func setOf[T ~string](list []T) map[present.FieldID]bool {
	m := map[present.FieldID]bool{}
	for _, id := range list {
		m[present.FieldID(id)] = true
	}
	return m
}

// caseFields are the texts of the whole job that are part of the case.
var caseFields = map[present.FieldID]bool{present.LabelCharge: true, present.ServiceLow: true, present.ServiceHigh: true}

func (s *Page) visitOf(t Text) *job.Visit {
	if t.After {
		return &s.Job.After
	}
	return &s.Job.Before
}

// Typed returns what was typed.
func (s *Page) Typed(t Text) string {
	switch {
	case isQuantity[t.Field]:
		r := s.visitOf(t).Readings[car.Quantity(t.Field)]
		switch t.End {
		case "lo":
			return r.Lo
		case "hi":
			return r.Hi
		}
		return r.Text
	case isOfVisit[t.Field]:
		return s.visitOf(t).Text[t.Field]
	}
	return s.Job.Text[t.Field]
}

// Put stores what was typed, as it was typed. One number is a steady needle.
func (s *Page) Put(t Text, text string) {
	switch v := s.visitOf(t); {
	case isQuantity[t.Field]:
		q := car.Quantity(t.Field)
		r := v.Readings[q]
		switch t.End {
		case "lo":
			r.Lo = text
		case "hi":
			r.Hi = text
		default:
			r.Text, r.Swing = text, false
		}
		v.SetReading(q, r)
	case isOfVisit[t.Field]:
		v.SetText(t.Field, text)
	default:
		s.Job.SetText(t.Field, text)
	}
}

// take puts a suggestion into the text it was made for.
func (s *Page) take(t Text, code, text string) {
	if code == present.SwapSides {
		v := s.visitOf(t)
		low, high := v.Readings[car.Low], v.Readings[car.High]
		v.SetReading(car.Low, high)
		v.SetReading(car.High, low)
	} else {
		if s.swings(t) {
			t.End = "lo"
		}
		s.Put(t, text)
	}
	s.Edited()
	s.SyncInputs()
	s.Then(func() { browser.Focus(t.HTML()) })
}

// TakeSuggestion takes the first suggestion beside a text that has the code, "" for
// any, as a tap does. It reports whether there was one.
func (s *Page) TakeSuggestion(t Text, code string) bool {
	for _, p := range s.Problems(t) {
		for _, sg := range p.Suggest {
			if code == "" || sg.Code == code {
				s.take(t, sg.Code, sg.Text)
				return true
			}
		}
	}
	return false
}

// swings tells whether the reading is shown as two ends.
func (s *Page) swings(t Text) bool {
	return isQuantity[t.Field] && s.visitOf(t).Readings[car.Quantity(t.Field)].Swing
}

// SetSwing says whether a needle swings. The first time, what was typed as one
// number becomes an end of the swing, so that nothing is typed twice.
func (s *Page) SetSwing(q car.Quantity, swing bool) {
	t, r := TextOf(present.FieldID(q)), s.Job.Before.Readings[q]
	if swing && r.Lo == "" && r.Hi == "" {
		r.Lo = r.Text
	}
	r.Swing = swing
	s.Job.Before.SetReading(q, r)
	s.Edited()
	s.SyncInputs()
	if swing {
		t.End = "lo"
	}
	s.Then(func() { browser.Focus(t.HTML()) })
}

// allTexts are all texts that any place shows.
var allTexts = func() []Text {
	var all []Text
	add := func(id present.FieldID) { all = append(all, Text{Field: id}, Text{Field: id, After: true}) }
	for _, q := range job.Quantities {
		if q == car.SightGlass { // a menu, which follows by itself
			continue
		}
		id := present.FieldID(q)
		add(id)
		all = append(all, Text{Field: id, End: "lo"}, Text{Field: id, End: "hi"}, Text{Field: id, Again: true})
	}
	for _, id := range job.VisitFields {
		add(id)
	}
	for _, id := range job.Fields {
		all = append(all, Text{Field: id}, Text{Field: id, Again: true})
	}
	return all
}()

// SyncInputs brings the inputs on screen to what the job holds, after it was changed
// by anything but typing.
func (s *Page) SyncInputs() {
	s.Then(func() {
		for _, t := range allTexts {
			browser.SetValue(t.HTML(), s.Typed(t))
		}
		call(s.onSync)
	})
}

// problemsOf are the problems of a text.
func (s *Page) problemsOf(t Text) []present.Problem {
	switch {
	case t.After:
		s.After()
		return s.after.problems[t.Field]
	case isQuantity[t.Field] || isOfVisit[t.Field] || caseFields[t.Field]:
		return s.before.problems[t.Field]
	}
	if _, _, p := s.Job.Number(t.Field); p != nil {
		return []present.Problem{*p}
	}
	return nil
}

// Problems are those of a text that are said beside it. What is missing or assumed
// is shown elsewhere.
func (s *Page) Problems(t Text) []present.Problem {
	var out []present.Problem
	for _, p := range s.problemsOf(t) {
		if p.Level == present.Asked || p.Level == present.Refused {
			out = append(out, p)
		}
	}
	return out
}

// Assumed is the number that stands in for a field before the repair that is empty.
func (s *Page) Assumed(id present.FieldID) (text string, ok bool) {
	for _, p := range s.before.problems[id] {
		if p.Level == present.Assumed {
			if a, is := p.Args["value"].(present.Amount); is {
				text, _ = s.Voice().Number(a.Value, a.Kind)
			}
			return text, true
		}
	}
	return "", false
}

// BareInput is an input that takes anything: what cannot be read stays in it and is
// explained in the element note.
func BareInput(html, mode, text, note string, problems []present.Problem) app.HTMLInput {
	el := app.Input().ID(html).Type("text").Attr("inputmode", mode).AutoComplete(false).
		Attr("enterkeyhint", "next").Attr("autocapitalize", "off").Spellcheck(false).MaxLength(2 * present.MaxText).
		Value(text).OnKeyDown(onEnter).OnFocus(selectAll)
	if len(problems) > 0 {
		el.Aria("describedby", note)
	}
	for _, p := range problems {
		if p.Level == present.Refused {
			el.Attr("aria-invalid", "true")
		}
	}
	return el
}

// selectAll selects a number as a tap or the Next key arrives at it: who goes there
// mostly types another. A second tap sets the caret.
func selectAll(ctx app.Context, _ app.Event) {
	ctx.PreventUpdate()
	ctx.JSSrc().Call("select")
}

// Input is the bare input of a text.
func (s *Page) Input(t Text) app.HTMLInput {
	text := s.Typed(t)
	el := BareInput(t.HTML(), s.inputMode(t), text, t.note(), s.Problems(t)).
		OnInput(Typing(func(text string) { s.Put(t, text); s.Edited() }), app.EventScope(t.HTML()))
	switch n := utf8.RuneCountInString(text); {
	case n > 7:
		el.Class("len3")
	case n > 5:
		el.Class("len2")
	case n > 3:
		el.Class("len1")
	}
	return el
}

// Messages says what is wrong or doubtful about a text: what, why, what next,
// and what may have been meant, one tap away.
func (s *Page) Messages(t Text) app.UI {
	return s.MessagesOf(t.note(), s.Problems(t), func(code, text string) { s.take(t, code, text) })
}

// MessagesOf is [Page.Messages] for problems of an input of one's own; take is called with
// the code and the text of the suggestion that was tapped.
func (s *Page) MessagesOf(id string, problems []present.Problem, take func(code, text string)) app.UI {
	if len(problems) == 0 {
		// Something must keep the place: go-app would make the neighbours anew, and
		// a finger that is already in the next field would lose it.
		return app.Div().Hidden(true)
	}
	var items []app.UI
	for _, p := range problems {
		m := s.Voice().Problem(&p)
		var offers []app.UI
		for i, o := range m.Suggest {
			code := p.Suggest[i].Code
			if o.Text == "" && code != present.SwapSides {
				continue
			}
			offers = append(offers, app.Button().Type("button").Class("btn").DataSet("suggest", code).Text(o.Words).
				OnClick(func(app.Context, app.Event) { take(code, o.Text) }, app.EventScope(id, code, o.Text)))
		}
		items = append(items, app.Div().Class("msg").Body(append(Told(m),
			app.If(len(offers) > 0, func() app.UI { return app.Div().Body(offers...) }))...))
	}
	return app.Div().ID(id).Class("tight").Body(items...)
}

// Field is a labelled text with its unit, how to get it, and its message. Its words
// are <place>.field.<field>; the placeholder is what is taken while nothing is typed.
func (s *Page) Field(place string, t Text, placeholder string) app.UI {
	w, key := s.Words, place+".field."+t.Words()
	if placeholder == "" {
		placeholder = w.T("number.missing")
	}
	return app.Div().Class("field").Body(
		app.Label().For(t.HTML()).Text(w.T(key+".name")),
		app.Div().Class("entry").Body(
			s.Input(t).Placeholder(placeholder),
			app.Span().Class("unit").Text(s.UnitBeside(t)),
		),
		app.If(w.Has(key+".how"), func() app.UI { return app.P().Class("hint").Text(w.Text(key+".how", nil)) }),
		s.Messages(t),
	)
}

// inputMode chooses the keypad of a phone: digits, or letters too where a unit
// within the number is usual, as in "28 in" or "1 lb 8".
func (s *Page) inputMode(t Text) string {
	f := fieldOf(t.Field)
	needle := t.Field == needed[0] || t.Field == needed[1]
	switch {
	case f.Kind == unit.Duration, f.Kind == unit.AbsolutePressure,
		f.Kind == unit.Mass && s.Job.Units.Mass == unit.PoundOunce,
		f.Swing && f.Kind == unit.GaugePressure && (t.After || !needle):
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

// typedUnit remembers whether a text brings its own unit, so that it is read for this
// only when it changes.
type typedUnit struct {
	text string
	unit unit.Unit // it was read in
	own  bool
}

// UnitBeside is the unit that stands beside a text: none where the text brings its
// own, because "12 in" psi is nonsense.
func (s *Page) UnitBeside(t Text) string {
	f, text := fieldOf(t.Field), s.Typed(t)
	unit := f.Unit(s.Job.Units)
	known := s.typedUnit[t]
	if known.text != text || known.unit != unit {
		e, err := present.Parse(text, f.Kind, unit)
		known = typedUnit{text: text, unit: unit, own: err == nil && e.Typed}
		s.typedUnit[t] = known
	}
	if known.own {
		return ""
	}
	return s.Words.T("unit." + string(unit))
}

// UnitName is what stands beside a number of the kind.
func (s *Page) UnitName(k unit.Kind) string {
	return s.Words.T("unit." + string(s.Job.Units.For(k)))
}

func fieldOf(id present.FieldID) present.Field {
	f, ok := present.FieldOf(id)
	if !ok {
		panic("page: no field " + string(id))
	}
	return f
}

// Made tells whether anything was typed or chosen for the reading.
func (s *Page) Made(q car.Quantity) bool {
	r := s.Job.Before.Readings[q]
	return r.Text != "" || r.Choice != "" || r.Lo != "" || r.Hi != ""
}
