package job

import (
	"cmp"
	"slices"
	"time"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// SoundVisit is a visit of a car that was in order then: a ruler for the same car later.
type SoundVisit struct {
	Name  string    // of the visit, for Job.LeftOut
	At    time.Time // the day of its job, zero where that is not known
	Typed Visit     // as it was read, in Units
	Units unit.Units
	Is    car.Visit // Months are those before the job of Job.Earlier
}

// SoundVisits are the visits of the job that are marked as of a car in order.
func (j Job) SoundVisits() []SoundVisit {
	var out []SoundVisit
	j.eachSound(func(name string, v Visit, c car.Case) {
		out = append(out, SoundVisit{Name: j.ID + "." + name, At: j.Created, Typed: v, Units: j.Units, Is: car.Visit{
			Refrigerant: c.Car.Refrigerant, Weather: c.Weather, Running: c.Running, Rest: c.Rest, Readings: c.Readings,
			Charge: j.chargeAtLeaving(c.Car.LabelCharge),
		}})
	})
	return out
}

// eachSound calls f with each visit that is marked as of a car in order.
func (j Job) eachSound(f func(name string, v Visit, c car.Case)) {
	if j.Before.Sound && j.Before.Engine != EngineOff { // at rest the needles are no ruler of a running car
		c, _ := j.Case()
		f("before", j.Before, c)
	}
	if j.After.Sound {
		c, _ := j.CaseAfter()
		f("after", j.After, c)
	}
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

// month is one of a mean year.
const month = 30.44 * 24 * float64(time.Hour)

// day is that of the job; one that came by a link is of today.
func (j Job) day() time.Time {
	if j.Created.IsZero() {
		return time.Now()
	}
	return j.Created
}

// MonthsBefore is by how many months j came before other.
func (j Job) MonthsBefore(other Job) float64 { return float64(other.day().Sub(j.day())) / month }

// Earlier are the visits before the job that may be rulers for it: those of the same car
// and those that came along with it, the latest first.
func (j Job) Earlier(sound []SoundVisit) []SoundVisit {
	out := j.sent()
	for _, v := range sound {
		if v.Is.Months = float64(j.day().Sub(v.At)) / month; v.Is.Months >= 0 {
			out = append(out, v)
		}
	}
	slices.SortStableFunc(out, func(a, b SoundVisit) int { return cmp.Compare(a.Is.Months, b.Is.Months) })
	return out
}
