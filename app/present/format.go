package present

import (
	"math"
	"strconv"
	"strings"
)

// Voice speaks one language in one choice of units. It is how a number from the
// model becomes text.
type Voice struct {
	Words *Words
	Units Units
}

// show is the step to which a unit is shown, about what its instrument can be
// read to (judgement), for values below and from upTo on. Zero upTo: one step.
type show struct{ step, upTo, then float64 }

var shown = map[Unit]show{
	PSI: {1, 0, 0}, KPa: {5, 0, 0}, Bar: {0.01, 10, 0.1}, MPa: {0.01, 0, 0}, InHg: {0.5, 10, 1}, KgfCm2: {0.01, 10, 0.1},
	Fahrenheit: {1, 0, 0}, Celsius: {0.5, 0, 0}, Kelvin: {0.5, 0, 0}, DiffF: {1, 0, 0}, DiffC: {0.5, 0, 0},
	Gram: {1, 0, 0}, Kilogram: {0.001, 1, 0.01}, Ounce: {0.1, 0, 0}, Pound: {0.01, 0, 0},
	Millilitre: {1, 0, 0}, CubicCm: {1, 0, 0}, FluidOunce: {0.1, 0, 0}, Litre: {0.01, 0, 0},
	Metre: {0.1, 20, 1}, Foot: {0.1, 20, 1}, Millimetre: {0.1, 0, 0}, Inch: {0.01, 0, 0},
	RPM: {10, 0, 0}, PerMinute: {0.1, 10, 1}, Percent: {1, 0, 0}, Month: {1, 0, 0}, GramYear: {1, 0, 0}, OunceYear: {0.1, 0, 0}, Year: {0.1, 0, 0},
}

// Number returns an SI value of kind k as the number and the unit to set beside
// it, rounded to what its instrument can be read to. A value that is not finite
// is shown as the dash of a missing value without a unit.
func (v Voice) Number(si float64, k Kind) (num, unit string) {
	return v.numberIn(si, v.unitFor(si, k))
}

// Quantity is [Voice.Number] in one text: "28 psi".
func (v Voice) Quantity(si float64, k Kind) string { return v.quantityIn(si, v.unitFor(si, k)) }

// unitFor is the user's unit, but inches of mercury for a vacuum if so chosen.
func (v Voice) unitFor(si float64, k Kind) Unit {
	if k == GaugePressure && v.Units.InHg && si < -mmHgPa*2.54 { // below a tenth of an inch
		return InHg
	}
	return v.Units.For(k)
}

func (v Voice) quantityIn(si float64, u Unit) string {
	num, unit := v.numberIn(si, u)
	if unit == "" {
		return num
	}
	return v.Words.T("number.with_unit", "number", num, "unit", unit)
}

// tooBigToSay is beyond every value of a car in SI; only slips of the finger get
// there, and no string of digits helps to see them.
const tooBigToSay = 1e12

func (v Voice) numberIn(si float64, u Unit) (num, unit string) {
	if !finite(si) {
		return v.Words.T("number.missing"), ""
	}
	switch {
	case math.Abs(si) > tooBigToSay:
		return v.Words.T("number.huge"), ""
	case u == PoundOunce:
		return v.poundOunce(si), ""
	case u.Kind() == Duration:
		return v.duration(si), ""
	}
	return v.sign(rounded(u, u.FromSI(si))), v.Words.T("unit." + string(u))
}

// plainNumber says a number without a unit to three digits.
func (v Voice) plainNumber(x float64) string {
	switch {
	case !finite(x):
		return v.Words.T("number.missing")
	case math.Abs(x) > tooBigToSay:
		return v.Words.T("number.huge")
	}
	return v.sign(number(x, 3))
}

// rounded writes x to the step of u; a unit without a step to 3 digits.
func rounded(u Unit, x float64) string {
	s, ok := shown[u]
	if !ok {
		return number(x, 3)
	}
	step := s.step
	if s.upTo > 0 && math.Abs(x) >= s.upTo {
		step = s.then
	}
	decimals := max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	x = math.Round(x/step)*step + 0 // −0 becomes 0
	t := strconv.FormatFloat(x, 'f', decimals, 64)
	if u.Kind() == GaugePressure && u != InHg {
		return t // bar keeps its zeros: a gauge has them
	}
	return trimZeros(t)
}

// sign puts the language's own point and minus sign into a number.
func (v Voice) sign(s string) string {
	if strings.Contains(s, ".") {
		s = strings.ReplaceAll(s, ".", v.Words.T("number.point"))
	}
	return strings.ReplaceAll(s, "-", "−")
}

func (v Voice) poundOunce(kg float64) string {
	oz := math.Round(Ounce.FromSI(kg)*10) / 10
	lb := math.Trunc(oz / 16)
	rest := v.sign(number(math.Abs(oz-16*lb), 3))
	if lb == 0 {
		return v.Words.T("number.with_unit", "number", v.sign(number(oz, 3)), "unit", v.Words.T("unit.oz"))
	}
	return v.Words.T("number.pound_ounce", "pounds", v.sign(number(lb, 6)), "ounces", rest)
}

// duration says seconds below two minutes, whole minutes from ten minutes on and
// hours from two hours on.
func (v Voice) duration(s float64) string {
	switch s = math.Round(s); {
	case math.Abs(s) < 120:
		return v.Words.T("duration.seconds", "n", number(s, 6))
	case math.Abs(s) < 600 && math.Mod(s, 60) != 0:
		return v.Words.T("duration.minutes_seconds", "minutes", number(math.Trunc(s/60), 3), "seconds", number(math.Abs(math.Mod(s, 60)), 2))
	case math.Abs(s) < 7200:
		return v.Words.T("duration.minutes", "n", number(math.Round(s/60), 6))
	}
	min := math.Round(s / 60)
	return v.Words.T("duration.hours", "hours", number(math.Trunc(min/60), 9), "minutes", number(math.Abs(math.Mod(min, 60)), 2))
}

// Range says "25–34 psi"; with a negative end "−5 to 12 psi", because a dash
// beside a minus sign is misread. Ends in different units keep both of them.
func (v Voice) Range(lo, hi float64, k Kind) string {
	ul, uh := v.unitFor(lo, k), v.unitFor(hi, k)
	if ul != uh || ul == PoundOunce || k == Duration {
		return v.Words.T("number.range_words", "lo", v.quantityIn(lo, ul), "hi", v.quantityIn(hi, uh))
	}
	a, unit := v.numberIn(lo, ul)
	b, _ := v.numberIn(hi, uh)
	if unit == "" {
		return a
	}
	key := "number.range"
	if strings.Contains(a+b, "−") {
		key = "number.range_words"
	}
	return v.Words.T("number.with_unit", "number", v.Words.T(key, "lo", a, "hi", b), "unit", unit)
}

// Entry says a parsed input back: a swing as a range, a pegged needle as a bound.
func (v Voice) Entry(e Entry, k Kind) string {
	switch {
	case e.Swing:
		return v.Range(e.Lo, e.Hi, k)
	case e.AtLeast:
		return v.Words.T("number.at_least", "value", v.Quantity(e.Value, k))
	case e.AtMost:
		return v.Words.T("number.at_most", "value", v.Quantity(e.Value, k))
	}
	return v.Quantity(e.Value, k)
}

// number writes x with at most the given significant digits, without exponent
// and without trailing zeros. A value that is not finite is written "–", so
// that no NaN is ever read on the page.
func number(x float64, digits int) string {
	if !finite(x) {
		return "–"
	}
	if x == 0 {
		return "0"
	}
	mag := int(math.Floor(math.Log10(math.Abs(x))))
	if mag >= digits { // round the integer part to the digits asked for
		p := math.Pow(10, float64(mag-digits+1))
		x = math.Round(x/p) * p
	}
	return trimZeros(strconv.FormatFloat(x, 'f', max(digits-1-mag, 0), 64))
}

func trimZeros(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// Plain writes an SI value in unit u so that it can be typed back: enough digits
// for any instrument, a point, no minus sign but "-".
func Plain(u Unit, si float64) string {
	x := u.FromSI(si)
	if !finite(x) {
		return ""
	}
	return trimZeros(strconv.FormatFloat(math.Round(x*1e4)/1e4, 'f', -1, 64))
}
