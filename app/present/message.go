package present

import (
	"errors"
	"sort"

	"twoneedles/refrig"
)

// Message is a sentence in three parts: what happened, why, what to do next.
type Message struct {
	What, Why, Next string
	Suggest         []Offer
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
// by name; the name's ending tells the kind (warningKinds).
func (v Voice) Warning(w refrig.Warning) Message {
	args := map[string]any{}
	for name, si := range w.Args {
		args[name] = v.argument(name, si)
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
			"quantity": r.Quantity,
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
			if q.Unit == "" || q.Unit == InHg && q.Value >= 0 {
				q.Unit = v.unitFor(q.Value, q.Kind)
			}
			a = v.quantityIn(q.Value, q.Unit)
		}
		out[name] = a
	}
	return out
}

// inModelUnit says a value of the model, whose unit is K, Pa or none.
func (v Voice) inModelUnit(x float64, unit string) string {
	switch unit {
	case "K":
		return v.Quantity(x, Temperature)
	case "Pa":
		return v.quantityIn(x, v.absolute())
	case "":
		return v.sign(number(x, 3))
	}
	return v.Words.T("number.with_unit", "number", v.sign(number(x, 3)), "unit", unit)
}

// absolute is the user's pressure unit, for a pressure that is no gauge reading.
func (v Voice) absolute() Unit { return v.Units.Pressure }

// warningKinds tells what an argument of a warning is by its name.
var warningKinds = map[string]Kind{
	"low": GaugePressure, "high": GaugePressure, "pressure": GaugePressure, "limit": GaugePressure, "saturation": GaugePressure,
	"ambient": Temperature, "temperature": Temperature, "vent": Temperature, "evaporating": Temperature,
	"humidity": Fraction, "chance": 0,
	"altitude": Length, "rpm": Speed, "mass": Mass, "charge": Mass,
}

func (v Voice) argument(name string, si float64) string {
	k, ok := warningKinds[name]
	switch {
	case name == "chance":
		return v.Words.Chance(si)
	case !ok:
		return v.sign(number(si, 3))
	}
	return v.Quantity(si, k)
}

// WarningArgs lists the names of warning arguments that are shown with a unit.
func WarningArgs() []string {
	var names []string
	for n := range warningKinds {
		names = append(names, n)
	}
	sort.Strings(names)
	return names
}
