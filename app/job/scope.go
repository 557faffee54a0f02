package job

import (
	"twoneedles/app/present"
	"twoneedles/refrig/car"
)

// Codes of the [Error] of a job that is not judged, with the words error.<code>.
const (
	OutR744    = "system_r744"
	OutPump    = "system_heat_pump"
	OutChiller = "system_battery_chiller"
	OutCoach   = "system_coach"
	OutLarge   = "system_large"
)

var outOfScope = map[string]string{car.CO2: OutR744, car.HeatPump: OutPump, car.BatteryChiller: OutChiller, car.Coach: OutCoach}

// LargestDiagnosed is the label charge in kg up to which readings are judged: cars and
// vans. The sums of a job reach further.
const LargestDiagnosed = 4.0

// Refused tells why the readings of this job are not judged: an *[Error], or nil. What is
// refused is recognised, and its hazard is said, before anything is coupled.
func (j Job) Refused() error {
	if code := outOfScope[j.Car.System]; code != "" {
		return &Error{What: code}
	}
	if e, ok, _ := j.Number(present.LabelCharge); ok && e.Value > LargestDiagnosed {
		return &Error{What: OutLarge}
	}
	return nil
}

// Shut tells that no work is led at all on this car, readings and sums.
func (j Job) Shut() bool { return outOfScope[j.Car.System] != "" }
