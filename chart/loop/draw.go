package loop

import (
	"twoneedles/chart"
	"twoneedles/chart/svg"
	"twoneedles/refrig/car"
)

// The picture: the high side goes up on the left, across the condenser and down on the
// right; the low side comes back through the evaporator at the bottom. Numbers stand
// inside the loop beside their pipe.
const (
	left, right  = 44.0, 316.0
	top, bottom  = 51.0, 462.0 // where the pipes enter condenser and evaporator
	compressorAt = 226.0       // middle of the compressor
	roomBeside   = 124.0       // room of a number beside its pipe, and
	roomWide     = 170.0       // where nothing stands on the other side
	nextCoil     = 74.0        // from the first evaporator to the second
)

type drawing struct {
	*svg.Canvas
	l *Of
	o *chart.Options
}

func draw(l *Of, o *chart.Options, summary string) *svg.Canvas {
	height := bottom + 46
	if l.Car.Evaporators == 2 {
		height += nextCoil
	}
	list := height
	d := drawing{svg.New(o.ID, o.Words("chart.loop.title"), summary, 360, height+20*float64(len(l.Suspects))+22), l, o}
	d.pipes()
	d.coil(svg.High, svg.Rect{X0: 78, Y0: 14, X1: 282, Y1: 88}, car.PartCondenser, "condenser", car.High, "chart.loop.condenses")
	d.coil(svg.Low, svg.Rect{X0: 78, Y0: bottom - 37, X1: 282, Y1: bottom + 37}, car.PartEvaporator, "evaporator", car.Low, "chart.loop.boils")
	d.valve(svg.Pt{X: 299, Y: bottom})
	if l.Car.Evaporators == 2 {
		d.coil(svg.Low, svg.Rect{X0: 78, Y0: bottom + nextCoil - 20, X1: 282, Y1: bottom + nextCoil + 20}, car.PartEvaporator, "evaporator_2", "", "")
		d.valve(svg.Pt{X: 299, Y: bottom + nextCoil})
	}
	d.compressor()
	d.numbers(svg.Pt{X: 62, Y: 108}, svg.Start, d.firstRead(car.DischargeLine, car.CondenserIn), "", svg.TextHigh, roomBeside)
	d.numbers(svg.Pt{X: 302, Y: 108}, svg.End, d.firstRead(car.LiquidLine, car.CondenserOut), "", svg.TextHigh, roomBeside)
	if l.Car.HighPort == car.PortDischarge {
		d.port(svg.Pt{X: left, Y: 178}, 62, svg.Start, car.High, svg.TextHigh)
	} else {
		d.port(svg.Pt{X: right, Y: 178}, 302, svg.End, car.High, svg.TextHigh)
	}
	d.vessel(l.drier(), "liquid_line", svg.Rect{X0: 304, Y0: 226, X1: 328, Y1: 264}, 296, svg.End, car.PartLiquidLine)
	d.vessel(l.accumulator(), "suction_line", svg.Rect{X0: 32, Y0: 376, X1: 56, Y1: 410}, 64, svg.Start, car.PartSuctionLine)
	d.numbers(svg.Pt{X: 62, Y: 274}, svg.Start, car.SuctionLine, "", svg.TextLow, roomBeside)
	d.port(svg.Pt{X: left, Y: 342}, 62, svg.Start, car.Low, svg.TextLow)
	d.numbers(svg.Pt{X: 302, Y: 326}, svg.End, car.Vent, "", svg.TextBig, roomBeside)
	d.name(svg.Pt{X: 302, Y: 414}, svg.End, placeName(o.Words, l.metering()), car.PartMetering, roomBeside)
	if l.numbers(car.PartRefrigerant) != "" {
		d.name(svg.Pt{X: 302, Y: 292}, svg.End, placeName(o.Words, "refrigerant"), car.PartRefrigerant, roomWide)
	}
	for i, s := range l.Suspects {
		d.Text(svg.Text, svg.Pt{X: 12, Y: list + 12 + 20*float64(i)}, svg.Start, svg.Fit(svg.Text, numbered(o.Words, i, s), d.W-20))
	}
	d.Text(svg.TextSoft, svg.Pt{X: 12, Y: d.H - 8}, svg.Start, svg.Fit(svg.TextSoft, o.Words("chart.loop.legend"), d.W-20))
	return d.Canvas
}

// firstRead is the pipe that was read, of two that tell nearly the same.
func (d *drawing) firstRead(q, twin car.Quantity) car.Quantity {
	_, ok := d.l.Read[q]
	if _, also := d.l.Read[twin]; also && !ok {
		return twin
	}
	return q
}

// pipes with the way the refrigerant takes.
func (d *drawing) pipes() {
	low := bottom
	if d.l.Car.Evaporators == 2 {
		low += nextCoil
		d.Segment(svg.High, svg.Pt{X: right, Y: bottom}, svg.Pt{X: 309, Y: bottom})
		d.Segment(svg.Low, svg.Pt{X: 78, Y: bottom}, svg.Pt{X: left, Y: bottom})
		d.Segment(svg.Low, svg.Pt{X: 289, Y: bottom}, svg.Pt{X: 282, Y: bottom})
	}
	d.Path(svg.High, []svg.Pt{{X: left, Y: compressorAt - 24}, {X: left, Y: top}, {X: 78, Y: top}}, false)
	d.Path(svg.High, []svg.Pt{{X: 282, Y: top}, {X: right, Y: top}, {X: right, Y: low}, {X: 309, Y: low}}, false)
	d.Segment(svg.Low, svg.Pt{X: 289, Y: low}, svg.Pt{X: 282, Y: low})
	d.Path(svg.Low, []svg.Pt{{X: 78, Y: low}, {X: left, Y: low}, {X: left, Y: compressorAt + 24}}, false)
	for _, a := range []struct{ x, y, tip float64 }{{left, 92, -7}, {right, 92, 7}, {right, 330, 7}, {left, 300, -7}} {
		d.Path(svg.Solid, []svg.Pt{{X: a.x - 6, Y: a.y}, {X: a.x + 6, Y: a.y}, {X: a.x, Y: a.y + a.tip*1.4}}, true)
	}
}

// coil is a box with the saturation temperatures of its needle.
func (d *drawing) coil(side svg.Class, r svg.Rect, part car.Part, name string, q car.Quantity, key string) {
	thin, text := svg.LowThin, svg.TextLow
	if side == svg.High {
		thin, text = svg.HighThin, svg.TextHigh
	}
	d.Box(thin, r, 8)
	d.frame(r, part)
	d.name(svg.Pt{X: r.X0 + 12, Y: r.Y0 + 22}, svg.Start, placeName(d.o.Words, name), part, r.X1-r.X0-24)
	if q == "" {
		return
	}
	read, sound := d.l.boils(d.o, q, key)
	at := svg.Pt{X: r.X0 + 12, Y: r.Y0 + 42}
	if read != "" {
		d.Text(text, at, svg.Start, svg.Fit(text, read, r.X1-r.X0-24))
		at.Y += 20
	}
	d.Text(svg.TextSoft, at, svg.Start, svg.Fit(svg.TextSoft, sound, r.X1-r.X0-24))
}

func (d *drawing) compressor() {
	at := svg.Pt{X: left, Y: compressorAt}
	d.Circle(svg.Mark, at, 22)
	d.Path(svg.Solid, []svg.Pt{{X: at.X - 9, Y: at.Y + 8}, {X: at.X + 9, Y: at.Y + 8}, {X: at.X, Y: at.Y - 11}}, true)
	d.frame(svg.Rect{X0: at.X - 24, Y0: at.Y - 24, X1: at.X + 24, Y1: at.Y + 24}, car.PartCompressor)
	d.name(svg.Pt{X: 78, Y: at.Y + 5}, svg.Start, placeName(d.o.Words, "compressor"), car.PartCompressor, 150)
}

// valve is the narrow place: two triangles for a valve, two lips for a tube.
func (d *drawing) valve(at svg.Pt) {
	class := svg.Mark
	switch d.l.Car.Metering {
	case car.OrificeTube:
		for _, way := range []float64{-1, 1} {
			d.Path(svg.Line, []svg.Pt{{X: at.X - 10, Y: at.Y + 9*way}, {X: at.X - 3, Y: at.Y + 3*way}, {X: at.X + 3, Y: at.Y + 3*way}, {X: at.X + 10, Y: at.Y + 9*way}}, false)
		}
		d.frame(svg.Rect{X0: at.X - 10, Y0: at.Y - 10, X1: at.X + 10, Y1: at.Y + 10}, car.PartMetering)
		return
	case car.MeteringUnknown:
		class = svg.Dash
	}
	d.Path(class, []svg.Pt{{X: at.X - 10, Y: at.Y - 9}, {X: at.X + 10, Y: at.Y + 9}, {X: at.X + 10, Y: at.Y - 9}, {X: at.X - 10, Y: at.Y + 9}}, true)
	d.frame(svg.Rect{X0: at.X - 10, Y0: at.Y - 10, X1: at.X + 10, Y1: at.Y + 10}, car.PartMetering)
}

// vessel is a drier or an accumulator, dashed where it is not known whether there is one.
// Where there is none its line is named instead if it is suspect.
func (d *drawing) vessel(name, line string, r svg.Rect, x float64, a svg.Anchor, part car.Part) {
	class := svg.Mark
	switch {
	case name == "" && d.l.numbers(part) == "":
		return
	case name == "":
		class, name = "", line
	case d.l.Car.Metering == car.MeteringUnknown:
		class = svg.Dash
	}
	if class != "" {
		d.Box(class, r, 6)
	}
	d.frame(r, part)
	d.name(svg.Pt{X: x, Y: (r.Y0+r.Y1)/2 + 5}, a, placeName(d.o.Words, name), part, roomWide)
}

func (d *drawing) port(at svg.Pt, x float64, a svg.Anchor, q car.Quantity, class svg.Class) {
	d.Circle(svg.Mark, at, 8)
	if q == car.High && d.l.Car.HighPort == car.PortUnknown {
		d.Circle(svg.Dash, at, 12)
	}
	d.frame(svg.Rect{X0: at.X - 9, Y0: at.Y - 9, X1: at.X + 9, Y1: at.Y + 9}, car.PartPorts)
	d.numbers(svg.Pt{X: x, Y: at.Y - 12}, a, q, car.PartPorts, class, roomWide)
}

// numbers are a place's name, what was read there and what sound cars show.
func (d *drawing) numbers(at svg.Pt, a svg.Anchor, q car.Quantity, part car.Part, class svg.Class, room float64) {
	read, sound := d.l.texts(d.o, q)
	d.name(at, a, placeName(d.o.Words, string(q)), part, room)
	if read != "" {
		at.Y += 17
		d.Text(class, at, a, svg.Fit(class, read, room))
	}
	at.Y += 16
	d.Text(svg.TextSoft, at, a, svg.Fit(svg.TextSoft, sound, room))
}

// name writes the name of a place and, where suspects concern it, their numbers in a
// badge beside it.
func (d *drawing) name(at svg.Pt, a svg.Anchor, name string, part car.Part, room float64) {
	numbers := d.l.numbers(part)
	if numbers == "" {
		d.Text(svg.Text, at, a, svg.Fit(svg.Text, name, room))
		return
	}
	wide := svg.TextWidth(svg.Text, numbers) + 12
	box := d.Text(svg.Text, at, a, svg.Fit(svg.Text, name, room-wide-6))
	r := svg.Rect{X0: box.X1 + 6, Y0: at.Y - 14, X1: box.X1 + 6 + wide, Y1: at.Y + 5}
	if a == svg.End {
		r.X0, r.X1 = box.X0-6-wide, box.X0-6
	}
	d.Box(svg.Mark, r, 9)
	d.Text(svg.Text, svg.Pt{X: (r.X0 + r.X1) / 2, Y: at.Y}, svg.Middle, numbers)
}

// frame goes round a part that a suspect concerns.
func (d *drawing) frame(r svg.Rect, part car.Part) {
	list := d.l.suspected(part)
	if len(list) == 0 {
		return
	}
	class := svg.Drift2
	if list[0] == 0 {
		class = svg.Drift1
	}
	const off = 4
	d.Box(class, svg.Rect{X0: r.X0 - off, Y0: r.Y0 - off, X1: r.X1 + off, Y1: r.Y1 + off}, 10)
}
