package svg

import (
	"fmt"
	"math"

	gochart "github.com/wcharczuk/go-chart/v2"
	"github.com/wcharczuk/go-chart/v2/drawing"
)

// Axis is the range of one axis and its ticks, which lie within it.
type Axis struct {
	Lo, Hi float64
	Ticks  []Tick
}

// Plot is a pair of axes on a part of a canvas. Points are in axis units.
type Plot struct {
	Area   Rect
	X, Y   Axis
	c      *Canvas
	box    gochart.Box
	xr, yr *gochart.ContinuousRange
}

// Plot puts axes on area. An axis that is empty, upside down or so narrow that
// its numbers cannot be told apart is a mistake.
func (c *Canvas) Plot(area Rect, x, y Axis) *Plot {
	for _, a := range []Axis{x, y} {
		span := a.Hi - a.Lo
		if !(span > 0) || math.IsInf(span, 0) || span < 1e-9*max(math.Abs(a.Lo), math.Abs(a.Hi)) {
			c.fail(fmt.Errorf("svg: axis from %g to %g", a.Lo, a.Hi))
			x, y = Axis{Hi: 1}, Axis{Hi: 1} // draws on harmlessly
		}
	}
	p := &Plot{Area: area, X: x, Y: y, c: c}
	p.box = gochart.Box{
		Left: pixels(area.X0), Right: pixels(area.X1),
		Top: pixels(area.Y0), Bottom: pixels(area.Y1),
	}
	p.xr = &gochart.ContinuousRange{Min: x.Lo, Max: x.Hi, Domain: p.box.Width()}
	p.yr = &gochart.ContinuousRange{Min: y.Lo, Max: y.Hi, Domain: p.box.Height()}
	return p
}

// At returns where on the canvas a point lies.
func (p *Plot) At(q Pt) Pt {
	return Pt{
		p.Area.X0 + (q.X-p.X.Lo)/(p.X.Hi-p.X.Lo)*(p.Area.X1-p.Area.X0),
		p.Area.Y1 - (q.Y-p.Y.Lo)/(p.Y.Hi-p.Y.Lo)*(p.Area.Y1-p.Area.Y0),
	}
}

// Axes draws grid and tick labels.
//
// go-chart's axes lie a little outside the plot: its grid lines then reach
// beyond it and serve as ticks, its own being half a unit long on our canvas.
// Its axis lines, which it strokes first, are left out: beside a grid line at
// the end of the scale they would be one line too many.
func (p *Plot) Axes() {
	const gap = 40 // go-chart pixels
	r := &renderer{c: p.c, joined: Grid, anchor: Middle, skip: 1}
	style := gochart.Style{ClassName: string(Grid), FontSize: Grid.Size()}

	xbox := p.box
	xbox.Bottom += gap
	xt, xg := goTicks(p.X.Ticks)
	gochart.XAxis{GridLines: xg}.Render(r, xbox, p.xr, style, xt)

	// The height of the plot stays, as the range is measured from the bottom.
	r.anchor, r.skip = End, 1
	ybox := p.box
	ybox.Left -= gap
	yt, yg := goTicks(p.Y.Ticks)
	gochart.YAxis{AxisType: gochart.YAxisSecondary, GridLines: yg, Zero: gochart.GridLine{Style: gochart.Hidden()}}.
		Render(r, ybox, p.yr, style, yt)
	r.flush()
}

func goTicks(ticks []Tick) ([]gochart.Tick, []gochart.GridLine) {
	ts := make([]gochart.Tick, len(ticks))
	gs := make([]gochart.GridLine, len(ticks))
	for i, t := range ticks {
		ts[i] = gochart.Tick{Value: t.Value, Label: t.Label}
		gs[i] = gochart.GridLine{Value: t.Value}
	}
	return ts, gs
}

// Line draws a curve; what lies outside the axes is cut off.
func (p *Plot) Line(class Class, pts []Pt) {
	for _, part := range p.Clip(pts) {
		s := gochart.ContinuousSeries{
			Style:   gochart.Style{ClassName: string(class), StrokeWidth: 1, StrokeColor: drawing.ColorBlack},
			XValues: make([]float64, len(part)), YValues: make([]float64, len(part)),
		}
		for i, q := range part {
			s.XValues[i], s.YValues[i] = q.X, q.Y
		}
		s.Render(&renderer{c: p.c}, p.box, p.xr, p.yr, gochart.Style{})
	}
}

// BandAt is one place of a band: from Lo to Hi at X.
type BandAt struct{ X, Lo, Hi float64 }

// Band draws the area between two curves. It has to lie within the axes.
func (p *Plot) Band(class Class, b []BandAt) {
	if len(b) < 2 || p.c.err != nil {
		return
	}
	for _, v := range b {
		p.c.check(p.At(Pt{v.X, v.Lo}))
		p.c.check(p.At(Pt{v.X, v.Hi}))
	}
	if p.c.err != nil {
		return // go-chart turns what is not finite into any integer
	}
	gochart.Draw.BoundedSeries(&renderer{c: p.c}, p.box, p.xr, p.yr, gochart.Style{ClassName: string(class)}, band(b))
}

type band []BandAt

func (b band) Len() int { return len(b) }

func (b band) GetBoundedValues(i int) (x, y1, y2 float64) { return b[i].X, b[i].Lo, b[i].Hi }
