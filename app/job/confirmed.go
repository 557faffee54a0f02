package job

import (
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"time"

	"twoneedles/refrig/car"
)

// ConfirmedCase is a car whose condition was found at the car, not guessed from the gauges.
type ConfirmedCase struct {
	At    time.Time // the day it was confirmed
	Of    car.Case
	Found car.ConditionID
	After bool // sound, read after a repair that was proved
}

// Confirmed are the confirmed cases of the job: none before the cause was confirmed.
func (j Job) Confirmed() []ConfirmedCase {
	if j.Repair.FoundAt.IsZero() || j.Repair.Cause == "" {
		return nil
	}
	before, _ := j.Case()
	out := []ConfirmedCase{{At: j.Repair.FoundAt, Of: before, Found: car.ConditionID(j.Repair.Cause)}}
	if j.After.Sound {
		after, _ := j.CaseAfter()
		out = append(out, ConfirmedCase{At: j.Repair.FoundAt, Of: after, Found: car.Healthy, After: true})
	}
	return out
}

// Teaches are the cases of the job that tell how cars are here: those confirmed, or else
// the visits that were marked as of a car in order. What is invented teaches nothing.
func (j Job) Teaches() []ConfirmedCase {
	if j.Example != "" {
		return nil
	}
	out := j.Confirmed()
	if out != nil {
		return out
	}
	j.eachSound(func(_ string, _ Visit, c car.Case) {
		out = append(out, ConfirmedCase{At: j.Created, Of: c, Found: car.Healthy, After: true})
	})
	return out
}

// ConfirmedCSV writes confirmed cases to be judged and learnt from together with those of
// others, in the columns that refrig/learn reads. A month stands for the date; no name, no
// place, no note goes along.
func ConfirmedCSV(cases []ConfirmedCase) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Write([]string{"month", "refrigerant", "metering", "compressor", "outside_C", "humidity_percent", "altitude_m", "rpm", "low_kPa", "high_kPa", "vent_C", "found", "after"})
	for _, k := range cases {
		c := &k.Of
		known := func(x float64, ok bool) string {
			if !ok {
				return ""
			}
			return rounded(x)
		}
		after := ""
		if k.After {
			after = "yes"
		}
		w.Write([]string{
			k.At.Format("2006-01"), c.Car.Refrigerant, c.Car.Metering.Code(), c.Car.Compressor.Code(),
			rounded(c.Weather.Ambient - 273.15), known(100*c.Weather.Humidity, c.Weather.HumidityKnown),
			known(c.Weather.Altitude, c.Weather.Altitude != 0), known(c.Running.RPM, c.Running.RPMKnown),
			written(c.Readings, car.Low, 1e-3, 0), written(c.Readings, car.High, 1e-3, 0), written(c.Readings, car.Vent, 1, -273.15),
			string(k.Found), after,
		})
	}
	w.Flush()
	return b.String()
}

// written is a reading in the unit of its column. A bound is no number, and the file has
// no swing of a temperature.
func written(read car.Readings, q car.Quantity, scale, shift float64) string {
	r, ok := read[q]
	switch {
	case !ok || r.AtLeast || r.AtMost || r.Swing && q == car.Vent:
		return ""
	case r.Swing:
		return rounded(scale*r.Lo+shift) + "/" + rounded(scale*r.Hi+shift)
	}
	return rounded(scale*r.Value + shift)
}

// rounded has one decimal, finer than any gauge.
func rounded(x float64) string { return strconv.FormatFloat(math.Round(10*x)/10, 'f', -1, 64) }
