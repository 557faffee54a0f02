package present

import (
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// Voice speaks one language in one choice of units. It is how a number from the
// model becomes text.
type Voice struct {
	Words *Words
	Units unit.Units
}

func (v Voice) writer() unit.Writer { return unit.Writer{Units: v.Units, Words: v.Words.T} }

// Number returns a computed SI value of kind k as the number and the unit to set
// beside it, rounded to what its instrument can be read to. A value that is not
// finite is shown as the dash of a missing value without a unit.
func (v Voice) Number(si float64, k unit.Kind) (num, unit string) { return v.writer().Number(si, k) }

// Quantity is [Voice.Number] in one text: "28 psi".
func (v Voice) Quantity(si float64, k unit.Kind) string { return v.writer().Quantity(si, k) }

// Difference is what two values differ by, as they are written.
func (v Voice) Difference(from, to float64, k unit.Kind) string {
	return v.writer().Difference(from, to, k)
}

// Range says "25–34 psi"; with a negative end "−5 to 12 psi", because a dash
// beside a minus sign is misread. Ends in different units keep both of them.
func (v Voice) Range(lo, hi float64, k unit.Kind) string { return v.writer().Range(lo, hi, k) }

// Typed says a value that was typed with the digits that were typed: 182 kPa, where
// a computed one would be rounded to 180.
func (v Voice) Typed(si float64, k unit.Kind) string { return v.writer().ReadingText(si, k) }

// Plain says a number without a unit to three digits.
func (v Voice) Plain(x float64) string { return v.writer().Plain(x) }

// Entry says a parsed input back as it was typed: a swing as a range, a pegged
// needle as a bound.
func (v Voice) Entry(e Entry, k unit.Kind) string {
	switch {
	case e.Swing:
		return v.writer().ReadingRange(e.Lo, e.Hi, k)
	case e.AtLeast:
		return v.Words.T("number.at_least", "value", v.Typed(e.Value, k))
	case e.AtMost:
		return v.Words.T("number.at_most", "value", v.Typed(e.Value, k))
	}
	return v.Typed(e.Value, k)
}

// Reading says a reading of the case back as it was typed.
func (v Voice) Reading(q car.Quantity, r car.Reading) string {
	if r.Choice != "" {
		return v.Words.T(string(q) + "." + r.Choice)
	}
	e := Entry{Value: r.Value, Lo: r.Value, Hi: r.Value, AtLeast: r.AtLeast, AtMost: r.AtMost}
	if r.Swing {
		e.Swing, e.Lo, e.Hi = true, r.Lo, r.Hi
	}
	text := v.Entry(e, q.Info().Kind)
	if q == car.Recovered {
		text = v.Words.T("readings.next.of_label", "share", text)
	}
	return text
}
