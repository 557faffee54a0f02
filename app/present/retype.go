package present

import (
	"math"
	"strconv"

	"twoneedles/refrig/unit"
)

// Retype rewrites typed text of kind k for a change of the selected unit from
// one to another, so that it goes on meaning the same. Text that names its own
// unit, or that cannot be read, comes back unchanged. The new number has the
// digits customary for its unit, and more until it says no less than the old
// one; changing back gives the old number again for whatever a gauge can be read
// to.
func Retype(text string, k unit.Kind, from, to unit.Unit) string {
	if from == to {
		return text
	}
	e, err := Parse(text, k, from)
	if err != nil || e.Typed {
		return text
	}
	digits := max(decimalsTyped(text), from.Decimals()) // "1.9 bar" means 1.90
	half := 0.5000001 * math.Pow10(-digits)             // what rounding left open
	lo, hi := convert(e.Lo, from, to, half), convert(e.Hi, from, to, half)
	switch {
	case lo == "" || hi == "":
		return text
	case e.Swing:
		return lo + " to " + hi
	case e.AtLeast:
		return ">" + lo
	case e.AtMost:
		return "<" + lo
	}
	return lo
}

// decimalsTyped counts the digits after the point of the finest number in text.
func decimalsTyped(text string) int {
	most, n, after := 0, 0, false
	for _, r := range text + " " {
		switch {
		case isDigit(r) && after:
			n++
		case r == '.' || r == ',':
			after, n = true, 0
		case !isDigit(r):
			after, n = false, 0
		}
		most = max(most, n)
	}
	return most
}

// convert writes an SI value in unit to, no more than half (in unit from) away
// from it, with the fewest digits that are customary for the unit and no coarser
// than ten times half: "370.0" and not "370" for 53.66 psi, so that changing back
// finds the digits again. It gives "" if six digits after the point are too few.
func convert(si float64, from, to unit.Unit, half float64) string {
	want, x := from.FromSI(si), to.FromSI(si)
	coarsest := 20 * half * from.Size() / to.Size()
	for d := to.Decimals(); d <= 6; d++ {
		step := math.Pow10(-d)
		y := math.Round(x/step)*step + 0 // −0 becomes 0
		if step <= coarsest && finite(y) && math.Abs(from.FromSI(to.ToSI(y))-want) <= half {
			return strconv.FormatFloat(y, 'f', d, 64)
		}
	}
	return ""
}
