package job

import (
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// WithUnits returns j with another choice of units. Every text that does not
// name its own unit is rewritten so that it goes on meaning the same; text that
// cannot be read stays as it is.
func (j Job) WithUnits(u unit.Units) Job {
	from := j.Units
	j = j.Clone()
	j.Units = u
	retype := func(id present.FieldID, text string) string {
		k := field(id).Kind
		if text == "" || k == unit.Choice {
			return text
		}
		return present.Retype(text, k, from.For(k), u.For(k))
	}
	for id, text := range j.Text {
		j.Text[id] = retype(id, text)
	}
	for _, v := range []Visit{j.Before, j.After} {
		for id, text := range v.Text {
			v.Text[id] = retype(id, text)
		}
		for q, r := range v.Readings {
			v.Readings[q] = r.retyped(q, retype)
		}
	}
	for i, h := range j.Repair.Hold {
		j.Repair.Hold[i] = HoldPoint{retype(present.HoldTime, h.Time), retype(present.HoldPressure, h.Pressure)}
	}
	return j
}

func (r Reading) retyped(q car.Quantity, retype func(present.FieldID, string) string) Reading {
	id := present.FieldID(q)
	r.Text, r.Lo, r.Hi = retype(id, r.Text), retype(id, r.Lo), retype(id, r.Hi)
	return r
}
