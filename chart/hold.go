package chart

import (
	"errors"
	"math"

	"twoneedles/chart/svg"
	"twoneedles/refrig/unit"
)

// HoldPoint is one pressure after the vacuum pump was shut off.
type HoldPoint struct {
	Minutes  float64
	Pressure float64 // Pa absolute
}

// HoldLine is a published limit. Its name comes from the data that holds it.
type HoldLine struct {
	Name     string
	Pressure float64 // Pa absolute
}

// HoldVerdict is what the fit says.
type HoldVerdict string

// The verdicts; a leak keeps rising, moisture levels off where water boils.
const (
	HoldTight    HoldVerdict = "tight"
	HoldLeak     HoldVerdict = "leak"
	HoldMoisture HoldVerdict = "moisture"
	HoldUnclear  HoldVerdict = "unclear"
)

// HoldTest is what the picture shows. Fit may be empty.
type HoldTest struct {
	Points  []HoldPoint // as read, by rising time
	Fit     []HoldPoint // the fitted curve, by rising time
	Limits  []HoldLine
	Verdict HoldVerdict
}

// Hold draws the pressure after the vacuum pump stops. Where the pressures or
// limits differ more than twentyfold, as published limits do, the pressure is
// drawn by its logarithm, and the axis says so.
func Hold(h HoldTest, o Options) (Figure, error) {
	if err := o.Check(); err != nil {
		return Figure{}, err
	}
	if len(h.Points) == 0 {
		return Figure{}, errors.New("chart: the hold test has no points")
	}
	switch h.Verdict {
	case HoldTight, HoldLeak, HoldMoisture, HoldUnclear:
	default:
		return Figure{}, errors.New("chart: the hold test has no verdict")
	}
	ts, ps := svg.NoSpan(), svg.NoSpan()
	for i, q := range append(append([]HoldPoint(nil), h.Points...), h.Fit...) {
		// From a molecular pump's vacuum to the atmosphere, and one week.
		if err := within("vacuum", "Pa", 1e-3, 1.1e5, q.Pressure); err != nil {
			return Figure{}, err
		}
		if err := within("time", "min", 0, 7*24*60, q.Minutes); err != nil {
			return Figure{}, err
		}
		if i > 0 && i != len(h.Points) && q.Minutes < ts.Hi && i < len(h.Points) {
			return Figure{}, errors.New("chart: the points of the hold test go back in time")
		}
		ts.Add(q.Minutes)
		ps.Add(q.Pressure)
	}
	for _, l := range h.Limits {
		if err := within("limit of vacuum", "Pa", 1e-3, 1.1e5, l.Pressure); err != nil {
			return Figure{}, err
		}
		ps.Add(l.Pressure)
	}
	first, last := h.Points[0], h.Points[len(h.Points)-1]
	summary := o.Words("chart.hold."+string(h.Verdict),
		"from", o.Writer().ReadingText(first.Pressure, unit.AbsolutePressure),
		"to", o.Writer().ReadingText(last.Pressure, unit.AbsolutePressure),
		"minutes", svg.Number(last.Minutes-first.Minutes, 0))
	c := svg.New(o.ID, o.Words("chart.hold.title"), summary, 360, 300)
	h.draw(c, &o, ts, ps)
	return o.Finish(c, summary, h.table(&o))
}

func (h *HoldTest) draw(c *svg.Canvas, o *Options, ts, ps svg.Span) {
	log := ps.Hi > 20*ps.Lo
	value := func(pa float64) float64 {
		if v := o.vacuum(pa); !log {
			return v
		} else {
			return math.Log10(v)
		}
	}
	tpad := ts.Padded(10, 0.02)
	x := svg.Axis{Lo: tpad.Lo, Hi: tpad.Hi, Ticks: o.ticks(tpad.Lo, tpad.Hi, 6)}
	var y svg.Axis
	axis := "chart.axis.vacuum"
	if log {
		axis = "chart.axis.vacuum.log"
		lo, hi := ps.Lo/1.3, ps.Hi*1.3
		y = svg.Axis{Lo: value(lo), Hi: value(hi), Ticks: o.decadeTicks(o.vacuum(lo), o.vacuum(hi))}
	} else {
		ps.Add(0)
		v := ps.Padded(20, 0.08)
		y = svg.Axis{Lo: value(v.Lo), Hi: value(v.Hi)}
		y.Ticks = o.ticks(y.Lo, y.Hi, 5)
	}
	area := svg.Rect{X0: 54, Y0: 34, X1: 346, Y1: 254}
	p := c.Plot(area, x, y)
	p.Axes()
	name := o.unitName(unit.AbsolutePressure)
	c.Text(svg.Text, svg.Pt{X: 4, Y: 18}, svg.Start, o.Words(axis, "unit", name))
	c.Text(svg.Text, svg.Pt{X: area.X1, Y: c.H - 8}, svg.End, o.Words("chart.axis.minutes"))

	labels := svg.Placer{Inside: svg.Rect{X0: area.X0 + 2, Y0: area.Y0, X1: c.W - 2, Y1: area.Y1 - 1}}
	at := func(q HoldPoint) svg.Pt { return svg.Pt{X: q.Minutes, Y: value(q.Pressure)} }
	var fit []svg.Pt
	for _, q := range h.Fit {
		fit = append(fit, at(q))
	}
	p.Line(svg.Line, fit)
	labels.AvoidLine(p, fit)
	for _, q := range h.Points {
		on := p.At(at(q))
		c.Circle(svg.Point, on, 4)
		labels.Block(svg.Around(on, 6))
	}
	for _, l := range h.Limits {
		yv := p.At(svg.Pt{X: x.Lo, Y: value(l.Pressure)}).Y
		a, b := svg.Pt{X: area.X0, Y: yv}, svg.Pt{X: area.X1, Y: yv}
		c.Segment(svg.Dash, a, b)
		labels.Avoid([]svg.Pt{a, b})
	}
	for _, l := range h.Limits {
		yv := p.At(svg.Pt{X: x.Lo, Y: value(l.Pressure)}).Y
		text := svg.Fit(svg.TextSoft, l.Name, area.X1-area.X0-10)
		half := svg.TextWidth(svg.TextSoft, text)/2 + 4
		labels.Put(c, svg.TextSoft, text, svg.Pt{X: area.X0 + half, Y: yv}, svg.Pt{X: area.X1 - half, Y: yv})
	}
}

func (h *HoldTest) table(o *Options) Table {
	name := o.unitName(unit.AbsolutePressure)
	t := Table{
		Caption: o.Words("chart.hold.title"),
		Head:    []string{o.Words("chart.col.what"), o.Words("chart.axis.minutes"), o.Words("chart.axis.vacuum", "unit", name)},
	}
	for _, q := range h.Points {
		t.Rows = append(t.Rows, []string{o.Words("chart.row.reading"), svg.Number(q.Minutes, 0), o.Writer().ReadingNumbers(q.Pressure, q.Pressure, unit.AbsolutePressure)})
	}
	for _, l := range h.Limits {
		t.Rows = append(t.Rows, []string{l.Name, "–", o.Writer().Numbers(l.Pressure, l.Pressure, unit.AbsolutePressure)})
	}
	return t
}
