package present

import (
	"errors"
	"strings"

	"twoneedles/refrig"
	"twoneedles/refrig/unit"
)

// Message is a sentence in three parts: what happened, why, what to do next.
type Message struct {
	What, Why, Next string
	Suggest         []Offer
}

// Sentences sets its parts one after the other.
func (m Message) Sentences() string {
	s := m.What
	for _, part := range []string{m.Why, m.Next} {
		if part != "" {
			s += " " + part
		}
	}
	return s
}

// Offer is a suggestion in words; Text goes into the field if it is taken.
type Offer struct{ Words, Text string }

// Problem puts what is wrong or assumed about an input into words.
func (v Voice) Problem(p *Problem) Message {
	m := v.message("problem."+p.Code, v.args(p.Args))
	for _, s := range p.Suggest {
		m.Suggest = append(m.Suggest, Offer{v.Words.Text("suggest."+s.Code, v.args(s.Args)), s.Text})
	}
	return m
}

// Warning puts a reservation of the model into words. Arguments are SI values
// by name; warningKinds tells what they are.
func (v Voice) Warning(w refrig.Warning) Message {
	args := map[string]any{}
	for name, si := range w.Args {
		args[name] = v.argument(w.Code, name, si)
	}
	return v.message("warning."+w.Code, args)
}

// Error puts a failure into words. A failure that is none of the types the
// model promises gets the words of an unknown failure, never its own text.
func (v Voice) Error(err error) Message {
	var p *Problem
	if errors.As(err, &p) {
		return v.Problem(p)
	}
	var r *refrig.RangeError
	if errors.As(err, &r) {
		key := "error.range_low"
		if r.Value > r.Max {
			key = "error.range_high"
		}
		return v.message(key, map[string]any{
			"quantity": v.quantityName(r.Quantity),
			"value":    v.inModelUnit(r.Value, r.Unit),
			"min":      v.inModelUnit(r.Min, r.Unit),
			"max":      v.inModelUnit(r.Max, r.Unit),
		})
	}
	var c *refrig.ConvergenceError
	if errors.As(err, &c) {
		return v.message("error.convergence", map[string]any{"what": c.What})
	}
	var coded Coded
	if errors.As(err, &coded) {
		code, args := coded.Code()
		return v.message("error."+code, v.args(args))
	}
	return v.message("error.unknown", nil)
}

// Coded is an error that brings its own code and arguments, so that a package
// above this one can have its failures spoken: the words are error.<code>.
type Coded interface {
	error
	Code() (string, map[string]any)
}

func (v Voice) message(key string, args map[string]any) Message {
	return Message{
		What: v.Words.Text(key+".what", args),
		Why:  v.Words.Text(key+".why", args),
		Next: v.Words.Text(key+".next", args),
	}
}

// args replaces every [Amount] by its text.
func (v Voice) args(in map[string]any) map[string]any {
	out := make(map[string]any, len(in))
	for name, a := range in {
		if q, ok := a.(Amount); ok {
			// A limit above zero is not said in inches of vacuum.
			if q.Unit == "" || q.Unit == unit.InHg && q.Value >= 0 {
				q.Unit = v.Units.ForValue(q.Value, q.Kind)
			}
			a = v.writer().QuantityIn(q.Value, q.Unit)
		}
		out[name] = a
	}
	return out
}

// modelKinds tells the kind of a value of the model by its unit. Pressures of a
// RangeError are shown in the user's pressure unit, whether gauge or absolute.
var modelKinds = map[string]unit.Kind{
	"K": unit.Temperature, "Pa": unit.GaugePressure, "kg": unit.Mass, "m": unit.Length, "m³": unit.Volume, "s": unit.Duration, "1/min": unit.Speed,
}

// inModelUnit says a value of the model in the user's unit.
func (v Voice) inModelUnit(x float64, name string) string {
	if k, ok := modelKinds[name]; ok {
		return v.writer().QuantityIn(x, v.Units.For(k))
	}
	return v.writer().Plain(x)
}

// quantityName names what a RangeError is about: a reading by its own words,
// anything else by quantity_of.<its name>, and in the model's English if there are
// none, which is better than nothing.
func (v Voice) quantityName(name string) string {
	slug := strings.NewReplacer(" ", "_", "-", "_").Replace(name)
	for _, key := range []string{"quantity." + slug + ".name", "quantity_of." + slug} {
		if v.Words.Has(key) {
			return v.Words.Text(key, nil)
		}
	}
	return v.Words.T("quantity_of.other", "name", name)
}

// warningKinds tells what an argument of a warning is by its name, or by
// code.name where the same name means different things.
var warningKinds = map[string]unit.Kind{
	"low": unit.GaugePressure, "high": unit.GaugePressure, "above_relief.limit": unit.GaugePressure,
	"humidity": unit.Fraction, "fraction": unit.Fraction, "rpm": unit.Speed,
	"ambient_K": unit.Temperature, "coldest_K": unit.Temperature, "hottest_K": unit.Temperature, "vent_K": unit.Temperature, "coil_K": unit.Temperature, "suction_K": unit.Temperature, "saturation_K": unit.Temperature,
	"temperature": unit.Temperature, "cold_charge.at_least": unit.Temperature,
	"lo": unit.Temperature, "hi": unit.Temperature,
	"too_little_pressure_to_search.at_least": unit.GaugePressure,
	"error":                                  unit.AbsolutePressure, "sigma": unit.AbsolutePressure, "water": unit.AbsolutePressure,
	"tight_does_not_show_limit.limit": unit.MassRate,
	"mass":                            unit.Mass, "tolerance": unit.Mass,
	"oil": unit.Volume, "oil_sum": unit.Volume, "oil_label": unit.Volume, "oil_least": unit.Volume, "oil_most": unit.Volume,
}

func (v Voice) argument(code, name string, si float64) string {
	k, ok := warningKinds[code+"."+name]
	if !ok {
		k, ok = warningKinds[name]
	}
	if !ok {
		return v.writer().Plain(si) // a count, a ratio
	}
	return v.Quantity(si, k)
}
