package chart

import (
	"math"
	"sort"

	"twoneedles/chart/svg"
)

// chips are the numbers of a needle written large on its axis, in place of the
// ticks they would cover.
type chips struct {
	along []chip
	flat  bool // the axis lies
}

type chip struct {
	pos  float64 // along the axis, on the canvas
	text string
}

// chips lays out the numbers of n on an axis that runs from a to b on the
// canvas. The two ends of a swing are pushed apart until both can be read.
func (o Options) chips(n Needle, axis svg.Axis, a, b float64, flat bool) chips {
	out := chips{flat: flat}
	for _, v := range n.ends() {
		text := o.readNumbers(v, v)
		switch {
		case n.AtLeast:
			text = "≥" + text
		case n.AtMost:
			text = "≤" + text
		}
		f := (o.pressure(v) - axis.Lo) / (axis.Hi - axis.Lo)
		out.along = append(out.along, chip{a + f*(b-a), text})
	}
	if len(out.along) == 2 {
		out.spread(min(a, b), max(a, b))
	}
	return out
}

// spread keeps two chips apart and between lo and hi.
func (c *chips) spread(lo, hi float64) {
	sort.Slice(c.along, func(i, j int) bool { return c.along[i].pos < c.along[j].pos })
	p, q := &c.along[0], &c.along[1]
	if p.text == q.text {
		p.pos = (p.pos + q.pos) / 2
		c.along = c.along[:1]
		return
	}
	need := 16.0
	if c.flat {
		need = (svg.TextWidth(svg.ValueLow, p.text)+svg.TextWidth(svg.ValueLow, q.text))/2 + 6
	}
	if lack := need - (q.pos - p.pos); lack > 0 {
		p.pos, q.pos = p.pos-lack/2, q.pos+lack/2
	}
	if under := lo - p.pos; under > 0 {
		p.pos += under
		q.pos = max(q.pos, p.pos+need)
	}
	if over := q.pos - hi; over > 0 {
		q.pos -= over
		p.pos = min(p.pos, q.pos-need)
	}
}

// clear returns the ticks of axis without the labels the chips would cover.
func (c chips) clear(axis svg.Axis, a, b float64) []svg.Tick {
	ticks := append([]svg.Tick(nil), axis.Ticks...)
	for i, t := range ticks {
		pos := a + (t.Value-axis.Lo)/(axis.Hi-axis.Lo)*(b-a)
		for _, ch := range c.along {
			room := 15.0
			if c.flat {
				room = (svg.TextWidth(svg.ValueLow, ch.text)+svg.TextWidth(svg.Grid, t.Label))/2 + 5
			}
			if math.Abs(pos-ch.pos) < room {
				ticks[i].Label = ""
			}
		}
	}
	return ticks
}

// draw writes the chips: below a lying axis with their baseline at edge, left
// of a standing one with their right end there.
func (c chips) draw(cv *svg.Canvas, class svg.Class, edge float64) {
	for _, ch := range c.along {
		if c.flat {
			cv.Text(class, svg.Pt{X: ch.pos, Y: edge}, svg.Middle, ch.text)
		} else {
			cv.Text(class, svg.Pt{X: edge, Y: ch.pos + 5.5}, svg.End, ch.text)
		}
	}
}
