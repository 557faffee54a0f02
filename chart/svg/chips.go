package svg

import (
	"math"
	"sort"
)

// Chips are numbers written large on an axis, in place of the ticks they would cover.
type Chips struct {
	Along []Chip
	Flat  bool // the axis lies
}

// Chip is one of them.
type Chip struct {
	Pos  float64 // along the axis, on the canvas
	Text string
}

// Spread keeps two chips apart and between lo and hi.
func (c *Chips) Spread(lo, hi float64) {
	sort.Slice(c.Along, func(i, j int) bool { return c.Along[i].Pos < c.Along[j].Pos })
	p, q := &c.Along[0], &c.Along[1]
	if p.Text == q.Text {
		p.Pos = (p.Pos + q.Pos) / 2
		c.Along = c.Along[:1]
		return
	}
	need := 16.0
	if c.Flat {
		need = (TextWidth(ValueLow, p.Text)+TextWidth(ValueLow, q.Text))/2 + 6
	}
	if lack := need - (q.Pos - p.Pos); lack > 0 {
		p.Pos, q.Pos = p.Pos-lack/2, q.Pos+lack/2
	}
	if under := lo - p.Pos; under > 0 {
		p.Pos += under
		q.Pos = max(q.Pos, p.Pos+need)
	}
	if over := q.Pos - hi; over > 0 {
		q.Pos -= over
		p.Pos = min(p.Pos, q.Pos-need)
	}
}

// Clear returns the ticks of axis without the labels the chips would cover.
func (c Chips) Clear(axis Axis, a, b float64) []Tick {
	ticks := append([]Tick(nil), axis.Ticks...)
	for i, t := range ticks {
		pos := a + (t.Value-axis.Lo)/(axis.Hi-axis.Lo)*(b-a)
		for _, ch := range c.Along {
			room := 15.0
			if c.Flat {
				room = (TextWidth(ValueLow, ch.Text)+TextWidth(Grid, t.Label))/2 + 5
			}
			if math.Abs(pos-ch.Pos) < room {
				ticks[i].Label = ""
			}
		}
	}
	return ticks
}

// Draw writes the chips: below a lying axis with their baseline at edge, left
// of a standing one with their right end there.
func (c Chips) Draw(cv *Canvas, class Class, edge float64) {
	for _, ch := range c.Along {
		if c.Flat {
			cv.Text(class, Pt{X: ch.Pos, Y: edge}, Middle, ch.Text)
		} else {
			cv.Text(class, Pt{X: edge, Y: ch.Pos + 5.5}, End, ch.Text)
		}
	}
}
