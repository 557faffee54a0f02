package chart

import (
	"math"

	"twoneedles/chart/svg"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// Gauges draws the two needles on plain arcs, low side left. The ranges are the
// healthy ones in Pa gauge; one that is empty (Hi not above Lo) is left out, as
// in Practice, where finding it is the student's task. The scales do not move
// with the reading unless it lies beyond them.
func Gauges(r Reading, low, high car.Interval, o Options) (Figure, error) {
	if err := o.Check(); err != nil {
		return Figure{}, err
	}
	if err := r.check(); err != nil {
		return Figure{}, err
	}
	if err := CheckGauges(low.Lo, low.Hi, high.Lo, high.Hi); err != nil {
		return Figure{}, err
	}
	parts := []string{o.Words("chart.plane.reading", "low", o.needleText(r.Low), "high", o.needleText(r.High))}
	if low.Hi > low.Lo && high.Hi > high.Lo {
		parts = append(parts, o.ranges("chart.plane.healthy", svg.Span(low), svg.Span(high)))
	}
	summary := o.Words.Sentences(parts...)
	c := svg.New(o.ID, o.Words("chart.gauges.title"), summary, 360, 184)
	// Full scales in psi, kPa and bar: what covers service readings of all
	// three refrigerants with room to spare, on round numbers (judgement).
	lowScale := map[unit.Unit][2]float64{unit.PSI: {-20, 100}, unit.KPa: {-100, 700}, unit.Bar: {-1, 7}}[o.Units.Pressure]
	highScale := map[unit.Unit][2]float64{unit.PSI: {0, 500}, unit.KPa: {0, 3500}, unit.Bar: {0, 35}}[o.Units.Pressure]
	o.arc(c, 92, r.Low, low, lowScale, arcLook{svg.Low, svg.LowFill, svg.NumberLow, svg.TextLow, "chart.axis.low"})
	o.arc(c, 268, r.High, high, highScale, arcLook{svg.High, svg.HighFill, svg.NumberHigh, svg.TextHigh, "chart.axis.high"})

	pressure := o.unitName(unit.GaugePressure)
	t := Table{
		Caption: o.Words("chart.gauges.title"),
		Head:    []string{o.Words("chart.col.what"), o.Words("chart.col.low", "unit", pressure), o.Words("chart.col.high", "unit", pressure)},
	}
	t.Rows = append(t.Rows, []string{o.Words("chart.row.reading"), o.needleCell(r.Low), o.needleCell(r.High)})
	if low.Hi > low.Lo || high.Hi > high.Lo {
		healthy := func(i car.Interval) string {
			if i.Hi <= i.Lo {
				return "–"
			}
			return o.pressureRange(i.Lo, i.Hi)
		}
		t.Rows = append(t.Rows, []string{o.Words("chart.row.healthy"), healthy(low), healthy(high)})
	}
	return o.Finish(c, summary, t)
}

type arcLook struct {
	line, fill, value, text svg.Class
	title                   string
}

// The arc: a plain half turn and a little more, clockwise from lower left.
const (
	arcRadius = 57.0
	arcCentre = 84.0 // y
	arcFrom   = math.Pi + 0.35
	arcSweep  = math.Pi + 0.7
)

func (o *Options) arc(c *svg.Canvas, cx float64, n Needle, healthy car.Interval, scale [2]float64, look arcLook) {
	s := svg.Span{Lo: scale[0], Hi: scale[1]}
	for _, v := range n.ends() {
		s.Add(o.pressure(v))
	}
	// angle and at place a value in the unit on the arc, r from its centre.
	angle := func(v float64) float64 {
		return arcFrom - arcSweep*min(max((v-s.Lo)/s.Size(), 0), 1)
	}
	polar := func(a, r float64) svg.Pt { return svg.Pt{X: cx + r*math.Cos(a), Y: arcCentre - r*math.Sin(a)} }
	at := func(v, r float64) svg.Pt { return polar(angle(v), r) }
	sweep := func(from, to, r float64) []svg.Pt {
		a, b := angle(from), angle(to)
		k := int(math.Abs(b-a)/0.12) + 2
		pts := make([]svg.Pt, k)
		for i := range pts {
			pts[i] = polar(a+(b-a)*float64(i)/float64(k-1), r)
		}
		return pts
	}
	sector := func(class svg.Class, from, to, inner, outer float64) {
		in := sweep(to, from, inner)
		c.Path(class, append(sweep(from, to, outer), in...), true)
	}
	if healthy.Hi > healthy.Lo {
		sector(svg.Region50, o.pressure(healthy.Lo), o.pressure(healthy.Hi), arcRadius-13, arcRadius)
	}
	c.Path(svg.Edge, sweep(s.Lo, s.Hi, arcRadius), false)
	for _, t := range o.ticks(s.Lo, s.Hi, 24) {
		c.Segment(svg.Edge, at(t.Value, arcRadius-3), at(t.Value, arcRadius))
	}
	for _, t := range o.ticks(s.Lo, s.Hi, 6) {
		c.Segment(svg.Edge, at(t.Value, arcRadius-6), at(t.Value, arcRadius))
		a := angle(t.Value)
		q := at(t.Value, arcRadius+6)
		anchor := svg.Middle
		if math.Cos(a) > 0.3 {
			anchor = svg.Start
		} else if math.Cos(a) < -0.3 {
			anchor = svg.End
		}
		c.Text(svg.TextSoft, svg.Pt{X: q.X, Y: q.Y + 4.4 - 3.4*math.Sin(a)}, anchor, t.Label)
	}
	if n.Read {
		lo, hi := o.pressure(n.Lo), o.pressure(n.Hi)
		if hi > lo {
			sector(look.fill, lo, hi, 14, arcRadius-7)
		}
		for _, v := range n.ends() {
			c.Segment(look.line, at(o.pressure(v), 0), at(o.pressure(v), arcRadius-2))
		}
	}
	c.Circle(svg.Solid, svg.Pt{X: cx, Y: arcCentre}, 4)

	text := o.Words("chart.not_read")
	if n.Read {
		text = o.needleNumbers(n)
		if n.AtLeast {
			text = o.Words("number.at_least", "value", text)
		} else if n.AtMost {
			text = o.Words("number.at_most", "value", text)
		}
	}
	c.Text(look.value, svg.Pt{X: cx, Y: 150}, svg.Middle, text)
	c.Text(look.text, svg.Pt{X: cx, Y: 176}, svg.Middle,
		o.Words(look.title, "unit", o.unitName(unit.GaugePressure)))
}
