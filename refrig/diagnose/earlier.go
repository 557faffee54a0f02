package diagnose

import (
	"fmt"
	"math"

	"twoneedles/refrig"
	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
)

// EarlierError says that an earlier visit of a case is no ruler for it. Err, found
// through wrapping with [errors.As], is the limit or the choice that was missed, nil
// where the reason says all.
type EarlierError struct {
	Visit  int // place in car.Case.Earlier
	Reason EarlierReason
	Err    error
}

// EarlierReason is why an earlier visit was refused.
type EarlierReason string

// The reasons.
const (
	EarlierWeather     EarlierReason = "weather"     // no outside temperature, or weather no car is read in
	EarlierRunning     EarlierReason = "running"     // an engine speed or a blower setting that cannot be
	EarlierRefrigerant EarlierReason = "refrigerant" // the car held another one
	EarlierSwing       EarlierReason = "swing"       // a needle that swung
	EarlierReading     EarlierReason = "reading"     // no reading, or one that no instrument can show
	EarlierMonths      EarlierReason = "months"      // in the future, or longer ago than cars have had air conditioning
	EarlierCharge      EarlierReason = "charge"      // a weighed charge that is none
	EarlierTooMany     EarlierReason = "too_many"    // more visits than car.MostEarlier
)

func (e *EarlierError) Error() string {
	s := fmt.Sprintf("earlier visit %d: %s", e.Visit+1, e.Reason)
	if e.Err != nil {
		s += ": " + e.Err.Error()
	}
	return s
}

func (e *EarlierError) Unwrap() error { return e.Err }

// checkEarlier is the door for earlier visits. Today's car, weather and running have
// been checked.
func checkEarlier(c *car.Case) error {
	if len(c.Earlier) > car.MostEarlier {
		return &EarlierError{car.MostEarlier, EarlierTooMany, nil}
	}
	for i := range c.Earlier {
		if reason, err := checkVisit(&c.Earlier[i], c.Car.Refrigerant); reason != "" {
			return &EarlierError{i, reason, err}
		}
	}
	return nil
}

// CheckEarlier tells whether v can be a ruler for a car that holds the refrigerant today:
// whoever has many visits can leave out the others first. The error is an *[EarlierError].
func CheckEarlier(v car.Visit, refrigerant string) error {
	if reason, err := checkVisit(&v, refrigerant); reason != "" {
		return &EarlierError{0, reason, err}
	}
	return nil
}

// checkVisit returns why v is refused, "" if it is not. That it is an earlier visit says
// the [EarlierError] around.
func checkVisit(v *car.Visit, refrigerant string) (EarlierReason, error) {
	if v.Refrigerant != "" && refrigerant != "" && v.Refrigerant != refrigerant {
		return EarlierRefrigerant, &refrig.UnknownError{What: "refrigerant", Value: v.Refrigerant, Known: []string{refrigerant}}
	}
	if err := allWithin(weatherLimits(&v.Weather)); err != nil {
		return EarlierWeather, err
	}
	if err := allWithin(runningLimits(&v.Running)); err != nil {
		return EarlierRunning, err
	}
	if err := within(refrig.RangeError{Quantity: "months since then", Value: v.Months, Min: 0, Max: 600, Source: "judgement"}); err != nil {
		return EarlierMonths, err
	}
	if err := allWithin(restLimits(&v.Rest)); err != nil {
		return EarlierWeather, err
	}
	if v.Charge != 0 {
		if err := within(refrig.RangeError{Quantity: "weighed charge", Value: v.Charge, Min: 0.5, Max: 1.5, Source: "judgement"}); err != nil {
			return EarlierCharge, err
		}
	}
	atm := float64(air.AtmosphericPressure(v.Weather.Altitude))
	read := 0
	for _, q := range quantities {
		r, ok := v.Readings[q]
		if !ok || q == car.SightGlass {
			continue
		}
		if steady := (car.Readings{q: r}).Steadied()[q]; steady.Swing {
			return EarlierSwing, &refrig.UnknownError{What: string(q), Value: "swings", Known: []string{"steady"}}
		}
		if r.Swing {
			r.Value = (r.Lo + r.Hi) / 2
		}
		lo, hi, unit := q.Limits(atm)
		if err := within(refrig.RangeError{Quantity: string(q), Value: r.Value, Min: math.Nextafter(lo-1, lo), Max: hi, Unit: unit, Source: "judgement"}); err != nil {
			return EarlierReading, err
		}
		read++
	}
	if read == 0 {
		return EarlierReading, &refrig.RangeError{Quantity: "number of readings", Min: 1, Max: float64(len(quantities)), Source: "judgement"}
	}
	return "", nil
}
