package chart

import (
	"cmp"
	"math"
	"slices"

	"twoneedles/chart/svg"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// planePicture is the plane while it is being drawn, most of it quiet first and
// the reading last, on top.
type planePicture struct {
	*planeView
	o      *Options
	c      *svg.Canvas
	p      *svg.Plot
	labels svg.Placer
}

// draw returns how far the reading has moved: see [Figure].
func (v *planeView) draw(c *svg.Canvas, o *Options, drifts []diagnose.Drift) (moved [2]float64) {
	area := planeArea
	low, high := v.limits(o, drifts)
	x := svg.Axis{Lo: o.pressure(low.Lo), Hi: o.pressure(low.Hi)}
	y := svg.Axis{Lo: o.pressure(high.Lo), Hi: o.pressure(high.Hi)}
	x.Ticks, y.Ticks = o.ticks(x.Lo, x.Hi, 6), o.ticks(y.Lo, y.Hi, 6)

	d := &planePicture{planeView: v, o: o, c: c}
	lowChips := o.chips(v.now.Low, x, area.X0, area.X1, true)
	highChips := o.chips(v.now.High, y, area.Y1, area.Y0, false)
	x.Ticks = lowChips.Clear(x, area.X0, area.X1)
	y.Ticks = highChips.Clear(y, area.Y1, area.Y0)
	d.p = c.Plot(area, x, y)
	d.labels.Inside = svg.Rect{X0: area.X0 + 2, Y0: area.Y0 - 4, X1: c.W - 2, Y1: area.Y1 - 1}

	d.regions()
	d.p.Axes()
	name := o.unitName(unit.GaugePressure)
	c.Text(svg.TextHigh, svg.Pt{X: 4, Y: 18}, svg.Start, o.Words("chart.axis.high", "unit", name))
	c.Text(svg.TextLow, svg.Pt{X: area.X1, Y: c.H - 8}, svg.End, o.Words("chart.axis.low", "unit", name))

	d.needles()
	ends := d.drifts(drifts)
	d.trailLine()
	d.reading()
	lowChips.Draw(c, svg.ValueLow, area.Y1+21)
	highChips.Draw(c, svg.ValueHigh, area.X0-6)
	d.driftLabels(drifts, ends)
	d.beforeAfterLabels()
	d.regionLabels()
	if from, to, ok := d.glide(); ok {
		moved = [2]float64{from.X - to.X, from.Y - to.Y}
	}
	return moved
}

func (d *planePicture) at(low, high float64) svg.Pt {
	return d.p.At(svg.Pt{X: d.o.pressure(low), Y: d.o.pressure(high)})
}

// clamped is at, kept within the axes.
func (d *planePicture) clamped(low, high float64) svg.Pt {
	q := d.at(low, high)
	a := d.p.Area
	return svg.Pt{X: min(max(q.X, a.X0), a.X1), Y: min(max(q.Y, a.Y0), a.Y1)}
}

func (d *planePicture) outline(r diagnose.Region) []svg.Pt {
	pts := make([]svg.Pt, len(r.Outline))
	for i, q := range r.Outline {
		pts[i] = d.at(q[0], q[1])
	}
	return pts
}

func regionClass(level float64) svg.Class {
	if level > 0.7 {
		return svg.Region90
	}
	return svg.Region50
}

func (d *planePicture) regions() {
	for _, r := range d.plane.Regions {
		pts := d.outline(r)
		d.c.Path(regionClass(r.Level), pts, true)
		if len(pts) > 0 {
			d.labels.Avoid(append(pts, pts[0]))
		}
	}
	if own, ok := d.own(); ok {
		pts := d.outline(own)
		d.c.Path(svg.Own, pts, true)
		d.labels.Avoid(append(pts, pts[0]))
	}
}

// regionLabels names each region at the side of its outline with most room; an
// inner one too small for its name goes without, as the table has it.
func (d *planePicture) regionLabels() {
	var outer svg.Rect
	own, has := d.own()
	if has {
		text := d.o.Words("chart.region.own")
		pts := d.outline(own)
		top, bottom, left, right := extremes(pts)
		at, anchor, _ := d.labels.Place(svg.TextSoft, text, right, top, bottom, left)
		box := svg.TextBox(svg.TextSoft, at, anchor, text)
		x, y := (box.X0+box.X1)/2, (box.Y0+box.Y1)/2
		near := slices.MinFunc(pts, func(a, b svg.Pt) int {
			return cmp.Compare(math.Hypot(a.X-x, a.Y-y), math.Hypot(b.X-x, b.Y-y))
		})
		d.leader(near, box)
		d.c.Text(svg.TextSoft, at, anchor, text)
	}
	for i, r := range d.plane.Regions {
		pts := d.outline(r)
		if len(pts) == 0 || i > 0 && has { // three names in one another are none
			continue
		}
		top, bottom, left, right := extremes(pts)
		text := d.o.Words("chart.region", "percent", svg.Number(100*r.Level, 0))
		if regionClass(r.Level) == svg.Region90 {
			text = d.o.Words("chart.region.healthy", "percent", svg.Number(100*r.Level, 0))
		}
		room := d.labels.Inside
		if i > 0 {
			// Outside the region around it the label would name the wrong one.
			d.labels.Inside = outer
		}
		at, anchor, clear := d.labels.Place(svg.TextSoft, text, bottom, top, right, left)
		if i == 0 || clear {
			d.c.Text(svg.TextSoft, at, anchor, text)
		}
		d.labels.Inside = room
		outer = svg.Rect{X0: left.X, Y0: top.Y, X1: right.X, Y1: bottom.Y}
	}
}

// extremes are the outermost points of an outline.
func extremes(pts []svg.Pt) (top, bottom, left, right svg.Pt) {
	top, bottom, left, right = pts[0], pts[0], pts[0], pts[0]
	for _, q := range pts {
		if q.Y < top.Y {
			top = q
		}
		if q.Y > bottom.Y {
			bottom = q
		}
		if q.X < left.X {
			left = q
		}
		if q.X > right.X {
			right = q
		}
	}
	return top, bottom, left, right
}

// glide returns where the point comes from and where it is, if it is to glide:
// not if it was hardly elsewhere, nor from or to a swing, which is no point.
func (d *planePicture) glide() (from, to svg.Pt, ok bool) {
	was, is := d.o.From, d.now
	if !was.both() || !is.both() || len(is.Low.ends())+len(is.High.ends()) > 2 {
		return from, to, false
	}
	from, to = d.clamped(was.Low.mid(), was.High.mid()), d.at(is.Low.mid(), is.High.mid())
	return from, to, math.Hypot(to.X-from.X, to.Y-from.Y) > 1
}

// needles draws from each axis to the reading, as far as it is known.
func (d *planePicture) needles() {
	a := d.p.Area
	if _, to, ok := d.glide(); ok {
		// Each needle keeps its foot on its axis.
		d.c.Group(svg.GlideX)
		d.line(svg.LowThin, svg.Pt{X: to.X, Y: a.Y1 + 4}, to)
		d.c.EndGroup()
		d.c.Group(svg.GlideY)
		d.line(svg.HighThin, svg.Pt{X: a.X0 - 4, Y: to.Y}, to)
		d.c.EndGroup()
		return
	}
	for _, lo := range d.now.Low.ends() {
		to := a.Y0
		if d.now.High.Read {
			to = d.at(0, d.now.High.mid()).Y
		}
		x := d.at(lo, 0).X
		d.line(svg.LowThin, svg.Pt{X: x, Y: a.Y1 + 4}, svg.Pt{X: x, Y: to})
	}
	for _, hi := range d.now.High.ends() {
		to := a.X1
		if d.now.Low.Read {
			to = d.at(d.now.Low.mid(), 0).X
		}
		y := d.at(0, hi).Y
		d.line(svg.HighThin, svg.Pt{X: a.X0 - 4, Y: y}, svg.Pt{X: to, Y: y})
	}
}

// line draws a segment that labels keep off.
func (d *planePicture) line(class svg.Class, a, b svg.Pt) {
	d.c.Segment(class, a, b)
	d.labels.Avoid([]svg.Pt{a, b})
}

var driftClasses = [maxDrifts]svg.Class{svg.Drift1, svg.Drift2, svg.Drift3, svg.Drift4}

// drifts draws the lines and returns where their labels belong.
func (d *planePicture) drifts(drifts []diagnose.Drift) []svg.Pt {
	shown := drifts[:min(len(drifts), maxDrifts)]
	ends := make([]svg.Pt, len(shown))
	for i := len(shown) - 1; i >= 0; i-- { // the most likely on top
		dr := shown[i]
		pts := make([]svg.Pt, len(dr.Points))
		for k, q := range dr.Points {
			pts[k] = svg.Pt{X: d.o.pressure(q.Low), Y: d.o.pressure(q.High)}
		}
		d.p.Line(driftClasses[i], pts)
		d.labels.AvoidLine(d.p, pts)
		last := dr.Points[len(dr.Points)-1]
		end := d.clamped(last.Low, last.High)
		if end == d.at(last.Low, last.High) {
			d.c.Marker(i, end) // a line that leaves the picture has no end in it
		}
		d.labels.Block(svg.Around(end, 5))
		ends[i] = end
	}
	return ends
}

func (d *planePicture) driftLabels(drifts []diagnose.Drift, ends []svg.Pt) {
	names := conditionNames(d.o, drifts)
	for i, end := range ends {
		name := svg.Fit(svg.Text, names[i], 240)
		at, anchor, _ := d.labels.Place(svg.Text, name, end)
		d.leader(end, svg.TextBox(svg.Text, at, anchor, name))
		d.c.Text(svg.Text, at, anchor, name)
	}
}

// leader ties a label that found no room beside its marker to it.
func (d *planePicture) leader(p svg.Pt, box svg.Rect) {
	q := svg.Pt{X: min(max(p.X, box.X0), box.X1), Y: min(max(p.Y, box.Y0), box.Y1)}
	l := math.Hypot(q.X-p.X, q.Y-p.Y)
	if l < 14 {
		return
	}
	d.c.Segment(svg.Fine, svg.Pt{X: p.X + 7*(q.X-p.X)/l, Y: p.Y + 7*(q.Y-p.Y)/l}, q)
}

func (d *planePicture) trailLine() {
	pts := make([]svg.Pt, len(d.trail))
	for i, q := range d.trail {
		pts[i] = d.at(q[0], q[1])
	}
	d.c.Path(svg.Fine, pts, false)
	for _, q := range pts {
		d.c.Circle(svg.Solid, q, 1.8)
	}
	d.labels.Avoid(pts)
}
