package page

import (
	"math"
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

// InText names a condition within a technician's sentence.
func (s *Page) InText(id car.ConditionID) string {
	return s.Words.T("condition." + string(id) + ".in_text")
}

// Plain names a condition within a sentence for a driver.
func (s *Page) Plain(id car.ConditionID) string {
	return s.Words.T("condition." + string(id) + ".plain")
}

// Sentences returns the answer as one sentence a customer could hear and one for
// the technician. Both name the doubt.
func (s *Page) Sentences(r diagnose.Report) (customer, technician string) {
	w := s.Words
	switch {
	case r.Verdict == diagnose.Doubtful || len(r.Ranking) == 0:
		return w.T("verdict.doubtful.customer"), w.T("verdict.doubtful.tech")
	case r.Ranking[0].ID == car.Combination && r.PairA != "" && r.PairB != "":
		return w.T("verdict.pair.customer", "first", s.Plain(r.PairA), "second", s.Plain(r.PairB)),
			w.T("verdict.pair.tech", "first", s.InText(r.PairA), "second", s.InText(r.PairB))
	case r.Verdict == diagnose.CannotTell && len(r.Ranking) > 1:
		return s.cannotTell(r)
	}
	lead := r.Ranking[0]
	how := "leaning"
	if r.Verdict == diagnose.Named {
		how = "named"
	}
	key, chance := "condition."+string(lead.ID), s.said(lead.Probability)
	if q, made := s.madeAlready(lead.ID); made && how == "leaning" {
		return w.T("verdict.settled.customer", "condition", s.Plain(lead.ID), "chance", chance),
			w.T("verdict.settled.tech", "measured", w.T("quantity."+string(q)+".in_text"), "condition", s.InText(lead.ID), "chance", chance)
	}
	return w.T(key+".customer."+how, "chance", chance), w.T(key+".tech."+how, "chance", chance)
}

// SettledBy are the measurements that the sentences of conditions.json for a
// condition that leads ask for.
var SettledBy = map[car.ConditionID][]car.Quantity{
	car.Undercharge:      {car.DischargeLine, car.Recovered},
	car.Overcharge:       {car.LiquidLine, car.Recovered},
	car.Air:              {car.Resting},
	car.CondenserAirflow: {car.WaterTest, car.FanTest},
	car.ValveOpen:        {car.SuctionLine},
	car.WeakCompressor:   {car.EqualiseTime},
	car.SwitchRange:      {car.Cycling},
	car.Empty:            {car.Resting},
}

// madeAlready returns a measurement that the condition's own sentence would ask for
// although it has been made.
func (s *Page) madeAlready(id car.ConditionID) (car.Quantity, bool) {
	for _, q := range SettledBy[id] {
		if _, made := s.Answer().Of.Readings[q]; made {
			return q, true
		}
	}
	return "", false
}

// InFewWords names what leads and how likely it is, or says that nothing does; ""
// where there is no answer.
func (s *Page) InFewWords() string {
	r := s.Answer().Report
	if s.Answer().State != Answered || len(r.Ranking) == 0 {
		return ""
	}
	if r.Verdict == diagnose.Named || r.Verdict == diagnose.Leaning {
		return s.Words.T("readings.glance.leads", "condition", s.ConditionName(r.Ranking[0].ID), "chance", s.Words.Chance(r.Ranking[0].Probability))
	}
	return s.Words.T("verdict." + string(r.Verdict) + ".name")
}

// said is a chance within a sentence that says "most likely" already: "almost
// certain" would double it.
func (s *Page) said(p float64) string {
	if present.ChanceKey(p) == "chance.almost_certain" {
		return s.Words.T("readings.nearly_sure")
	}
	return s.Words.Chance(p)
}

func (s *Page) cannotTell(r diagnose.Report) (customer, technician string) {
	w, a, b := s.Words, r.Ranking[0], r.Ranking[1]
	return w.T("verdict.cannot_tell.customer", "first", s.Plain(a.ID), "second", s.Plain(b.ID)),
		w.T("verdict.cannot_tell.tech",
			"first", s.InText(a.ID), "first_chance", w.Chance(a.Probability),
			"second", s.InText(b.ID), "second_chance", w.Chance(b.Probability))
}

// WouldTell names what would settle readings that cannot tell, "" where the answer
// says so itself. It is a sentence of its own because it is known later than the
// answer.
func (s *Page) WouldTell(r diagnose.Report) string {
	if len(r.Next) == 0 || len(r.Ranking) == 0 {
		return ""
	}
	_, settled := s.madeAlready(r.Ranking[0].ID)
	if r.Verdict != diagnose.CannotTell && !(r.Verdict == diagnose.Leaning && settled) {
		return ""
	}
	return s.Words.T("verdict.cannot_tell.next", "next", s.Words.T("quantity."+string(r.Next[0].Quantity)+".in_text"))
}

// ForTechnician is the answer for the technician in full.
func (s *Page) ForTechnician(r diagnose.Report) string {
	_, technician := s.Sentences(r)
	if next := s.WouldTell(r); next != "" {
		return s.Words.T("readings.two_sentences", "first", technician, "second", next)
	}
	return technician
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
	case weight < -little && e.Favours != "" && e.Favours != leader:
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
		args["range"] = s.Voice().Range(e.Expected.Lo, e.Expected.Hi, e.Quantity.Info().Kind)
	}
	return w.Text(key, args), sign
}

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

// RankedOpen is how many conditions are ranked in the open, and Unlikely
// the chance below which a condition is folded away (judgement).
const (
	RankedOpen = 4
	Unlikely   = 0.05
)

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
