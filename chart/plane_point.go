package chart

import (
	"math"

	"twoneedles/chart/svg"
)

// reading draws the point with the error of both gauges, or the area a swing
// covers.
func (d *planePicture) reading() {
	if d.before.both() {
		q := d.at(d.before.Low.mid(), d.before.High.mid())
		if d.now.both() {
			d.arrow(q, d.at(d.now.Low.mid(), d.now.High.mid()))
		}
		d.c.Circle(svg.Past, q, 5)
		d.labels.Block(svg.Around(q, 8))
	}
	if !d.now.both() {
		return
	}
	if _, _, ok := d.glide(); ok {
		d.c.Group(svg.Glide)
		defer d.c.EndGroup()
	}
	low, high := d.now.Low, d.now.High
	q := d.at(low.mid(), high.mid())
	if low.Lo < low.Hi || high.Lo < high.Hi {
		a, b := d.at(low.Lo, high.Hi), d.at(low.Hi, high.Lo)
		r := svg.Rect{X0: a.X, Y0: a.Y, X1: b.X, Y1: b.Y}
		d.c.Box(svg.Swing, r, 2)
		d.labels.Block(r)
	}
	left, right := d.at(d.reach(low, -1), 0).X, d.at(d.reach(low, 1), 0).X
	top, bottom := d.at(0, d.reach(high, 1)).Y, d.at(0, d.reach(high, -1)).Y
	a := d.p.Area
	left, right = max(left, a.X0), min(right, a.X1)
	top, bottom = max(top, a.Y0), min(bottom, a.Y1)
	d.p.ErrorBar(svg.Low, svg.Pt{X: left, Y: q.Y}, svg.Pt{X: right, Y: q.Y})
	d.p.ErrorBar(svg.High, svg.Pt{X: q.X, Y: top}, svg.Pt{X: q.X, Y: bottom})
	d.c.Circle(svg.Point, q, 4.5)
	d.labels.Block(svg.Rect{X0: min(left, q.X-8), Y0: q.Y - 8, X1: max(right, q.X+8), Y1: q.Y + 8})
	d.labels.Block(svg.Rect{X0: q.X - 8, Y0: min(top, q.Y-8), X1: q.X + 8, Y1: max(bottom, q.Y+8)})
}

// reach returns where the error bar of n ends on the side; a pegged needle
// says nothing of where the truth ends, so its bar runs to the frame.
func (d *planePicture) reach(n Needle, side float64) float64 {
	switch {
	case side > 0 && n.AtLeast:
		return maxGauge
	case side < 0 && n.AtMost:
		return minGauge
	case side > 0:
		return n.Hi + n.Err
	}
	return n.Lo - n.Err
}

// arrow draws the way from the reading before to the one after, leaving both
// markers free.
func (d *planePicture) arrow(a, b svg.Pt) {
	dx, dy := b.X-a.X, b.Y-a.Y
	l := math.Hypot(dx, dy)
	if l < 28 {
		return
	}
	ux, uy := dx/l, dy/l
	from, to := svg.Pt{X: a.X + 8*ux, Y: a.Y + 8*uy}, svg.Pt{X: b.X - 9*ux, Y: b.Y - 9*uy}
	d.line(svg.Line, from, to)
	d.c.Path(svg.Solid, []svg.Pt{
		to,
		{X: to.X - 8*ux - 4*uy, Y: to.Y - 8*uy + 4*ux},
		{X: to.X - 8*ux + 4*uy, Y: to.Y - 8*uy - 4*ux},
	}, true)
}

func (d *planePicture) beforeAfterLabels() {
	type label struct {
		Reading
		key   string
		class svg.Class
	}
	labels := map[string][]label{
		"beforeafter": {{d.now, "chart.label.after", svg.TextBig}, {d.before, "chart.label.before", svg.Text}},
		"trail":       {{d.before, "chart.label.pinned", svg.Text}},
	}
	for _, r := range labels[d.kind] {
		if !r.both() {
			continue
		}
		text := d.o.Words(r.key, "low", d.o.needleNumbers(r.Low), "high", d.o.needleNumbers(r.High))
		d.labels.Put(d.c, r.class, text, d.at(r.Low.mid(), r.High.mid()))
	}
}
