package present

import (
	"math"
	"strconv"
)

// Retype rewrites typed text of kind k for a change of the selected unit from
// one to another, so that it goes on meaning the same. Text that names its own
// unit, or that cannot be read, comes back unchanged. The new number has the
// digits customary for its unit, and more until it says no less than the old
// one; changing back gives the old number again.
func Retype(text string, k Kind, from, to Unit) string {
	if from == to {
		return text
	}
	e, err := Parse(text, k, from)
	if err != nil || e.Typed {
		return text
	}
	half := 0.5000001 * math.Pow10(-decimalsTyped(text)) // what rounding left open
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

// convert writes an SI value in unit to with the fewest digits that are no more
// than half, in unit from, away from it; "" if none of a gauge's digits are.
func convert(si float64, from, to Unit, half float64) string {
	want, x := from.FromSI(si), to.FromSI(si)
	for d := to.info().decimals; d <= 6; d++ {
		y := math.Round(x*math.Pow10(d)) / math.Pow10(d)
		if finite(y) && math.Abs(from.FromSI(to.ToSI(y))-want) <= half {
			return trimZeros(strconv.FormatFloat(y, 'f', d, 64))
		}
	}
	return ""
}
