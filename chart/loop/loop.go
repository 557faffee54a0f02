package loop

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// Of is what the picture of the loop shows.
type Of struct {
	Car    car.Spec // which parts it has; what is not known is drawn dashed
	Read   car.Readings
	Points []diagnose.LoopPoint
	// Suspects are what the reading may be, the likeliest first; none where nothing was
	// read.
	Suspects []Suspect
}

// Suspect is a condition with its chance in words and the parts it concerns.
type Suspect struct {
	ID     car.ConditionID
	Chance string
	Parts  []car.Part
}

// Draw draws the refrigerant's way round: compressor, condenser, drier or accumulator,
// valve or tube, evaporator and both ports, at each place what was read there and below
// it what sound cars show. A part that a suspect concerns has the suspect's number and a
// frame, unbroken for the first and broken for the others.
func Draw(l Of, o chart.Options) (chart.Figure, error) {
	if err := o.Check(); err != nil {
		return chart.Figure{}, err
	}
	if len(l.Points) == 0 {
		return chart.Figure{}, errors.New("loop: no points of the loop")
	}
	if err := l.check(); err != nil {
		return chart.Figure{}, err
	}
	places := l.places(&o)
	t := chart.Table{
		Caption: o.Words("chart.loop.title"),
		Head:    []string{o.Words("chart.col.state"), o.Words("chart.col.read"), o.Words("chart.col.sound"), o.Words("chart.col.may")},
	}
	var said []string
	for _, s := range l.Suspects {
		said = append(said, l.accused(o.Words, s))
	}
	for _, p := range places {
		switch {
		case p.read != "":
			said = append(said, o.Words("chart.loop.says", "place", p.name, "read", p.read, "sound", p.sound))
		case p.sound != "":
			said = append(said, o.Words("chart.loop.sound", "place", p.name, "sound", p.sound))
		}
		t.Rows = append(t.Rows, []string{p.name, orMissing(o.Words, p.read), orMissing(o.Words, p.sound), orMissing(o.Words, o.Words.List(l.names(o.Words, p.part)))})
	}
	summary := o.Words.Sentences(said...)
	return o.Finish(draw(&l, &o, summary), summary, t)
}

func (l *Of) check() error {
	intervals := func(k unit.Kind, list ...car.Interval) error {
		for _, i := range list {
			if k == unit.GaugePressure {
				if err := chart.CheckGauges(i.Lo, i.Hi); err != nil {
					return err
				}
			} else if err := chart.CheckTemperatures("temperature", i.Lo, i.Hi); err != nil {
				return err
			}
		}
		return nil
	}
	for _, p := range l.Points {
		k := p.Quantity.Info().Kind
		if err := intervals(k, p.Sound); err != nil {
			return err
		}
		if r, ok := l.Read[p.Quantity]; ok {
			lo, hi := r.Ends()
			if err := intervals(k, car.Interval{Lo: lo, Hi: hi}); err != nil {
				return err
			}
		}
		for _, b := range []car.Interval{p.Boils, p.SoundBoils} {
			if b != (car.Interval{}) {
				if err := intervals(unit.Temperature, b); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// point is what belongs to a quantity, the zero point where nothing does.
func (l *Of) point(q car.Quantity) diagnose.LoopPoint {
	for _, p := range l.Points {
		if p.Quantity == q {
			return p
		}
	}
	return diagnose.LoopPoint{}
}

// place is a row of the table: a part, or where a gauge or thermometer is.
type place struct {
	name        string
	part        car.Part // whose suspects are named beside it
	read, sound string   // "" where there is none
}

// places are in the order of the refrigerant from the compressor on.
func (l *Of) places(o *chart.Options) (list []place) {
	add := func(name string, part car.Part, read, sound string) {
		list = append(list, place{placeName(o.Words, name), part, read, sound})
	}
	at := func(q car.Quantity, part car.Part) {
		read, sound := l.texts(o, q)
		add(string(q), part, read, sound)
	}
	twin := func(q car.Quantity) { // told apart from the pipe beside it only where it was read
		if _, ok := l.Read[q]; ok {
			at(q, "")
		}
	}
	high := func() {
		read, sound := l.texts(o, car.High)
		name := "high"
		if l.Car.HighPort == car.PortUnknown {
			name = "high_unknown"
		}
		add(name, car.PartPorts, read, sound)
	}
	add("compressor", car.PartCompressor, "", "")
	at(car.DischargeLine, "")
	if l.Car.HighPort == car.PortDischarge {
		high()
	}
	twin(car.CondenserIn)
	read, sound := l.boils(o, car.High, "chart.loop.condenses")
	add("condenser", car.PartCondenser, read, sound)
	twin(car.CondenserOut)
	at(car.LiquidLine, car.PartLiquidLine)
	if l.Car.HighPort != car.PortDischarge {
		high()
	}
	if drier := l.drier(); drier != "" {
		add(drier, car.PartLiquidLine, "", "")
	}
	add(l.metering(), car.PartMetering, "", "")
	read, sound = l.boils(o, car.Low, "chart.loop.boils")
	add("evaporator", car.PartEvaporator, read, sound)
	if l.Car.Evaporators == 2 {
		add("evaporator_2", car.PartEvaporator, "", "")
	}
	at(car.Vent, "")
	if accumulator := l.accumulator(); accumulator != "" {
		add(accumulator, car.PartSuctionLine, "", "")
	}
	at(car.Low, car.PartPorts)
	at(car.SuctionLine, car.PartSuctionLine)
	if l.numbers(car.PartRefrigerant) != "" {
		add("refrigerant", car.PartRefrigerant, "", "")
	}
	return list
}

// An expansion valve comes with a drier in the liquid line, an orifice tube with an
// accumulator; where the device is not known both are drawn, dashed. The names of what is
// there, "" for what is not:

func (l *Of) drier() string {
	return [...]string{car.MeteringUnknown: "drier_if", car.OrificeTube: "", car.ExpansionValve: "drier"}[l.Car.Metering]
}

func (l *Of) accumulator() string {
	return [...]string{car.MeteringUnknown: "accumulator_if", car.OrificeTube: "accumulator", car.ExpansionValve: ""}[l.Car.Metering]
}

func (l *Of) metering() string {
	return [...]string{car.MeteringUnknown: "metering", car.OrificeTube: "orifice_tube", car.ExpansionValve: "expansion_valve"}[l.Car.Metering]
}

func placeName(w chart.Words, name string) string { return w("chart.loop.place." + name) }

func orMissing(w chart.Words, s string) string {
	if s == "" {
		return w("number.missing")
	}
	return s
}

// texts are what was read of q, "" where nothing was, and what sound cars show.
func (l *Of) texts(o *chart.Options, q car.Quantity) (read, sound string) {
	w, k := o.Writer(), q.Info().Kind
	p := l.point(q)
	if p.Quantity != "" {
		sound = w.Range(p.Sound.Lo, p.Sound.Hi, k)
	}
	r, ok := l.Read[q]
	switch {
	case !ok:
	case r.Swing:
		read = w.ReadingRange(r.Lo, r.Hi, k)
	case r.AtLeast:
		read = o.Words("number.at_least", "value", w.ReadingText(r.Value, k))
	case r.AtMost:
		read = o.Words("number.at_most", "value", w.ReadingText(r.Value, k))
	default:
		read = w.ReadingText(r.Value, k)
	}
	return read, sound
}

// boils are the saturation temperatures under a needle, that of the reading in the words
// of key.
func (l *Of) boils(o *chart.Options, q car.Quantity, key string) (read, sound string) {
	w, p := o.Writer(), l.point(q)
	text := func(i car.Interval) string {
		if i.Lo == i.Hi {
			return w.Quantity(i.Lo, unit.Temperature)
		}
		return w.Range(i.Lo, i.Hi, unit.Temperature)
	}
	if p.SoundBoils != (car.Interval{}) {
		sound = text(p.SoundBoils)
	}
	if p.Boils != (car.Interval{}) {
		read = o.Words(key, "temperature", text(p.Boils))
	}
	return read, sound
}

// accused says what a suspect concerns.
func (l *Of) accused(w chart.Words, s Suspect) string {
	name := w.Condition(s.ID)
	if len(s.Parts) == 0 {
		return w("chart.loop.concerns_none", "condition", name, "chance", s.Chance)
	}
	parts := make([]string, len(s.Parts))
	for i, p := range s.Parts {
		parts[i] = w("chart.loop.part." + string(p))
	}
	return w("chart.loop.concerns", "condition", name, "chance", s.Chance, "parts", w.List(parts))
}

// suspected are the places in Suspects of those that concern the part.
func (l *Of) suspected(part car.Part) (list []int) {
	for i, s := range l.Suspects {
		if part != "" && slices.Contains(s.Parts, part) {
			list = append(list, i)
		}
	}
	return list
}

// names are the suspects of a part as the list of them has them.
func (l *Of) names(w chart.Words, part car.Part) (names []string) {
	for _, i := range l.suspected(part) {
		names = append(names, numbered(w, i, l.Suspects[i]))
	}
	return names
}

func numbered(w chart.Words, i int, s Suspect) string {
	return w("chart.loop.suspect", "n", i+1, "condition", w.Condition(s.ID), "chance", s.Chance)
}

// numbers are those of the suspects of a part, as its badge has them.
func (l *Of) numbers(part car.Part) string {
	text := ""
	for _, i := range l.suspected(part) {
		text += " " + strconv.Itoa(i+1)
	}
	return strings.TrimSpace(text)
}
