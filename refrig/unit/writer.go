package unit

import (
	"math"
	"strconv"
	"strings"
)

// Words gives the text of a key in a language, its {name}s replaced by the values
// that follow in pairs.
type Words func(key string, pairs ...any) string

// Writer writes SI values for people, in one choice of units and one language.
// Its keys are number.*, duration.* and unit.<unit>.
//
// The methods named after a reading write it as it was typed, the others round to
// what the instrument can be read to; see [Unit.Text].
type Writer struct {
	Units Units
	Words Words
}

// Number returns a computed value of kind k and the unit to set beside it. One that
// is not finite is the dash of a missing value without a unit.
func (w Writer) Number(si float64, k Kind) (num, unit string) {
	return w.in(si, w.Units.ForValue(si, k), Unit.toStep)
}

// Quantity is [Writer.Number] in one text: "28 psi".
func (w Writer) Quantity(si float64, k Kind) string {
	return w.QuantityIn(si, w.Units.ForValue(si, k))
}

// QuantityIn is [Writer.Quantity] in the unit u.
func (w Writer) QuantityIn(si float64, u Unit) string { return w.together(w.in(si, u, Unit.toStep)) }

// Reading returns a value of kind k that was read and the unit to set beside it.
func (w Writer) Reading(si float64, k Kind) (num, unit string) {
	return w.in(si, w.Units.ForValue(si, k), Unit.toTyped)
}

// ReadingText is [Writer.Reading] in one text.
func (w Writer) ReadingText(si float64, k Kind) string { return w.together(w.Reading(si, k)) }

// Range says "25–34 psi"; with a negative end "−5 to 12 psi", because a dash
// beside a minus sign is misread. Ends in different units keep both of them.
func (w Writer) Range(lo, hi float64, k Kind) string { return w.between(lo, hi, k, Unit.toStep) }

// ReadingRange is [Writer.Range] for the ends of a needle that swings.
func (w Writer) ReadingRange(lo, hi float64, k Kind) string {
	return w.between(lo, hi, k, Unit.toTyped)
}

// Numbers is [Writer.Range] without the unit, for a table or an axis that names it;
// both ends are in the chosen unit. Ends that look the same are one number.
func (w Writer) Numbers(lo, hi float64, k Kind) string { return w.numbers(lo, hi, k, Unit.toStep) }

// ReadingNumbers is [Writer.Numbers] for what was read.
func (w Writer) ReadingNumbers(lo, hi float64, k Kind) string {
	return w.numbers(lo, hi, k, Unit.toTyped)
}

func (w Writer) numbers(lo, hi float64, k Kind, round rounding) string {
	u := w.Units.For(k)
	a, _ := w.in(lo, u, round)
	if b, _ := w.in(hi, u, round); a != b {
		return w.rangeOf(a, b)
	}
	return a
}

func (w Writer) between(lo, hi float64, k Kind, round rounding) string {
	ul, uh := w.Units.ForValue(lo, k), w.Units.ForValue(hi, k)
	a, unit := w.in(lo, ul, round)
	b, unitHi := w.in(hi, uh, round)
	if ul != uh || ul == PoundOunce || k == Duration {
		return w.Words("number.range_words", "lo", w.together(a, unit), "hi", w.together(b, unitHi))
	}
	if unit == "" {
		return a
	}
	return w.together(w.rangeOf(a, b), unit)
}

func (w Writer) rangeOf(a, b string) string {
	key := "number.range"
	if strings.Contains(a+b, "−") {
		key = "number.range_words"
	}
	return w.Words(key, "lo", a, "hi", b)
}

func (w Writer) together(num, unit string) string {
	if unit == "" {
		return num
	}
	return w.Words("number.with_unit", "number", num, "unit", unit)
}

// tooBigToSay is beyond every value of a car in SI; only slips of the finger get
// there, and no string of digits helps to see them.
const tooBigToSay = 1e12

func (w Writer) in(si float64, u Unit, round rounding) (num, unit string) {
	switch {
	case !finite(si):
		return w.Words("number.missing"), ""
	case math.Abs(si) > tooBigToSay:
		return w.Words("number.huge"), ""
	case u == PoundOunce:
		return w.poundOunce(si, round), ""
	case u.Kind() == Duration:
		return w.duration(si), ""
	}
	return w.Sign(u.write(u.FromSI(si), round)), w.Words("unit." + string(u))
}

// Difference is what two values differ by, as whoever reads both would find it: of the
// numbers as they are written, with its sign, in the unit of such differences.
func (w Writer) Difference(from, to float64, k Kind) string {
	if !finite(from) || !finite(to) {
		return w.Words("number.missing")
	}
	u := w.Units.For(k)
	a, decimals := u.toStep(u.FromSI(from))
	b, more := u.toStep(u.FromSI(to))
	t := trimZeros(strconv.FormatFloat(b-a, 'f', max(decimals, more), 64))
	if !strings.HasPrefix(t, "-") && t != "0" {
		t = "+" + t
	}
	if k == Temperature {
		u = w.Units.For(TempDiff)
	}
	return w.together(w.Sign(t), w.Words("unit."+string(u)))
}

// Plain says a number without a unit to three digits.
func (w Writer) Plain(x float64) string {
	switch {
	case !finite(x):
		return w.Words("number.missing")
	case math.Abs(x) > tooBigToSay:
		return w.Words("number.huge")
	}
	return w.Sign(Digits(x, 3))
}

// Sign puts the language's own point and the minus sign into a number.
func (w Writer) Sign(s string) string {
	if strings.Contains(s, ".") {
		s = strings.ReplaceAll(s, ".", w.Words("number.point"))
	}
	return strings.ReplaceAll(s, "-", "−")
}

// poundOunce says "1 lb 8 oz". The ounces never round up to 16: 15.99 oz is the
// next pound.
func (w Writer) poundOunce(kg float64, round rounding) string {
	oz, decimals := round(Ounce, Ounce.FromSI(kg))
	lb := math.Trunc(oz / 16)
	if lb != 0 {
		oz = math.Abs(oz - 16*lb)
	}
	ounces := w.Sign(trimZeros(strconv.FormatFloat(oz, 'f', decimals, 64)))
	if lb == 0 {
		return w.together(ounces, w.Words("unit."+string(Ounce)))
	}
	return w.Words("number.pound_ounce", "pounds", w.Sign(Digits(lb, 6)), "ounces", ounces)
}

// duration says seconds below two minutes, whole minutes from ten minutes on and
// hours from two hours on.
func (w Writer) duration(s float64) string {
	switch s = math.Round(s); {
	case math.Abs(s) < 120:
		return w.Words("duration.seconds", "n", Digits(s, 6))
	case math.Abs(s) < 600 && math.Mod(s, 60) != 0:
		return w.Words("duration.minutes_seconds", "minutes", Digits(math.Trunc(s/60), 3), "seconds", Digits(math.Abs(math.Mod(s, 60)), 2))
	case math.Abs(s) < 7200:
		return w.Words("duration.minutes", "n", Digits(math.Round(s/60), 6))
	}
	min := math.Round(s / 60)
	return w.Words("duration.hours", "hours", Digits(math.Trunc(min/60), 9), "minutes", Digits(math.Abs(math.Mod(min, 60)), 2))
}
