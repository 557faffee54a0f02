package unit

import (
	"math"
	"strconv"
	"strings"
)

// Text writes x, a value in u that was computed, to the step of u: with a point,
// "-" for minus and no unit. A unit without a step has three digits. What is not
// finite is written "–".
func (u Unit) Text(x float64) string { return u.write(x, Unit.toStep) }

// rounding gives the number to write for a finite x in u, and its decimals.
type rounding func(u Unit, x float64) (y float64, decimals int)

func (u Unit) write(x float64, round rounding) string {
	if !finite(x) {
		return missing
	}
	y, decimals := round(u, x)
	t := strconv.FormatFloat(y, 'f', decimals, 64)
	if u.Kind() == GaugePressure && u != InHg {
		return unsignedZero(t) // a gauge has its zeros after the point
	}
	return trimZeros(t)
}

func (u Unit) toStep(x float64) (y float64, decimals int) {
	step := u.step(x)
	if step == 0 {
		return toDigits(x, 3)
	}
	return math.Round(x/step) * step, stepDecimals(step)
}

// toTyped is for a value that was read from an instrument, which is written as it was
// typed: with all its digits if it is a number of at most four decimals, as typed ones
// are. One that was typed in another unit comes out of a conversion and is none; it is
// written as [Unit.Text].
func (u Unit) toTyped(x float64) (y float64, decimals int) {
	const most = 4
	// A conversion to SI and back is off by a few units in the sixteenth digit. A
	// number that was not typed comes this near a short one about once in 10⁵ times.
	near := 1e-10 * math.Max(1, math.Abs(x))
	least := 0
	if step := u.step(x); step > 0 {
		least = stepDecimals(step)
	}
	for d := least; d <= most; d++ {
		p := math.Pow10(d)
		if y := math.Round(x*p) / p; math.Abs(x-y) <= near {
			return y, d
		}
	}
	return u.toStep(x)
}

// step is what the instrument of u can be read to at the value x in u; 0 if u has
// no step.
func (u Unit) step(x float64) float64 {
	i := u.info()
	if i.coarseFrom > 0 && math.Abs(x) >= i.coarseFrom {
		return i.coarse
	}
	return i.step
}

func stepDecimals(step float64) int { return max(0, int(math.Ceil(-math.Log10(step)-1e-9))) }

// Plain writes an SI value in u so that it can be typed back: enough digits for
// any instrument, a point, no minus sign but "-". What is not finite gives "".
func (u Unit) Plain(si float64) string {
	x := u.FromSI(si)
	if !finite(x) {
		return ""
	}
	return trimZeros(strconv.FormatFloat(math.Round(x*1e4)/1e4, 'f', -1, 64))
}

// missing stands for a number that is not finite, so that no NaN is ever read.
const missing = "–"

// Digits writes x with at most the given significant digits, without exponent and
// without zeros at the end; "–" if it is not finite.
func Digits(x float64, digits int) string {
	if !finite(x) {
		return missing
	}
	y, decimals := toDigits(x, digits)
	return trimZeros(strconv.FormatFloat(y, 'f', decimals, 64))
}

func toDigits(x float64, digits int) (y float64, decimals int) {
	if x == 0 {
		return 0, 0
	}
	mag := int(math.Floor(math.Log10(math.Abs(x))))
	if mag >= digits { // round the integer part to the digits asked for
		p := math.Pow(10, float64(mag-digits+1))
		x = math.Round(x/p) * p
	}
	return x, max(digits-1-mag, 0)
}

func trimZeros(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return unsignedZero(s)
}

func unsignedZero(s string) string {
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}
