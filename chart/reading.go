package chart

import (
	"fmt"

	"twoneedles/chart/svg"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// Needle is what one gauge shows, Pa gauge. The zero value was not read.
type Needle struct {
	Read   bool
	Lo, Hi float64 // equal where the needle stands still
	Err    float64 // half-width of the gauge's error, Pa
	// AtLeast and AtMost mark a pegged needle: the truth lies beyond.
	AtLeast, AtMost bool
}

// Steady is a needle that stands at pa, ± err.
func Steady(pa, err float64) Needle { return Needle{Read: true, Lo: pa, Hi: pa, Err: err} }

// Swinging is a needle between lo and hi, ± err.
func Swinging(lo, hi, err float64) Needle { return Needle{Read: true, Lo: lo, Hi: hi, Err: err} }

// NeedleOf takes the reading of one gauge; err is the gauge's error in Pa.
func NeedleOf(r car.Reading, err float64) Needle {
	n := Steady(r.Value, err)
	if r.Swing {
		n.Lo, n.Hi = r.Lo, r.Hi
	}
	n.AtLeast, n.AtMost = r.AtLeast, r.AtMost
	return n
}

func (n Needle) mid() float64 { return (n.Lo + n.Hi) / 2 }

// ends are the values to be written: one, or two for a swinging needle.
func (n Needle) ends() []float64 {
	switch {
	case !n.Read:
		return nil
	case n.Lo == n.Hi:
		return []float64{n.Lo}
	}
	return []float64{n.Lo, n.Hi}
}

func (n Needle) check() error {
	if !n.Read {
		return nil
	}
	if err := CheckGauges(n.Lo, n.Hi, n.Lo-n.Err, n.Hi+n.Err); err != nil {
		return err
	}
	if n.Hi < n.Lo || n.Err < 0 {
		return fmt.Errorf("chart: a needle between %g and %g Pa, error %g Pa", n.Lo, n.Hi, n.Err)
	}
	return nil
}

// needleText writes a needle with its unit.
func (o *Options) needleText(n Needle) string {
	switch {
	case !n.Read:
		return o.Words("chart.not_read")
	case n.AtLeast:
		return o.Words("number.at_least", "value", o.readText(n.Lo))
	case n.AtMost:
		return o.Words("number.at_most", "value", o.readText(n.Hi))
	case n.Lo == n.Hi:
		return o.readText(n.Lo)
	}
	return o.Words("chart.swinging", "lo", o.readText(n.Lo), "hi", o.readText(n.Hi))
}

// needleNumbers writes what a needle shows without the unit.
func (o *Options) needleNumbers(n Needle) string { return o.readNumbers(n.Lo, n.Hi) }

// needleCell is what a table says of a needle. A vacuum in another unit than that of
// the column carries its own.
func (o *Options) needleCell(n Needle) string {
	switch {
	case !n.Read:
		return o.Words("chart.not_read")
	case o.Units.ForValue(n.Lo, unit.GaugePressure) == o.Units.Pressure:
		return o.needleNumbers(n)
	case n.Lo == n.Hi:
		return o.readText(n.Lo)
	}
	return o.Writer().ReadingRange(n.Lo, n.Hi, unit.GaugePressure)
}

// chips lays out the numbers of n on an axis that runs from a to b on the
// canvas. The two ends of a swing are pushed apart until both can be read.
func (o *Options) chips(n Needle, axis svg.Axis, a, b float64, flat bool) svg.Chips {
	out := svg.Chips{Flat: flat}
	for _, v := range n.ends() {
		text := o.readNumbers(v, v)
		switch {
		case n.AtLeast:
			text = "≥" + text
		case n.AtMost:
			text = "≤" + text
		}
		f := (o.pressure(v) - axis.Lo) / (axis.Hi - axis.Lo)
		out.Along = append(out.Along, svg.Chip{Pos: a + f*(b-a), Text: text})
	}
	if len(out.Along) == 2 {
		out.Spread(min(a, b), max(a, b))
	}
	return out
}

// Reading is what both gauges show.
type Reading struct{ Low, High Needle }

// both tells whether the reading is a point on the plane.
func (r Reading) both() bool { return r.Low.Read && r.High.Read }

func (r Reading) check() error {
	if err := r.Low.check(); err != nil {
		return err
	}
	return r.High.check()
}
