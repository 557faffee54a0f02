package chart

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// LoopOf is what the picture of the loop shows.
type LoopOf struct {
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

// Loop draws the refrigerant's way round: compressor, condenser, drier or accumulator,
// valve or tube, evaporator and both ports, at each place what was read there and below
// it what sound cars show. A part that a suspect concerns has the suspect's number and a
// frame, unbroken for the first and broken for the others.
func Loop(l LoopOf, o Options) (Figure, error) {
	if err := o.check(); err != nil {
		return Figure{}, err
	}
	if len(l.Points) == 0 {
		return Figure{}, errors.New("chart: no points of the loop")
	}
	if err := l.check(); err != nil {
		return Figure{}, err
	}
	places := l.places(o)
	t := Table{
		Caption: o.Words("chart.loop.title"),
		Head:    []string{o.Words("chart.col.state"), o.Words("chart.col.read"), o.Words("chart.col.sound"), o.Words("chart.col.may")},
	}
	var said []string
	for _, s := range l.Suspects {
		said = append(said, l.accused(o, s))
	}
	for _, p := range places {
		switch {
		case p.read != "":
			said = append(said, o.Words("chart.loop.says", "place", p.name, "read", p.read, "sound", p.sound))
		case p.sound != "":
			said = append(said, o.Words("chart.loop.sound", "place", p.name, "sound", p.sound))
		}
		t.Rows = append(t.Rows, []string{p.name, o.orMissing(p.read), o.orMissing(p.sound), o.orMissing(o.list(l.names(o, p.part)))})
	}
	summary := o.sentences(said...)
	return o.finish(drawLoop(l, o, summary), summary, t)
}

func (l LoopOf) check() error {
	intervals := func(k unit.Kind, list ...car.Interval) error {
		for _, i := range list {
			if k == unit.GaugePressure {
				if err := gaugesOK(i.Lo, i.Hi); err != nil {
					return err
				}
			} else if err := within("temperature", "K", minTemp, maxTemp, i.Lo, i.Hi); err != nil {
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
func (l LoopOf) point(q car.Quantity) diagnose.LoopPoint {
	for _, p := range l.Points {
		if p.Quantity == q {
			return p
		}
	}
	return diagnose.LoopPoint{}
}

// loopPlace is a row of the table: a part, or where a gauge or thermometer is.
type loopPlace struct {
	name        string
	part        car.Part // whose suspects are named beside it
	read, sound string   // "" where there is none
}

// places are in the order of the refrigerant from the compressor on.
func (l LoopOf) places(o Options) (list []loopPlace) {
	add := func(name string, part car.Part, read, sound string) {
		list = append(list, loopPlace{o.loopName(name), part, read, sound})
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

func (l LoopOf) drier() string {
	return [...]string{car.MeteringUnknown: "drier_if", car.OrificeTube: "", car.ExpansionValve: "drier"}[l.Car.Metering]
}

func (l LoopOf) accumulator() string {
	return [...]string{car.MeteringUnknown: "accumulator_if", car.OrificeTube: "accumulator", car.ExpansionValve: ""}[l.Car.Metering]
}

func (l LoopOf) metering() string {
	return [...]string{car.MeteringUnknown: "metering", car.OrificeTube: "orifice_tube", car.ExpansionValve: "expansion_valve"}[l.Car.Metering]
}

func (o Options) loopName(name string) string { return o.Words("chart.loop.place." + name) }

func (o Options) orMissing(s string) string {
	if s == "" {
		return o.Words("number.missing")
	}
	return s
}

// texts are what was read of q, "" where nothing was, and what sound cars show.
func (l LoopOf) texts(o Options, q car.Quantity) (read, sound string) {
	w, k := o.writer(), q.Info().Kind
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
func (l LoopOf) boils(o Options, q car.Quantity, key string) (read, sound string) {
	w, p := o.writer(), l.point(q)
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
func (l LoopOf) accused(o Options, s Suspect) string {
	name := o.Words("chart.condition." + string(s.ID))
	if len(s.Parts) == 0 {
		return o.Words("chart.loop.concerns_none", "condition", name, "chance", s.Chance)
	}
	parts := make([]string, len(s.Parts))
	for i, p := range s.Parts {
		parts[i] = o.Words("chart.loop.part." + string(p))
	}
	return o.Words("chart.loop.concerns", "condition", name, "chance", s.Chance, "parts", o.list(parts))
}

// suspected are the places in Suspects of those that concern the part.
func (l LoopOf) suspected(part car.Part) (list []int) {
	for i, s := range l.Suspects {
		if part != "" && slices.Contains(s.Parts, part) {
			list = append(list, i)
		}
	}
	return list
}

// names are the suspects of a part as the list of them has them.
func (l LoopOf) names(o Options, part car.Part) (names []string) {
	for _, i := range l.suspected(part) {
		names = append(names, o.numbered(i, l.Suspects[i]))
	}
	return names
}

func (o Options) numbered(i int, s Suspect) string {
	return o.Words("chart.loop.suspect", "n", i+1, "condition", o.Words("chart.condition."+string(s.ID)), "chance", s.Chance)
}

// numbers are those of the suspects of a part, as its badge has them.
func (l LoopOf) numbers(part car.Part) string {
	text := ""
	for _, i := range l.suspected(part) {
		text += " " + strconv.Itoa(i+1)
	}
	return strings.TrimSpace(text)
}
