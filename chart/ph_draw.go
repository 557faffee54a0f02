package chart

import (
	"math"
	"slices"

	"twoneedles/chart/svg"
	"twoneedles/refrig/unit"
)

// phPicture is the diagram while it is being drawn.
type phPicture struct {
	*Cycle
	o      *Options
	c      *svg.Canvas
	p      *svg.Plot
	labels svg.Placer
}

func (cy *Cycle) draw(c *svg.Canvas, o *Options) {
	hs := svg.NoSpan()
	for _, s := range cy.States {
		hs.Add(s.H)
	}
	for _, d := range cy.Dome {
		hs.Add(d.HL, d.HV)
	}
	lo, hi := cy.pressures()
	top := max(cy.Dome[len(cy.Dome)-1].P*1.15, hi*1.5)
	bottom := lo / 1.8
	h := hs.Padded(5e4, 0.04)
	height := func(pa float64) float64 { return math.Log10(o.pressure(pa)) }
	x := svg.Axis{Lo: o.enthalpy(h.Lo), Hi: o.enthalpy(h.Hi)}
	x.Ticks = o.ticks(x.Lo, x.Hi, 5)
	// go-chart's own logarithmic range takes the logarithm of the distance from
	// the lower limit; the axis here is linear in the logarithm instead.
	y := svg.Axis{Lo: height(bottom), Hi: height(top), Ticks: o.decadeTicks(o.pressure(bottom), o.pressure(top))}

	area := svg.Rect{X0: 52, Y0: 34, X1: 348, Y1: 282}
	d := &phPicture{Cycle: cy, o: o, c: c, p: c.Plot(area, x, y)}
	d.labels.Inside = svg.Rect{X0: area.X0 + 2, Y0: area.Y0, X1: c.W - 2, Y1: area.Y1 - 1}
	d.p.Axes()
	c.Text(svg.Text, svg.Pt{X: 4, Y: 18}, svg.Start,
		o.Words("chart.axis.absolute", "unit", o.unitName(unit.GaugePressure)))
	c.Text(svg.Text, svg.Pt{X: area.X1, Y: c.H - 8}, svg.End,
		o.Words("chart.axis.enthalpy", "unit", o.unitName(unit.Enthalpy)))
	for _, t := range cy.Isotherms {
		d.p.Line(svg.Fine, d.points(t))
	}
	d.dome()
	d.loop()
	d.brackets()
	d.stateLabels()
	d.isothermLabels()
}

func (d *phPicture) pt(h, pa float64) svg.Pt {
	return svg.Pt{X: d.o.enthalpy(h), Y: math.Log10(d.o.pressure(pa))}
}

// curve draws what lies within the axes, and keeps labels off it.
func (d *phPicture) curve(class svg.Class, pts []svg.Pt) {
	d.p.Line(class, pts)
	d.labels.AvoidLine(d.p, pts)
}

func (d *phPicture) dome() {
	var liquid, vapour []svg.Pt
	for _, q := range d.Dome {
		liquid = append(liquid, d.pt(q.HL, q.P))
		vapour = append(vapour, d.pt(q.HV, q.P))
	}
	slices.Reverse(vapour)
	d.curve(svg.Line, append(liquid, vapour...))
}

// points are those of a line of one temperature.
func (d *phPicture) points(t Isotherm) []svg.Pt {
	pts := make([]svg.Pt, len(t.Points))
	for i, q := range t.Points {
		pts[i] = d.pt(q[0], q[1])
	}
	return pts
}

func (d *phPicture) isothermLabels() {
	for _, t := range d.Isotherms {
		var ends []svg.Pt
		for _, part := range d.p.Clip(d.points(t)) {
			ends = append(ends, d.p.At(part[0]), d.p.At(part[len(part)-1]))
		}
		if len(ends) == 0 {
			continue
		}
		d.labels.Put(d.c, svg.TextSoft, d.o.temperatureText(t.T), ends...)
	}
}

// loop draws the four processes; the parts at the two pressures have the colour
// of their side.
func (d *phPicture) loop() {
	lo, hi := d.pressures()
	mid := math.Sqrt(lo * hi)
	for i, s := range d.States {
		next := d.States[(i+1)%len(d.States)]
		class := svg.Drift1
		switch {
		case s.P < mid && next.P < mid:
			class = svg.Low
		case s.P >= mid && next.P >= mid:
			class = svg.High
		}
		d.curve(class, []svg.Pt{d.pt(s.H, s.P), d.pt(next.H, next.P)})
	}
}

// stateLabels names the states. Suction line and evaporator outlet are often too
// near for two labels; the bracket of the superheat then names the outlet.
func (d *phPicture) stateLabels() {
	for _, s := range d.States {
		d.labels.Block(svg.Around(d.p.At(d.pt(s.H, s.P)), 6))
	}
	for _, s := range d.States {
		q := d.p.At(d.pt(s.H, s.P))
		d.c.Circle(svg.Point, q, 4.5)
		if s.Name == EvaporatorOut && d.near(q, CompressorIn) {
			continue
		}
		d.labels.Put(d.c, svg.Text, d.o.Words("chart.state."+string(s.Name)), q)
	}
}

func (d *phPicture) near(q svg.Pt, name StateName) bool {
	for _, s := range d.States {
		if s.Name == name {
			p := d.p.At(d.pt(s.H, s.P))
			return math.Hypot(p.X-q.X, p.Y-q.Y) < 24
		}
	}
	return false
}

// saturation returns the dome at p, interpolated in the logarithm of pressure.
func (cy *Cycle) saturation(p float64) (hl, hv float64, ok bool) {
	for i := 1; i < len(cy.Dome); i++ {
		a, b := cy.Dome[i-1], cy.Dome[i]
		if p >= a.P && p <= b.P {
			f := math.Log(p/a.P) / math.Log(b.P/a.P)
			return a.HL + f*(b.HL-a.HL), a.HV + f*(b.HV-a.HV), true
		}
	}
	return 0, 0, false
}

// brackets mark superheat from the dome to the outlet of the evaporator, below
// the line, and subcooling from the outlet of the condenser to the dome, above.
func (d *phPicture) brackets() {
	for _, s := range d.States {
		hl, hv, ok := d.saturation(s.P)
		switch {
		case !ok:
		case (s.Name == EvaporatorOut || s.Name == CompressorIn && !d.has(EvaporatorOut)) && d.Superheat > 0 && s.H > hv:
			d.bracket(hv, s.H, s.P, 12, "chart.superheat", d.Superheat)
		case s.Name == CondenserOut && d.Subcooling > 0 && s.H < hl:
			d.bracket(s.H, hl, s.P, -12, "chart.subcooling", d.Subcooling)
		}
	}
}

func (cy *Cycle) has(n StateName) bool {
	return slices.ContainsFunc(cy.States, func(s CycleState) bool { return s.Name == n })
}

func (d *phPicture) bracket(h0, h1, pa, off float64, key string, k float64) {
	a, b := d.p.At(d.pt(h0, pa)), d.p.At(d.pt(h1, pa))
	y, foot := a.Y+off, a.Y+off/2.5
	pts := []svg.Pt{{X: a.X, Y: foot}, {X: a.X, Y: y}, {X: b.X, Y: y}, {X: b.X, Y: foot}}
	d.c.Path(svg.Line, pts, false)
	d.labels.Avoid(pts)
	d.labels.Put(d.c, svg.Text, d.o.Words(key, "v", d.o.differenceText(k)), svg.Pt{X: (a.X + b.X) / 2, Y: y + 0.4*off})
}
