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

// checkVisit returns why v is refused, "" if it is not.
func checkVisit(v *car.Visit, refrigerant string) (EarlierReason, error) {
	if v.Refrigerant != "" && refrigerant != "" && v.Refrigerant != refrigerant {
		return EarlierRefrigerant, &refrig.UnknownError{What: "refrigerant of an earlier visit", Value: v.Refrigerant, Known: []string{refrigerant}}
	}
	for _, k := range []struct {
		reason EarlierReason
		limit  refrig.RangeError
	}{
		{EarlierWeather, refrig.RangeError{Quantity: "outside temperature of an earlier visit", Value: v.Weather.Ambient, Min: 253.15, Max: 333.15, Unit: "K", Source: "judgement"}},
		{EarlierWeather, refrig.RangeError{Quantity: "relative humidity of an earlier visit", Value: v.Weather.Humidity, Min: 0, Max: 1, Source: "definition"}},
		{EarlierWeather, refrig.RangeError{Quantity: "altitude of an earlier visit", Value: v.Weather.Altitude, Min: -430, Max: 5000, Unit: "m", Source: "judgement"}},
		{EarlierRunning, refrig.RangeError{Quantity: "engine speed of an earlier visit", Value: v.Running.RPM, Min: 0, Max: 6000, Unit: "1/min", Source: "judgement"}},
		{EarlierRunning, refrig.RangeError{Quantity: "blower setting of an earlier visit", Value: v.Running.Blower, Min: 0.05, Max: 1, Source: "judgement"}},
		{EarlierRunning, refrig.RangeError{Quantity: "position of the doors of an earlier visit", Value: float64(v.Running.Doors), Max: float64(car.DoorsClosed), Source: "definition"}},
		{EarlierMonths, refrig.RangeError{Quantity: "months since an earlier visit", Value: v.Months, Min: 0, Max: 600, Source: "judgement"}},
	} {
		if err := within(k.limit); err != nil {
			return k.reason, err
		}
	}
	if v.Rest.Temperature != 0 {
		if err := within(refrig.RangeError{Quantity: "temperature at rest of an earlier visit", Value: v.Rest.Temperature, Min: 233.15, Max: 363.15, Unit: "K", Source: "judgement"}); err != nil {
			return EarlierWeather, err
		}
	}
	if v.Charge != 0 {
		if err := within(refrig.RangeError{Quantity: "charge weighed on an earlier visit", Value: v.Charge, Min: 0.5, Max: 1.5, Source: "judgement"}); err != nil {
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
			return EarlierSwing, &refrig.UnknownError{What: string(q) + " of an earlier visit", Value: "swings", Known: []string{"steady"}}
		}
		if r.Swing {
			r.Value = (r.Lo + r.Hi) / 2
		}
		lo, hi, unit := q.Limits(atm)
		if err := within(refrig.RangeError{Quantity: string(q) + " of an earlier visit", Value: r.Value, Min: math.Nextafter(lo-1, lo), Max: hi, Unit: unit, Source: "judgement"}); err != nil {
			return EarlierReading, err
		}
		read++
	}
	if read == 0 {
		return EarlierReading, &refrig.RangeError{Quantity: "number of readings of an earlier visit", Min: 1, Max: float64(len(quantities)), Source: "judgement"}
	}
	return "", nil
}
