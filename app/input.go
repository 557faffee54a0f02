package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// input names one text on screen: a field, or one end of a swinging reading.
type input struct {
	id  present.FieldID
	end string // "", "lo" or "hi"
}

// html is the id of the element: low, low-lo, low-hi, ambient, …
func (in input) html() string {
	if in.end == "" {
		return string(in.id)
	}
	return string(in.id) + "-" + in.end
}

// visitFields are typed once per visit; the others belong to the whole job.
var visitFields = map[present.FieldID]bool{
	present.Ambient: true, present.Humidity: true, present.Altitude: true,
	present.EngineSpeed: true, present.Blower: true,
}

var isQuantity = func() map[present.FieldID]bool {
	m := map[present.FieldID]bool{}
	for _, q := range job.Quantities {
		m[present.FieldID(q)] = true
	}
	return m
}()

// text returns what was typed.
func (s *session) text(in input) string {
	if isQuantity[in.id] {
		r := s.job.Before.Readings[car.Quantity(in.id)]
		switch in.end {
		case "lo":
			return r.Lo
		case "hi":
			return r.Hi
		}
		return r.Text
	}
	if visitFields[in.id] {
		return s.job.Before.Text[in.id]
	}
	return s.job.Text[in.id]
}

// putText stores what was typed, as it was typed.
func (s *session) putText(in input, text string) {
	switch {
	case isQuantity[in.id]:
		q := car.Quantity(in.id)
		r := s.job.Before.Readings[q]
		switch in.end {
		case "lo":
			r.Lo = text
		case "hi":
			r.Hi = text
		default:
			r.Text = text
		}
		s.job.Before.SetReading(q, r)
	case visitFields[in.id]:
		s.job.Before.SetText(in.id, text)
	default:
		s.job.SetText(in.id, text)
	}
}

// typed is the handler of an input: it keeps the text and looks at the job again.
func (s *session) typed(in input) app.EventHandler {
	return func(ctx app.Context, _ app.Event) {
		s.putText(in, ctx.JSSrc().Get("value").String())
		s.edited(ctx)
	}
}

// take puts a suggestion into the field it was made for.
func (s *session) take(ctx app.Context, in input, code, text string) {
	if code == present.SwapSides {
		s.swapSides()
	} else {
		s.putText(in, text)
	}
	s.edited(ctx)
	s.syncInputs(ctx)
	s.ctx.Defer(func(app.Context) { focus(in.html()) })
}

func (s *session) swapSides() {
	v := &s.job.Before
	low, high := v.Readings[car.Low], v.Readings[car.High]
	v.SetReading(car.Low, high)
	v.SetReading(car.High, low)
}

// setSwing says whether a needle swings. The first time, what was typed as one
// number becomes an end of the swing, so that nothing is typed twice.
func (s *session) setSwing(ctx app.Context, q car.Quantity, swing bool) {
	r := s.job.Before.Readings[q]
	if swing && r.Lo == "" && r.Hi == "" {
		r.Lo = r.Text
	}
	r.Swing = swing
	s.job.Before.SetReading(q, r)
	s.edited(ctx)
	s.syncInputs(ctx)
	end := ""
	if swing {
		end = "lo"
	}
	s.ctx.Defer(func(app.Context) { focus(input{present.FieldID(q), end}.html()) })
}

// syncInputs brings the inputs on screen to what the job holds, after it was
// changed by anything but typing. It waits in the root's name: a button that was
// tapped may be gone by then, and with it what it had deferred.
func (s *session) syncInputs(ctx app.Context) {
	s.ctx.Defer(func(app.Context) {
		for _, in := range s.allInputs() {
			setValue(in.html(), s.text(in))
		}
	})
	s.syncSlots(ctx)
}

func (s *session) allInputs() []input {
	var all []input
	for _, q := range job.Quantities {
		if q == car.SightGlass { // a menu, which follows by itself
			continue
		}
		id := present.FieldID(q)
		all = append(all, input{id, ""}, input{id, "lo"}, input{id, "hi"})
	}
	for id := range visitFields {
		all = append(all, input{id, ""})
	}
	for _, id := range []present.FieldID{present.LabelCharge, present.ServiceLow, present.ServiceHigh} {
		all = append(all, input{id, ""})
	}
	return all
}

// kind returns what a quantity measures.
func (s *session) kind(q car.Quantity) unit.Kind {
	f, ok := present.FieldOf(present.FieldID(q))
	if !ok {
		panic("app: no field " + string(q))
	}
	return f.Kind
}

// quantityName names a reading in a line of text.
func (s *session) quantityName(q car.Quantity) string {
	switch q {
	case car.Low:
		return s.words.T("readings.low")
	case car.High:
		return s.words.T("readings.high")
	}
	return s.words.T("quantity." + string(q) + ".name")
}

// shownKind is the kind a reading is said in by the model's own numbers: a recovered
// mass enters it as a share of the label charge, whatever it was typed in.
func (s *session) shownKind(q car.Quantity) unit.Kind {
	if q == car.Recovered {
		return unit.Fraction
	}
	return s.kind(q)
}

// readingText says a reading of the case back in the user's units.
func (s *session) readingText(q car.Quantity, r car.Reading) string {
	if r.Choice != "" {
		return s.words.T(string(q) + "." + r.Choice)
	}
	if q == car.Recovered { // a share of the label charge
		return s.voice().Quantity(r.Value, unit.Fraction)
	}
	e := present.Entry{Value: r.Value, Lo: r.Value, Hi: r.Value, AtLeast: r.AtLeast, AtMost: r.AtMost}
	if r.Swing {
		e.Swing, e.Lo, e.Hi = true, r.Lo, r.Hi
	}
	return s.voice().Entry(e, s.kind(q))
}
