package chart

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"twoneedles/chart/svg"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// At is a reading taken at an outside temperature in K.
type At struct {
	Reading
	Ambient float64
}

// PublishedRange is one row of a published table. A side the table does not
// give has Lo = Hi = 0.
type PublishedRange struct {
	Ambient   float64      // K
	Low, High car.Interval // Pa gauge
	Source    string       // as short as it can be told from others
}

// Weather draws what healthy cars show against the outside temperature: the
// high side above, the low side below, with the reading and, where the caller
// passes them, published ranges. It needs bands at two temperatures or more.
func Weather(bands []diagnose.WeatherBand, r At, published []PublishedRange, o Options) (Figure, error) {
	if err := o.Check(); err != nil {
		return Figure{}, err
	}
	bands, err := risingWeather(bands)
	if err != nil {
		return Figure{}, err
	}
	w := weather{bands: bands, now: r, published: published, o: &o}
	if err := w.check(); err != nil {
		return Figure{}, err
	}
	summary := w.summary()
	c := svg.New(o.ID, o.Words("chart.weather.title"), summary, 360, 420)
	w.draw(c)
	return o.Finish(c, summary, w.table())
}

// risingWeather are the bands by rising temperature; two are the least.
func risingWeather(bands []diagnose.WeatherBand) ([]diagnose.WeatherBand, error) {
	bands = slices.SortedFunc(slices.Values(bands), func(a, b diagnose.WeatherBand) int { return cmp.Compare(a.Ambient, b.Ambient) })
	if len(bands) < 2 || bands[0].Ambient == bands[len(bands)-1].Ambient {
		return nil, errors.New("chart: a picture across the weather needs bands at two temperatures or more")
	}
	return bands, nil
}

type weather struct {
	bands     []diagnose.WeatherBand // by rising temperature
	now       At
	published []PublishedRange
	o         *Options
}

func (w *weather) check() error {
	for _, b := range w.bands {
		if err := CheckTemperatures("outside temperature", b.Ambient); err != nil {
			return err
		}
		for _, q := range []diagnose.Band{b.Low, b.High} {
			if err := CheckGauges(q.P05, q.P25, q.P50, q.P75, q.P95); err != nil {
				return err
			}
			if !(q.P05 <= q.P25 && q.P25 <= q.P50 && q.P50 <= q.P75 && q.P75 <= q.P95) {
				return fmt.Errorf("chart: quantiles %v do not rise", q)
			}
		}
	}
	for _, p := range w.published {
		if err := CheckTemperatures("outside temperature", p.Ambient); err != nil {
			return err
		}
		if err := CheckGauges(p.Low.Lo, p.Low.Hi, p.High.Lo, p.High.Hi); err != nil {
			return err
		}
		if p.Low.Lo > p.Low.Hi || p.High.Lo > p.High.Hi {
			return fmt.Errorf("chart: published range of %s is turned over", p.Source)
		}
	}
	if w.now.Low.Read || w.now.High.Read {
		if err := CheckTemperatures("outside temperature", w.now.Ambient); err != nil {
			return err
		}
	}
	return w.now.check()
}

// side is what the two panels differ in.
type side struct {
	key                  string
	band                 func(diagnose.WeatherBand) diagnose.Band
	needle               Needle
	published            func(PublishedRange) car.Interval
	wide, core, mid, bar svg.Class
	title, value         svg.Class
	least                float64 // Pa, smallest span worth showing (judgement)
}

func (w *weather) sides() [2]side {
	return [2]side{
		{"high", func(b diagnose.WeatherBand) diagnose.Band { return b.High }, w.now.High,
			func(p PublishedRange) car.Interval { return p.High },
			svg.HighBand, svg.HighCore, svg.HighThin, svg.High, svg.TextHigh, svg.ValueHigh, 3e5},
		{"low", func(b diagnose.WeatherBand) diagnose.Band { return b.Low }, w.now.Low,
			func(p PublishedRange) car.Interval { return p.Low },
			svg.LowBand, svg.LowCore, svg.LowThin, svg.Low, svg.TextLow, svg.ValueLow, 8e4},
	}
}

func (w *weather) draw(c *svg.Canvas) {
	o := w.o
	read := w.now.Low.Read || w.now.High.Read
	xs := svg.NoSpan()
	for _, b := range w.bands {
		xs.Add(b.Ambient)
	}
	for _, p := range w.published {
		xs.Add(p.Ambient-1, p.Ambient+1)
	}
	if read {
		xs.Add(w.now.Ambient)
	}
	x := svg.Axis{Lo: o.temperature(xs.Lo), Hi: o.temperature(xs.Hi)}
	ticks := o.ticks(x.Lo, x.Hi, 6)
	areas := [2]svg.Rect{{X0: 48, Y0: 34, X1: 344, Y1: 206}, {X0: 48, Y0: 248, X1: 344, Y1: 374}}
	name := o.unitName(unit.GaugePressure)
	for i, s := range w.sides() {
		x.Ticks = slices.Clone(ticks)
		if i == 0 {
			for k := range x.Ticks {
				x.Ticks[k].Label = "" // the panels share the axis below
			}
		} else if read {
			w.ambientChip(c, x, areas[1])
		}
		w.panel(c, s, x, areas[i])
		c.Text(s.title, svg.Pt{X: 4, Y: areas[i].Y0 - 16}, svg.Start, o.Words("chart.axis."+s.key, "unit", name))
	}
	c.Text(svg.Text, svg.Pt{X: 344, Y: c.H - 8}, svg.End,
		o.Words("chart.axis.ambient", "unit", o.unitName(unit.Temperature)))
}

// ambientChip writes the outside temperature on the axis and clears the ticks
// it covers.
func (w *weather) ambientChip(c *svg.Canvas, x svg.Axis, area svg.Rect) {
	text := w.o.Writer().ReadingNumbers(w.now.Ambient, w.now.Ambient, unit.Temperature)
	f := (w.o.temperature(w.now.Ambient) - x.Lo) / (x.Hi - x.Lo)
	ch := svg.Chips{Along: []svg.Chip{{Pos: area.X0 + f*(area.X1-area.X0), Text: text}}, Flat: true}
	copy(x.Ticks, ch.Clear(x, area.X0, area.X1))
	ch.Draw(c, svg.TextBig, area.Y1+21)
}

func (w *weather) panel(c *svg.Canvas, s side, x svg.Axis, area svg.Rect) {
	o := w.o
	ys := svg.NoSpan()
	for _, b := range w.bands {
		ys.Add(s.band(b).P05, s.band(b).P95)
	}
	for _, p := range w.published {
		if i := s.published(p); i.Lo != i.Hi {
			ys.Add(i.Lo, i.Hi)
		}
	}
	if s.needle.Read {
		ys.Add(s.needle.Lo-s.needle.Err, s.needle.Hi+s.needle.Err)
	}
	ys = ys.Padded(s.least, 0.06)
	y := svg.Axis{Lo: o.pressure(ys.Lo), Hi: o.pressure(ys.Hi)}
	y.Ticks = o.ticks(y.Lo, y.Hi, 4)
	p := c.Plot(area, x, y)

	wide, core, mid := make([]svg.BandAt, len(w.bands)), make([]svg.BandAt, len(w.bands)), make([]svg.Pt, len(w.bands))
	for i, b := range w.bands {
		t, q := o.temperature(b.Ambient), s.band(b)
		wide[i] = svg.BandAt{X: t, Lo: o.pressure(q.P05), Hi: o.pressure(q.P95)}
		core[i] = svg.BandAt{X: t, Lo: o.pressure(q.P25), Hi: o.pressure(q.P75)}
		mid[i] = svg.Pt{X: t, Y: o.pressure(q.P50)}
	}
	p.Band(s.wide, wide)
	p.Band(s.core, core)
	p.Axes()
	p.Line(s.mid, mid)

	labels := svg.Placer{Inside: svg.Rect{X0: area.X0 + 2, Y0: area.Y0 - 8, X1: c.W - 2, Y1: area.Y1 - 1}}
	sources := w.publishedMarks(c, p, s, &labels)
	w.point(c, p, s, &labels)
	if s.key == "high" { // the lower panel has the same sources
		for _, m := range sources {
			if len(m.at) == 0 {
				continue
			}
			text := svg.Fit(svg.TextSoft, m.source, 150)
			labels.Put(c, svg.TextSoft, text, m.at...)
		}
	}
	w.bandLabels(c, p, wide, mid, &labels)
}

// bandLabels names the band where there is room along its upper edge.
func (w *weather) bandLabels(c *svg.Canvas, p *svg.Plot, wide []svg.BandAt, mid []svg.Pt, labels *svg.Placer) {
	var edge, lower, centre, places []svg.Pt
	for i := range wide {
		edge = append(edge, p.At(svg.Pt{X: wide[i].X, Y: wide[i].Hi}))
		lower = append(lower, p.At(svg.Pt{X: wide[i].X, Y: wide[i].Lo}))
		centre = append(centre, p.At(mid[i]))
	}
	labels.Avoid(edge)
	labels.Avoid(lower)
	labels.Avoid(centre)
	for _, f := range []float64{0.15, 0.3, 0.5, 0.7, 0.85} {
		k := int(f * float64(len(edge)-1))
		places = append(places, edge[k], lower[k])
	}
	labels.Put(c, svg.TextSoft, w.o.Words("chart.region.healthy", "percent", "90"), places...)
}

// point draws the reading at its temperature.
func (w *weather) point(c *svg.Canvas, p *svg.Plot, s side, labels *svg.Placer) {
	if w.now.Low.Read || w.now.High.Read {
		x := p.At(svg.Pt{X: w.o.temperature(w.now.Ambient)}).X
		a, b := svg.Pt{X: x, Y: p.Area.Y0}, svg.Pt{X: x, Y: p.Area.Y1 + 4}
		c.Segment(svg.Fine, a, b)
		labels.Avoid([]svg.Pt{a, b})
	}
	n := s.needle
	if !n.Read {
		return
	}
	at := func(pa float64) svg.Pt {
		return p.At(svg.Pt{X: w.o.temperature(w.now.Ambient), Y: w.o.pressure(pa)})
	}
	top, bottom := at(n.Hi+n.Err), at(n.Lo-n.Err)
	p.ErrorBar(s.bar, top, bottom)
	c.Circle(svg.Point, at(n.mid()), 4.5)
	labels.Block(svg.Rect{X0: top.X - 7, Y0: top.Y - 4, X1: top.X + 7, Y1: bottom.Y + 4})
	labels.Put(c, s.value, w.o.needleNumbers(n), at(n.mid()))
}

// sourceMarks are the ends of the ranges of one source.
type sourceMarks struct {
	source string
	at     []svg.Pt
}

// publishedMarks draws published ranges, those of different sources beside each
// other, and returns where each source may be named.
func (w *weather) publishedMarks(c *svg.Canvas, p *svg.Plot, s side, labels *svg.Placer) []sourceMarks {
	index := map[string]int{}
	var marks []sourceMarks
	for _, r := range w.published {
		k, ok := index[r.Source]
		if !ok {
			k = len(marks)
			index[r.Source] = k
			marks = append(marks, sourceMarks{source: r.Source})
		}
		is := s.published(r)
		if is.Lo == is.Hi {
			continue
		}
		t := w.o.temperature(r.Ambient)
		top, bottom := p.At(svg.Pt{X: t, Y: w.o.pressure(is.Hi)}), p.At(svg.Pt{X: t, Y: w.o.pressure(is.Lo)})
		x := min(top.X+5*float64(k), p.Area.X1) // so that two sources at one temperature both show
		top.X, bottom.X = x, x
		p.Whisker(svg.Fine, top, bottom)
		labels.Block(svg.Rect{X0: x - 4, Y0: top.Y - 2, X1: x + 4, Y1: bottom.Y + 2})
		marks[k].at = append(marks[k].at, top, bottom)
	}
	return marks
}
