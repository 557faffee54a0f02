package page

import (
	"math"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// ConditionName names a condition in a list.
func (s *Page) ConditionName(id car.ConditionID) string {
	return s.Words.T("condition." + string(id) + ".name")
}

// ShortName names a condition where there is little room, as the pictures do.
func (s *Page) ShortName(id car.ConditionID) string {
	return s.Words.T("chart.condition." + string(id))
}

// InText names a condition within a technician's sentence.
func (s *Page) InText(id car.ConditionID) string {
	return s.Words.T("condition." + string(id) + ".in_text")
}

// Plain names a condition within a sentence for a driver.
func (s *Page) Plain(id car.ConditionID) string {
	return s.Words.T("condition." + string(id) + ".plain")
}

// Reason puts one reading's part in the answer into a line, with a sign that
// repeats its direction.
func (s *Page) Reason(e diagnose.Evidence, r diagnose.Report) (line, sign string) {
	w := s.Words
	leader := r.Ranking[0].ID
	// Below a quarter of a natural log unit the odds move by less than a third
	// (judgement): not worth a claim.
	const little = 0.25
	weight := e.AgainstHealthy
	if leader == car.Healthy {
		weight = e.AgainstNext
	}
	effect := w.T("readings.effect.little")
	sign = "·"
	switch {
	case weight > little:
		effect, sign = w.T("readings.effect.for"), "+"
	case weight < -little && e.Favours != leader && slices.ContainsFunc(r.Ranking[:open(r.Ranking)], func(c diagnose.Ranked) bool { return c.ID == e.Favours }):
		effect, sign = w.T("readings.effect.against", "other", s.InText(e.Favours)), "−"
	case weight < -little:
		effect, sign = w.T("readings.effect.against_plain"), "−"
	}
	key := "readings.why_plain"
	args := map[string]any{"quantity": s.QuantityName(e.Quantity), "value": s.ReadingText(e.Quantity, e.Reading), "effect": effect}
	if e.HasExpected {
		key = [...]string{"readings.why_below", "readings.why_inside", "readings.why_above"}[e.Place+1]
		if s.AtEdge(e) {
			key = "readings.why_edge"
		}
		if e.Quantity == car.Cycling && e.Expected.Hi < seldom {
			key = "readings.why_keeps_on"
		}
		args["range"] = s.Voice().Range(e.Expected.Lo, e.Expected.Hi, e.Quantity.Info().Kind)
	}
	return w.Text(key, args), sign
}

// seldom is a rate of clutch engagements, 1/min, below which nobody sees one in a
// minute's look: such a clutch stays on.
const seldom = 0.5

// AtEdge tells whether a reading outside its band looks the same as the end of it:
// to say that 52 is below 52 to 67 helps nobody.
func (s *Page) AtEdge(e diagnose.Evidence) bool {
	end := e.Expected.Lo
	if e.Place > 0 {
		end = e.Expected.Hi
	}
	a, _ := s.Voice().Number(e.Reading.Value, e.Quantity.Info().Kind)
	b, _ := s.Voice().Number(end, e.Quantity.Info().Kind)
	return e.Place != 0 && !e.Reading.Swing && a == b
}

// ChanceBar draws a chance as a length. It repeats the words beside it and is
// hidden from readers of the page.
func ChanceBar(p float64) app.UI {
	const ns = "http://www.w3.org/2000/svg"
	bar := func(class string, percent float64) app.UI {
		return app.Elem("rect").XMLNS(ns).Class(class).Attr("width", percent).Attr("height", 2).Attr("rx", .4)
	}
	return app.Elem("svg").XMLNS(ns).Attr("viewBox", "0 0 100 2").Attr("preserveAspectRatio", "none").Aria("hidden", true).Body(
		bar("rail", 100), bar("fill", max(math.Round(p*1000)/10, 0.8)))
}

// JoinSentences sets the parts of a message one after the other.
func JoinSentences(m present.Message) string {
	s := m.What
	for _, part := range []string{m.Why, m.Next} {
		if part != "" {
			s += " " + part
		}
	}
	return s
}

func (s *Page) List(items []string) string {
	return strings.Join(items, s.Words.T("readings.sep"))
}

// QuantityName names a reading in a line of text.
func (s *Page) QuantityName(q car.Quantity) string {
	switch q {
	case car.Low:
		return s.Words.T("readings.low")
	case car.High:
		return s.Words.T("readings.high")
	}
	return s.Words.T("quantity." + string(q) + ".name")
}

// ReadingText says a reading of the case back in the user's units.
func (s *Page) ReadingText(q car.Quantity, r car.Reading) string {
	if r.Choice != "" {
		return s.Words.T(string(q) + "." + r.Choice)
	}
	e := present.Entry{Value: r.Value, Lo: r.Value, Hi: r.Value, AtLeast: r.AtLeast, AtMost: r.AtMost}
	if r.Swing {
		e.Swing, e.Lo, e.Hi = true, r.Lo, r.Hi
	}
	text := s.Voice().Entry(e, q.Info().Kind)
	if q == car.Recovered {
		text = s.Words.T("readings.next.of_label", "share", text)
	}
	return text
}
