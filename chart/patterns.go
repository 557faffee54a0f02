package chart

import (
	"errors"
	"math"

	"twoneedles/chart/svg"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// The picture of the patterns: a row each, two small dials and the names beside them.
const (
	patternRow  = 98.0
	patternDial = 26.0 // radius
)

// Patterns draws the trade's patterns of two needles one below the other, each as two
// small dials with the healthy range in grey and a needle where the model was asked,
// and beside them what stands behind it. The first pattern is the normal one: its
// reading is the middle of the scales. here is the pattern of the reading at hand, ""
// for none of them.
func Patterns(ps []diagnose.Pattern, here diagnose.Group, o Options) (Figure, error) {
	if err := o.Check(); err != nil {
		return Figure{}, err
	}
	if len(ps) == 0 {
		return Figure{}, errors.New("chart: no patterns")
	}
	low, high := svg.NoSpan(), svg.NoSpan()
	for _, p := range ps {
		if err := CheckGauges(p.Low, p.High); err != nil {
			return Figure{}, err
		}
		low.Add(p.Low)
		high.Add(p.High)
	}
	pressure := o.unitName(unit.GaugePressure)
	t := Table{
		Caption: o.Words("chart.patterns.title"),
		Head: []string{o.Words("chart.col.what"), o.Words("chart.col.low", "unit", pressure),
			o.Words("chart.col.high", "unit", pressure), o.Words("chart.col.condition")},
	}
	var said []string
	for _, p := range ps {
		name, list := o.Words("chart.pattern."+string(p.Group)), o.Words.List(o.members(p))
		if p.Group == here {
			said = append(said, o.Words("chart.patterns.here", "pattern", name, "list", list))
			name = o.Words("chart.patterns.marked", "pattern", name)
		} else {
			said = append(said, o.Words("chart.patterns.says", "pattern", name, "list", list))
		}
		t.Rows = append(t.Rows, []string{name, o.pressureNumber(p.Low), o.pressureNumber(p.High), list})
	}
	summary := o.Words.Sentences(said...)
	c := svg.New(o.ID, o.Words("chart.patterns.title"), summary, 360, patternRow*float64(len(ps)))
	for i, p := range ps {
		top := patternRow * float64(i)
		title := o.Words("chart.pattern." + string(p.Group))
		if i > 0 {
			c.Segment(svg.Grid, svg.Pt{X: 0, Y: top}, svg.Pt{X: c.W, Y: top})
		}
		if p.Group == here {
			c.Box(svg.Solid, svg.Rect{X0: 0, Y0: top + 6, X1: 4, Y1: top + patternRow - 6}, 2)
			title = o.Words("chart.patterns.marked", "pattern", title)
		}
		c.Text(svg.TextBig, svg.Pt{X: 12, Y: top + 22}, svg.Start, svg.Fit(svg.TextBig, title, c.W-16))
		o.smallDial(c, svg.Pt{X: 44, Y: top + 68}, p.Low, ps[0].Low, low, svg.Low)
		o.smallDial(c, svg.Pt{X: 108, Y: top + 68}, p.High, ps[0].High, high, svg.High)
		for k, name := range o.members(p) {
			class := svg.Text
			if k > 0 {
				class = svg.TextSoft
			}
			c.Text(class, svg.Pt{X: 148, Y: top + 40 + 16*float64(k)}, svg.Start, svg.Fit(class, name, c.W-152))
		}
	}
	return o.Finish(c, summary, t)
}

func (o *Options) members(p diagnose.Pattern) []string {
	names := make([]string, len(p.Members))
	for i, m := range p.Members {
		names[i] = o.Words.Condition(m.ID)
	}
	return names
}

// smallDial is a half circle without numbers: left is low, right is high, the grey
// part in the middle is where healthy cars stand. Which way a needle is out is what it
// has to say; how far is in the table.
func (o *Options) smallDial(c *svg.Canvas, at svg.Pt, v, normal float64, s svg.Span, needle svg.Class) {
	arc := func(from, to, r float64) []svg.Pt { // parts of the half circle, 0 left … 1 right
		var pts []svg.Pt
		for k := range 13 {
			a := math.Pi * (1 - from - (to-from)*float64(k)/12)
			pts = append(pts, svg.Pt{X: at.X + r*math.Cos(a), Y: at.Y - r*math.Sin(a)})
		}
		return pts
	}
	grey := append(arc(0.35, 0.65, patternDial), arc(0.65, 0.35, patternDial-9)...)
	c.Path(svg.Region50, grey, true)
	c.Path(svg.Edge, arc(0, 1, patternDial), false)
	// The ends of the pictured readings come to the same two places on every dial.
	part := 0.5
	switch {
	case v > normal:
		part += 0.35 * (v - normal) / (s.Hi - normal)
	case v < normal:
		part -= 0.35 * (normal - v) / (normal - s.Lo)
	}
	a := math.Pi * (1 - part)
	c.Segment(needle, at, svg.Pt{X: at.X + (patternDial-3)*math.Cos(a), Y: at.Y - (patternDial-3)*math.Sin(a)})
	c.Circle(svg.Solid, at, 2.5)
}
