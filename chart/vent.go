package chart

import (
	"errors"

	"twoneedles/chart/svg"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// VentNow is the vent as it was read; Read is false where it was not.
type VentNow struct {
	Ambient, Vent float64 // K
	Read          bool
}

// PublishedVent is one row of a published table.
type PublishedVent struct{ Ambient, Vent car.Interval } // K

// Vent draws how cold the vent of a sound car is against the outside temperature, the
// published temperatures beside it and the reading among them. It needs bands at two
// temperatures or more.
func Vent(bands []diagnose.WeatherBand, now VentNow, published []PublishedVent, o Options) (Figure, error) {
	if err := o.Check(); err != nil {
		return Figure{}, err
	}
	bands, err := risingWeather(bands)
	if err != nil {
		return Figure{}, err
	}
	xs, ys := svg.NoSpan(), svg.NoSpan()
	for _, b := range bands {
		if err := CheckTemperatures("outside temperature", b.Ambient); err != nil {
			return Figure{}, err
		}
		if err := CheckTemperatures("vent temperature", b.Vent.Lo, b.VentMedian, b.Vent.Hi); err != nil {
			return Figure{}, err
		}
		if b.Vent.Lo > b.VentMedian || b.VentMedian > b.Vent.Hi {
			return Figure{}, errors.New("chart: a band of the vent is turned over")
		}
		xs.Add(o.temperature(b.Ambient))
		ys.Add(o.temperature(b.Vent.Lo), o.temperature(b.Vent.Hi))
	}
	for _, p := range published {
		if err := CheckTemperatures("published temperature", p.Ambient.Lo, p.Ambient.Hi, p.Vent.Lo, p.Vent.Hi); err != nil {
			return Figure{}, err
		}
		xs.Add(o.temperature(p.Ambient.Lo), o.temperature(p.Ambient.Hi))
		ys.Add(o.temperature(p.Vent.Lo), o.temperature(p.Vent.Hi))
	}
	if now.Read {
		if err := CheckTemperatures("temperature", now.Ambient, now.Vent); err != nil {
			return Figure{}, err
		}
		xs.Add(o.temperature(now.Ambient))
		ys.Add(o.temperature(now.Vent))
	}
	summary := saidOfVent(bands, now, published, &o)
	c := svg.New(o.ID, o.Words("chart.vent.title"), summary, 360, 280)
	x, y := xs.Padded(5, 0.02), ys.Padded(5, 0.05)
	area := svg.Rect{X0: 46, Y0: 34, X1: 346, Y1: 234}
	p := c.Plot(area, svg.Axis{Lo: x.Lo, Hi: x.Hi, Ticks: o.ticks(x.Lo, x.Hi, 6)}, svg.Axis{Lo: y.Lo, Hi: y.Hi, Ticks: o.ticks(y.Lo, y.Hi, 6)})
	var wide []svg.BandAt
	var middle []svg.Pt
	for _, b := range bands {
		t := o.temperature(b.Ambient)
		wide = append(wide, svg.BandAt{X: t, Lo: o.temperature(b.Vent.Lo), Hi: o.temperature(b.Vent.Hi)})
		middle = append(middle, svg.Pt{X: t, Y: o.temperature(b.VentMedian)})
	}
	p.Band(svg.LowBand, wide)
	p.Axes()
	p.Line(svg.LowThin, middle)
	for _, v := range published {
		t := (o.temperature(v.Ambient.Lo) + o.temperature(v.Ambient.Hi)) / 2
		a, b := p.At(svg.Pt{X: t, Y: o.temperature(v.Vent.Lo)}), p.At(svg.Pt{X: t, Y: o.temperature(v.Vent.Hi)})
		if a.Y-b.Y < 3 { // one number is a short stroke
			a.Y, b.Y = a.Y+1.5, b.Y-1.5
		}
		c.Segment(svg.Line, a, b)
	}
	if now.Read {
		c.Circle(svg.Point, p.At(svg.Pt{X: o.temperature(now.Ambient), Y: o.temperature(now.Vent)}), 4.5)
	}
	c.Text(svg.Text, svg.Pt{X: 4, Y: 18}, svg.Start, o.Words("chart.vent.axis", "unit", o.unitName(unit.Temperature)))
	c.Text(svg.Text, svg.Pt{X: area.X1, Y: c.H - 8}, svg.End, o.Words("chart.axis.ambient", "unit", o.unitName(unit.Temperature)))
	return o.Finish(c, summary, tableOfVent(bands, now, published, &o))
}

// saidOfVent says what is expected at the outside temperature of the reading, and where
// the reading lies; without one, what is expected from the coldest day to the hottest.
func saidOfVent(bands []diagnose.WeatherBand, now VentNow, published []PublishedVent, o *Options) string {
	w := o.Writer()
	first, last := bands[0], bands[len(bands)-1]
	if !now.Read {
		return o.Words("chart.vent.across", "cold", w.Quantity(first.Ambient, unit.Temperature), "from", w.Range(first.Vent.Lo, first.Vent.Hi, unit.Temperature),
			"hot", w.Quantity(last.Ambient, unit.Temperature), "to", w.Range(last.Vent.Lo, last.Vent.Hi, unit.Temperature), "n", len(published))
	}
	near := first
	for _, b := range bands {
		if d := b.Ambient - now.Ambient; d*d < (near.Ambient-now.Ambient)*(near.Ambient-now.Ambient) {
			near = b
		}
	}
	return o.Words("chart.vent.now", "vent", w.ReadingText(now.Vent, unit.Temperature), "ambient", w.Quantity(now.Ambient, unit.Temperature),
		"range", w.Range(near.Vent.Lo, near.Vent.Hi, unit.Temperature), "near", w.Quantity(near.Ambient, unit.Temperature), "n", len(published))
}

func tableOfVent(bands []diagnose.WeatherBand, now VentNow, published []PublishedVent, o *Options) Table {
	name, w := o.unitName(unit.Temperature), o.Writer()
	t := Table{Caption: o.Words("chart.vent.title"), Head: []string{o.Words("chart.col.what"),
		o.Words("chart.axis.ambient", "unit", name), o.Words("chart.vent.axis", "unit", name)}}
	for _, b := range bands {
		t.Rows = append(t.Rows, []string{o.Words("chart.vent.sound"), o.temperatureNumber(b.Ambient), w.Numbers(b.Vent.Lo, b.Vent.Hi, unit.Temperature)})
	}
	for _, p := range published {
		t.Rows = append(t.Rows, []string{o.Words("chart.vent.published"), w.Numbers(p.Ambient.Lo, p.Ambient.Hi, unit.Temperature), w.Numbers(p.Vent.Lo, p.Vent.Hi, unit.Temperature)})
	}
	if now.Read {
		t.Rows = append(t.Rows, []string{o.Words("chart.row.reading"), o.temperatureNumber(now.Ambient), w.ReadingNumbers(now.Vent, now.Vent, unit.Temperature)})
	}
	return t
}
