package svg

import (
	"math"
	"strconv"
	"strings"
)

// Tick is one labelled place on an axis.
type Tick struct {
	Value float64
	Label string
}

// Ticks returns about n round ticks within [lo, hi]: steps of 1, 2 or 5 times a
// power of ten. go-chart's own start at the lower limit and are not round.
func Ticks(lo, hi float64, n int) []Tick {
	span := hi - lo
	if !(span > 0) || math.IsInf(span, 0) || n < 1 || span < 1e-9*max(math.Abs(lo), math.Abs(hi)) {
		return nil
	}
	step := Step(span, n)
	decimals := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	var ticks []Tick
	for k := math.Ceil(lo/step - 1e-9); k*step <= hi+1e-9*step && len(ticks) <= 2*n+2; k++ {
		v := k * step
		ticks = append(ticks, Tick{v, Number(v, decimals)})
	}
	return ticks
}

// Step returns the smallest of 1, 2, 5, 10 … times a power of ten that divides
// span, which is positive, into at most about n parts.
func Step(span float64, n int) float64 {
	base := math.Pow(10, math.Floor(math.Log10(span/float64(n))))
	for _, m := range []float64{1, 2, 5} {
		if span/(m*base) <= float64(n)+0.5 {
			return m * base
		}
	}
	return 10 * base
}

// DecadeTicks returns ticks at 1, 2 and 5 times the powers of ten within
// [lo, hi], both positive, placed by their logarithm.
func DecadeTicks(lo, hi float64) []Tick {
	if !(lo > 0 && hi > lo) || math.IsInf(hi, 0) || math.Log10(hi/lo) > 12 {
		return nil
	}
	var ticks []Tick
	for e := math.Floor(math.Log10(lo)); e <= math.Log10(hi); e++ {
		for _, m := range []float64{1, 2, 5} {
			if v := m * math.Pow(10, e); v >= lo && v <= hi {
				ticks = append(ticks, Tick{math.Log10(v), Number(v, max(0, int(-e)))})
			}
		}
	}
	return ticks
}

// Number writes v with a fixed number of decimals and a true minus sign; zero
// has no sign.
func Number(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.HasPrefix(s, "-") {
		if strings.Trim(s, "-0.") == "" {
			return s[1:]
		}
		return "−" + s[1:]
	}
	return s
}
