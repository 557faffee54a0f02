package job

import (
	"time"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// SoundVisit is a visit of a car that was in order then: a ruler for the same car later.
type SoundVisit struct {
	Name  string    // of the visit, for Job.LeftOut
	At    time.Time // the day of its job
	Typed Visit     // as it was read, in Units
	Units unit.Units
	Is    car.Visit // Months are to be counted by whoever compares
}

// SoundVisits are the visits of the job that are marked as of a car in order.
func (j Job) SoundVisits() []SoundVisit {
	var out []SoundVisit
	add := func(name string, v Visit, c car.Case) {
		out = append(out, SoundVisit{Name: j.ID + "." + name, At: j.Created, Typed: v, Units: j.Units, Is: car.Visit{
			Refrigerant: c.Car.Refrigerant, Weather: c.Weather, Running: c.Running, Rest: c.Rest, Readings: c.Readings,
			Charge: j.chargeAtLeaving(c.Car.LabelCharge),
		}})
	}
	if j.Before.Sound && j.Before.Engine != EngineOff { // at rest the needles are no ruler of a running car
		c, _ := j.Case()
		add("before", j.Before, c)
	}
	if j.After.Sound {
		c, _ := j.CaseAfter()
		add("after", j.After, c)
	}
	return out
}

// chargeAtLeaving is the charge weighed in as a share of the label, 0 if nobody weighed
// it. A mass far from the label is a part of a charge, of which nothing follows.
func (j Job) chargeAtLeaving(label float64) float64 {
	r := &reader{units: j.Units}
	e, ok := r.optional(present.MassIn, j.Text[present.MassIn])
	if !ok || label == 0 || e.Value < 0.8*label || e.Value > 1.2*label { // judgement
		return 0
	}
	return e.Value / label
}

// Months is the time between two days in months of a mean year.
func Months(from, to time.Time) float64 { return to.Sub(from).Hours() / 24 / 30.44 }
