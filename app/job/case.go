package job

import (
	"math"
	"slices"
	"strings"

	"twoneedles/app/present"
	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// Defaults for what was not typed, shown as such. The ambient temperature has
// none: it moves the answer too much to be guessed.
const (
	defaultHumidity = 0.5  // judgement: middle of what summer brings
	defaultRPM      = 1500 // speed of the published vent check [USArmy387]
	defaultBlower   = 1.0  // common practice: test with the blower at its highest setting
)

// SightGlassChoices are the answers to what the sight glass shows.
var SightGlassChoices = []string{"clear", "bubbles", "foam", "none"}

// Quantities lists every reading in the order a form asks for them.
var Quantities = car.Quantities()

// reader collects problems while typed text becomes numbers.
type reader struct {
	units    unit.Units
	after    bool
	problems []present.Problem
}

// Case returns what was typed before the repair as the model's case, and every
// input that is missing, assumed, doubtful or refused. A refused input is left
// out of the case; a doubtful one is in it as typed. Nothing in j changes.
func (j Job) Case() (car.Case, []present.Problem) { return j.build(j.Before, false) }

// CaseAfter is [Job.Case] for the visit after the repair. Weather and running
// that were not typed again are taken from before the repair.
func (j Job) CaseAfter() (car.Case, []present.Problem) {
	v := j.After.clone()
	for id, text := range j.Before.Text {
		if v.Text[id] == "" {
			v.SetText(id, text)
		}
	}
	return j.build(v, true)
}

func (j Job) build(v Visit, after bool) (car.Case, []present.Problem) {
	r := &reader{units: j.Units, after: after}
	c := car.Case{Car: j.Car.spec(), Readings: car.Readings{}}
	if e, ok := r.optional(present.LabelCharge, j.Text[present.LabelCharge]); ok {
		c.Car.LabelCharge = e.Value
	}
	c.Weather, c.Running = r.weather(v), r.running(v)
	c.Service.Low = r.service(present.ServiceLow, j.Text[present.ServiceLow])
	c.Service.High = r.service(present.ServiceHigh, j.Text[present.ServiceHigh])
	j.maker(&c)
	for _, q := range Quantities {
		if reading, ok := r.reading(q, v.Readings[q], c.Car.LabelCharge); ok {
			c.Readings[q] = reading
		}
	}
	if _, ok := c.Readings[car.Resting]; ok && !after { // the check at rest is made once, before anything is done
		if e, ok := r.optional(present.Soak, j.Text[present.Soak]); ok {
			c.Rest = car.Rest{Temperature: e.Value, Soaked: j.Repair.Soaked}
		}
	}
	r.depth(c)
	r.sides(c)
	return c, r.problems
}

// spec takes what is no code for unknown.
func (k Car) spec() car.Spec {
	s := car.Spec{Refrigerant: k.Refrigerant, Evaporators: k.Evaporators}
	s.Metering, _ = car.MeteringOf(k.Metering)
	s.Compressor, _ = car.CompressorOf(k.Compressor)
	s.HighPort, _ = car.HighPortOf(k.HighPort)
	s.Size, _ = car.SizeOf(k.Size)
	return s
}

func (r *reader) weather(v Visit) car.Weather {
	var w car.Weather
	if e, ok := r.optional(present.Ambient, v.Text[present.Ambient]); ok {
		w.Ambient = e.Value
	} else if blank(v.Text[present.Ambient]) {
		r.note(present.Ambient, present.Empty, present.Missing, nil)
	}
	w.Humidity, w.HumidityKnown = r.orDefault(present.Humidity, v, defaultHumidity)
	w.Altitude, _ = r.orDefault(present.Altitude, v, 0)
	return w
}

func (r *reader) running(v Visit) car.Running {
	run := car.Running{Recirc: v.Recirc}
	run.Doors, _ = car.DoorsOf(v.Doors)
	run.RPM, run.RPMKnown = r.orDefault(present.EngineSpeed, v, defaultRPM)
	run.Blower, _ = r.orDefault(present.Blower, v, defaultBlower)
	return run
}

func blank(s string) bool { return strings.TrimSpace(s) == "" }

func field(id present.FieldID) present.Field {
	f, ok := present.FieldOf(id)
	if !ok {
		panic("job: no field " + string(id))
	}
	return f
}

// optional reads a field that may be empty; ok is false if there is no number.
func (r *reader) optional(id present.FieldID, text string) (e present.Entry, ok bool) {
	if blank(text) {
		return present.Entry{}, false
	}
	e, p := present.Read(text, field(id), r.units)
	if p != nil {
		p.After = r.after
		r.problems = append(r.problems, *p)
	}
	return e, p == nil || p.Level != present.Refused
}

// orDefault reads a field of the visit; a default that stands in is noted, for
// an empty field as for a refused one.
func (r *reader) orDefault(id present.FieldID, v Visit, def float64) (value float64, known bool) {
	if e, ok := r.optional(id, v.Text[id]); ok {
		return e.Value, true
	}
	amount := present.Amount{Value: def, Kind: field(id).Kind}
	r.note(id, present.DefaultUsed, present.Assumed, map[string]any{"value": amount})
	return def, false
}

func (r *reader) note(id present.FieldID, code string, level present.Level, args map[string]any, s ...present.Suggestion) {
	r.problems = append(r.problems, present.Problem{Field: id, After: r.after, Code: code, Level: level, Args: args, Suggest: s})
}

func (r *reader) service(id present.FieldID, text string) car.Interval {
	e, ok := r.optional(id, text)
	if !ok {
		return car.Interval{}
	}
	if !e.Swing { // one number is no band to lie in
		r.note(id, present.NeedsRange, present.Refused, nil)
		return car.Interval{}
	}
	return car.Interval{Lo: e.Lo, Hi: e.Hi}
}

func (r *reader) reading(q car.Quantity, typed Reading, label float64) (car.Reading, bool) {
	id := present.FieldID(q)
	if q == car.SightGlass {
		return r.choice(id, typed.Choice)
	}
	text := typed.Text
	if typed.Swing {
		return r.swing(id, typed)
	}
	e, ok := r.optional(id, text)
	if !ok {
		if blank(text) && (q == car.Low || q == car.High) {
			r.note(id, present.Empty, present.Missing, nil)
		}
		return car.Reading{}, false
	}
	out := car.Reading{Value: e.Value, Swing: e.Swing, AtLeast: e.AtLeast, AtMost: e.AtMost}
	if e.Swing {
		out.Lo, out.Hi = e.Lo, e.Hi
	}
	if q == car.Recovered { // the model wants it as a share of the label charge
		return r.share(id, out, label)
	}
	return out, true
}

// maxShare is the most a system can hold of its label charge: a condenser, an
// evaporator and lines full of liquid (judgement).
const maxShare = 3.0

func (r *reader) share(id present.FieldID, mass car.Reading, label float64) (car.Reading, bool) {
	switch {
	case label == 0:
		r.note(id, present.NoLabelCharge, present.Assumed, nil)
		return car.Reading{}, false
	case mass.Value > maxShare*label:
		r.note(id, present.AboveLimit, present.Refused, map[string]any{
			"value": present.Amount{Value: mass.Value, Kind: unit.Mass},
			"limit": present.Amount{Value: maxShare * label, Kind: unit.Mass},
		})
		return car.Reading{}, false
	}
	mass.Value /= label
	return mass, true
}

func (r *reader) choice(id present.FieldID, c string) (car.Reading, bool) {
	if c == "" {
		return car.Reading{}, false
	}
	if !slices.Contains(SightGlassChoices, c) {
		r.note(id, present.BadChoice, present.Refused, map[string]any{"text": c})
		return car.Reading{}, false
	}
	return car.Reading{Choice: c}, true
}

// swing reads the two ends of a needle that swings. One end alone is used as a
// steady reading, because it says something and the other is still to come.
func (r *reader) swing(id present.FieldID, typed Reading) (car.Reading, bool) {
	lo, okLo := r.optional(id, typed.Lo)
	hi, okHi := r.optional(id, typed.Hi)
	switch {
	case !okLo && !okHi:
		if blank(typed.Lo) && blank(typed.Hi) {
			r.note(id, present.Empty, present.Missing, nil)
		}
		return car.Reading{}, false
	case !okLo:
		lo = hi
	case !okHi:
		hi = lo
	}
	a, b := min(lo.Lo, hi.Lo), max(lo.Hi, hi.Hi)
	out := car.Reading{Value: a + (b-a)/2}
	if a < b {
		out.Lo, out.Hi, out.Swing = a, b, true
	}
	return out, true
}

// depth asks about a vacuum deeper than the air at this altitude allows, which
// a zero that is off or a wrong altitude explains, and takes it for a perfect
// vacuum.
func (r *reader) depth(c car.Case) {
	floor := -float64(air.AtmosphericPressure(c.Weather.Altitude))
	for _, q := range Quantities {
		if field(present.FieldID(q)).Kind != unit.GaugePressure {
			continue
		}
		have, ok := c.Readings[q]
		if !ok || min(have.Value, have.Lo) >= floor {
			continue
		}
		r.note(present.FieldID(q), present.VacuumTooDeep, present.Asked, map[string]any{
			"value": present.Amount{Value: min(have.Value, have.Lo), Kind: unit.GaugePressure},
			"limit": present.Amount{Value: floor, Kind: unit.GaugePressure},
		})
		have.Value = max(have.Value, floor)
		if have.Swing {
			have.Lo, have.Hi = max(have.Lo, floor), max(have.Hi, floor)
		}
		c.Readings[q] = have
	}
}

// sides asks about a low side above the high side. Sides that meet are a
// reading like any other.
func (r *reader) sides(c car.Case) {
	low, okLow := c.Readings[car.Low]
	high, okHigh := c.Readings[car.High]
	// Two needles that stand together are in one unit, whatever the number alone looks
	// like: those of an empty car read next to nothing.
	const together = 35e3 // Pa, about 5 psi: judgement
	if okLow && okHigh && math.Abs(low.Value-high.Value) <= together {
		r.problems = slices.DeleteFunc(r.problems, func(p present.Problem) bool {
			return p.Code == present.PerhapsUnit && (p.Field == present.FieldID(car.Low) || p.Field == present.FieldID(car.High))
		})
	}
	const margin = 20e3 // Pa: below a gauge's own error, judgement
	if !okLow || !okHigh || low.Value <= high.Value+margin {
		return
	}
	r.note(present.FieldID(car.Low), present.LowAboveHigh, present.Asked, map[string]any{
		"low":  present.Amount{Value: low.Value, Kind: unit.GaugePressure},
		"high": present.Amount{Value: high.Value, Kind: unit.GaugePressure},
	}, present.Suggestion{Code: present.SwapSides})
}
