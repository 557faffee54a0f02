package job

import (
	"strconv"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// WithUnits returns j with another choice of units. Every text that does not
// name its own unit is rewritten so that it goes on meaning the same; text that
// cannot be read stays as it is.
func (j Job) WithUnits(u unit.Units) Job {
	from := j.Units
	return j.Retyped(u, func(_ string, f present.Field, text string) string {
		return present.Retype(text, f.Kind, from.For(f.Kind), u.For(f.Kind))
	})
}

// Retyped returns j with another choice of units and every text as retype writes it.
// name is the same for the same text of a job, and another for every other.
func (j Job) Retyped(u unit.Units, retype func(name string, f present.Field, text string) string) Job {
	j = j.Clone()
	j.Units = u
	rewrite := func(where string, id present.FieldID, text string) string {
		if f := field(id); text != "" && f.Kind != unit.Choice {
			return retype(where+string(id), f, text)
		}
		return text
	}
	for id, text := range j.Text {
		j.Text[id] = rewrite("", id, text)
	}
	for where, v := range map[string]Visit{"before ": j.Before, "after ": j.After} {
		for id, text := range v.Text {
			v.Text[id] = rewrite(where, id, text)
		}
		for q, r := range v.Readings {
			id := present.FieldID(q)
			r.Text, r.Lo, r.Hi = rewrite(where, id, r.Text), rewrite(where+"lo ", id, r.Lo), rewrite(where+"hi ", id, r.Hi)
			v.Readings[q] = r
		}
		for i, l := range v.Log.Points {
			at := where + "log " + strconv.Itoa(i) + " "
			v.Log.Points[i] = LogPoint{rewrite(at, present.HoldTime, l.Time), rewrite(at, present.FieldID(car.Low), l.Low),
				rewrite(at, present.FieldID(car.High), l.High), rewrite(at, present.FieldID(car.Vent), l.Vent)}
		}
	}
	for i, h := range j.Repair.Hold {
		where := "hold " + strconv.Itoa(i) + " "
		j.Repair.Hold[i] = HoldPoint{rewrite(where, present.HoldTime, h.Time), rewrite(where, present.HoldPressure, h.Pressure)}
	}
	for i, r := range j.Table {
		where := "table " + strconv.Itoa(i) + " "
		j.Table[i] = TableRow{rewrite(where, present.Ambient, r.Ambient), rewrite(where, present.ServiceLow, r.Low),
			rewrite(where, present.ServiceHigh, r.High), rewrite(where, present.FieldID(car.Vent), r.Vent)}
	}
	return j
}
