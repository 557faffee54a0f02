package chart

import (
	"errors"

	"twoneedles/chart/svg"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// LogPoint is one reading of a log.
type LogPoint struct {
	Minutes float64 // since the start
	Value   float64 // SI
}

// Log is how readings of one kind went over time: both needles, or the vent.
type Log struct {
	Lines map[car.Quantity][]LogPoint // by rising time; car.Low and car.High, or car.Vent
	// On are the times in which the clutch was engaged, minutes from and to.
	On [][2]float64
}

// logged are the quantities a log may hold, in the order of table and key.
var logged = []car.Quantity{car.High, car.Low, car.Vent}

// Over draws a log. Where the clutch was engaged a bar runs along the foot.
func Over(l Log, o Options) (Figure, error) {
	if err := o.Check(); err != nil {
		return Figure{}, err
	}
	ts, vs := svg.NoSpan(), svg.NoSpan()
	kind := unit.GaugePressure
	points := 0
	for _, q := range logged {
		last := -1.0
		for _, p := range l.Lines[q] {
			if q == car.Vent {
				kind = unit.Temperature
			}
			lo, hi, unitName := -1.1e5, 5e6, "Pa"
			if q == car.Vent {
				lo, hi, unitName = 223, 373, "K"
			}
			if err := within(string(q), unitName, lo, hi, p.Value); err != nil {
				return Figure{}, err
			}
			if err := within("time", "min", 0, 24*60, p.Minutes); err != nil {
				return Figure{}, err
			}
			if p.Minutes < last {
				return Figure{}, errors.New("chart: the log goes back in time")
			}
			last = p.Minutes
			ts.Add(p.Minutes)
			vs.Add(o.drawn(p.Value, kind))
			points++
		}
	}
	for _, on := range l.On {
		for _, t := range on {
			if err := within("time", "min", 0, 24*60, t); err != nil {
				return Figure{}, err
			}
			ts.Add(t)
		}
	}
	if points == 0 {
		return Figure{}, errors.New("chart: the log has no readings")
	}
	if kind == unit.Temperature && len(l.Lines[car.Low])+len(l.Lines[car.High]) > 0 {
		return Figure{}, errors.New("chart: a log of pressures and temperatures in one picture")
	}
	title, summary := o.Words("chart.log.title."+kindName(kind)), l.say(&o, kind)
	c := svg.New(o.ID, title, summary, 360, 260)
	l.draw(c, &o, ts, vs, kind)
	return o.Finish(c, summary, l.table(&o, title, kind))
}

// drawn is a value on the axis.
func (o *Options) drawn(si float64, kind unit.Kind) float64 {
	if kind == unit.Temperature {
		return o.temperature(si)
	}
	return o.pressure(si)
}

func kindName(k unit.Kind) string {
	if k == unit.Temperature {
		return "vent"
	}
	return "needles"
}

// say is the log in one sentence a line: from what to what in how long.
func (l *Log) say(o *Options, kind unit.Kind) string {
	text := ""
	for _, q := range logged {
		line := l.Lines[q]
		if len(line) == 0 {
			continue
		}
		first, last := line[0], line[len(line)-1]
		if text != "" {
			text += " "
		}
		if len(l.On) > 0 && q != car.Vent { // a needle that swings went nowhere
			s := svg.NoSpan()
			for _, r := range line {
				s.Add(r.Value)
			}
			text += o.Words("chart.log.between", "quantity", o.Words("chart.log."+string(q)),
				"from", o.Writer().ReadingText(s.Lo, kind), "to", o.Writer().ReadingText(s.Hi, kind),
				"minutes", o.Writer().Sign(svg.Number(last.Minutes-first.Minutes, 1)))
			continue
		}
		text += o.Words("chart.log.line", "quantity", o.Words("chart.log."+string(q)),
			"from", o.Writer().ReadingText(first.Value, kind), "to", o.Writer().ReadingText(last.Value, kind),
			"minutes", o.Writer().Sign(svg.Number(last.Minutes-first.Minutes, 1)))
	}
	return text
}

func (l *Log) draw(c *svg.Canvas, o *Options, ts, vs svg.Span, kind unit.Kind) {
	ts.Add(0)
	t, v := ts.Padded(1, 0.02), vs.Padded(1, 0.1)
	x := svg.Axis{Lo: 0, Hi: t.Hi, Ticks: o.ticks(0, t.Hi, 6)}
	y := svg.Axis{Lo: v.Lo, Hi: v.Hi, Ticks: o.ticks(v.Lo, v.Hi, 5)}
	area := svg.Rect{X0: 54, Y0: 34, X1: 346, Y1: 214}
	p := c.Plot(area, x, y)
	p.Axes()
	c.Text(svg.Text, svg.Pt{X: 4, Y: 18}, svg.Start, o.unitName(kind))
	c.Text(svg.Text, svg.Pt{X: area.X1, Y: c.H - 8}, svg.End, o.Words("chart.log.minutes"))
	class := map[car.Quantity]svg.Class{car.Low: svg.Low, car.High: svg.High, car.Vent: svg.Line}
	for _, q := range logged {
		var line []svg.Pt
		for _, r := range l.Lines[q] {
			at := svg.Pt{X: r.Minutes, Y: o.drawn(r.Value, kind)}
			line = append(line, at)
			c.Circle(svg.Point, p.At(at), 3)
		}
		p.Line(class[q], line)
	}
	for _, on := range l.On {
		a, b := p.At(svg.Pt{X: on[0], Y: v.Lo}), p.At(svg.Pt{X: on[1], Y: v.Lo})
		c.Segment(svg.Line, svg.Pt{X: a.X, Y: area.Y1 - 3}, svg.Pt{X: b.X, Y: area.Y1 - 3})
	}
}

func (l *Log) table(o *Options, title string, kind unit.Kind) Table {
	t := Table{Caption: title, Head: []string{o.Words("chart.col.what"), o.Words("chart.log.minutes"), o.unitName(kind)}}
	for _, q := range logged {
		for _, r := range l.Lines[q] {
			t.Rows = append(t.Rows, []string{o.Words("chart.log." + string(q)), o.Writer().Sign(svg.Number(r.Minutes, 1)), o.Writer().ReadingNumbers(r.Value, r.Value, kind)})
		}
	}
	for _, on := range l.On {
		t.Rows = append(t.Rows, []string{o.Words("chart.log.on"), o.Writer().Words("number.range", "lo", o.Writer().Sign(svg.Number(on[0], 2)), "hi", o.Writer().Sign(svg.Number(on[1], 2))), "–"})
	}
	return t
}
