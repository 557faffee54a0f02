package chart

import (
	"errors"
	"math"

	"twoneedles/chart/svg"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// Met is one visit of a car: what it read, and what sound cars of its kind read in the
// weather of that day.
type Met struct {
	Months   float64 // before today
	When     string  // as the caller dates it
	Sound    bool    // it was in order then
	Reading          // as it was read
	LowBand  car.Interval
	HighBand car.Interval // Pa gauge
}

// Years draws the visits of one car over time, the high side above and the low side below:
// each reading on the band of its own day, so that a cool day is not taken for a fault.
// It needs two visits or more, the earliest first.
func Years(visits []Met, o Options) (Figure, error) {
	if err := o.Check(); err != nil {
		return Figure{}, err
	}
	if len(visits) < 2 {
		return Figure{}, errors.New("chart: a car over time needs two visits or more")
	}
	for i, v := range visits {
		if err := v.check(); err != nil {
			return Figure{}, err
		}
		if err := within("months", "months", 0, 1200, v.Months); err != nil {
			return Figure{}, err
		}
		if err := CheckGauges(v.LowBand.Lo, v.HighBand.Lo); err != nil {
			return Figure{}, err
		}
		if err := CheckGauges(v.LowBand.Hi, v.HighBand.Hi); err != nil {
			return Figure{}, err
		}
		if i > 0 && v.Months > visits[i-1].Months {
			return Figure{}, errors.New("chart: the visits go back in time")
		}
	}
	y := years{visits, &o}
	summary := y.say()
	c := svg.New(o.ID, o.Words("chart.years.title"), summary, 360, 380)
	y.draw(c)
	return o.Finish(c, summary, y.table())
}

type years struct {
	visits []Met
	o      *Options
}

// needle is one side of a visit.
func (v Met) needle(high bool) (Needle, car.Interval) {
	if high {
		return v.High, v.HighBand
	}
	return v.Low, v.LowBand
}

func (y *years) draw(c *svg.Canvas) {
	o := y.o
	first := math.Max(y.visits[0].Months, 1)
	x := svg.Axis{Lo: -1.04 * first, Hi: 0.04 * first}
	for _, t := range o.ticks(0, first, 6) {
		x.Ticks = append(x.Ticks, svg.Tick{Value: -t.Value, Label: t.Label})
	}
	for _, part := range []struct {
		high               bool
		area               svg.Rect
		title              string
		line, point, words svg.Class
		band               svg.Class
	}{
		{true, svg.Rect{X0: 54, Y0: 28, X1: 346, Y1: 178}, "chart.axis.high", svg.HighThin, svg.High, svg.TextHigh, svg.HighBand},
		{false, svg.Rect{X0: 54, Y0: 222, X1: 346, Y1: 336}, "chart.axis.low", svg.LowThin, svg.Low, svg.TextLow, svg.LowBand},
	} {
		of := svg.NoSpan()
		for _, v := range y.visits {
			n, band := v.needle(part.high)
			if n.Read {
				of.Add(o.pressure(n.Lo), o.pressure(n.Hi))
			}
			of.Add(o.pressure(band.Lo), o.pressure(band.Hi))
		}
		of = of.Padded(1, 0.08)
		p := c.Plot(part.area, x, svg.Axis{Lo: of.Lo, Hi: of.Hi, Ticks: o.ticks(of.Lo, of.Hi, 4)})
		p.Axes()
		c.Text(part.words, svg.Pt{X: 4, Y: part.area.Y0 - 10}, svg.Start, o.Words(part.title, "unit", o.unitName(unit.GaugePressure)))
		var line []svg.Pt
		var marks []svg.Class
		for i, v := range y.visits {
			n, band := v.needle(part.high)
			at := func(pa float64) svg.Pt {
				q := p.At(svg.Pt{X: -v.Months, Y: o.pressure(pa)})
				q.X += y.aside(i)
				return q
			}
			a, b := at(band.Hi), at(band.Lo)
			c.Box(part.band, svg.Rect{X0: a.X - 5, Y0: a.Y, X1: b.X + 5, Y1: b.Y}, 2)
			if !n.Read {
				continue
			}
			if n.Lo < n.Hi {
				c.Segment(part.point, at(n.Lo), at(n.Hi))
			}
			line = append(line, at(n.mid()))
			marks = append(marks, map[bool]svg.Class{true: svg.Point, false: svg.Past}[v.Sound])
		}
		c.Path(part.line, line, false)
		for i, q := range line {
			c.Circle(marks[i], q, 4)
		}
	}
	c.Text(svg.Text, svg.Pt{X: 346, Y: c.H - 8}, svg.End, o.Words("chart.years.months"))
}

// aside keeps two visits of one day apart: as it came to the left, as it left to the right.
func (y *years) aside(i int) float64 {
	const near = 7.0
	wide := 292 / math.Max(y.visits[0].Months, 1) // pixels a month
	switch m := y.visits[i].Months; {
	case i+1 < len(y.visits) && (m-y.visits[i+1].Months)*wide < near:
		return -near
	case i > 0 && (y.visits[i-1].Months-m)*wide < near:
		return near
	}
	return 0
}

// say is each visit in a sentence.
func (y *years) say() string {
	var all []string
	for _, v := range y.visits {
		key := "chart.years.visit"
		if v.Sound {
			key = "chart.years.sound"
		}
		all = append(all, y.o.Words(key, "when", v.When, "low", y.side(v, false), "high", y.side(v, true)))
	}
	return y.o.Words.Sentences(all...)
}

// side is one needle of a visit against the band of its day.
func (y *years) side(v Met, high bool) string {
	n, band := v.needle(high)
	key := "chart.not_read"
	if n.Read {
		key = "chart.years." + place(n.mid(), svg.Span{Lo: band.Lo, Hi: band.Hi})
	}
	return y.o.Words(key, "value", y.o.needleText(n), "band", y.o.Writer().Range(band.Lo, band.Hi, unit.GaugePressure))
}

func (y *years) table() Table {
	o := y.o
	name := o.unitName(unit.GaugePressure)
	t := Table{Caption: o.Words("chart.years.title"), Head: []string{o.Words("chart.years.when"),
		o.Words("chart.col.low", "unit", name), o.Words("chart.years.low_band", "unit", name),
		o.Words("chart.col.high", "unit", name), o.Words("chart.years.high_band", "unit", name)}}
	for _, v := range y.visits {
		t.Rows = append(t.Rows, []string{v.When, o.needleCell(v.Low), o.pressureRange(v.LowBand.Lo, v.LowBand.Hi),
			o.needleCell(v.High), o.pressureRange(v.HighBand.Lo, v.HighBand.Hi)})
	}
	return t
}
