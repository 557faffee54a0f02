package diagnose

import (
	"maps"
	"math"

	"twoneedles/refrig"
	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/nets"
)

// check is the door of the model: it refuses a car, weather, running or figures of
// the vehicle that no car is diagnosed with. checkedReadings does so for readings.
// Behind them every number is finite and within its limits.
func check(c *car.Case) error {
	switch c.Car.Refrigerant {
	case "", car.R134a, car.R1234yf, car.R12:
	default:
		return &refrig.UnknownError{What: "refrigerant", Value: c.Car.Refrigerant, Known: []string{car.R134a, car.R1234yf, car.R12}}
	}
	for _, limits := range [][]refrig.RangeError{weatherLimits(&c.Weather), runningLimits(&c.Running), {
		{Quantity: "kind of metering", Value: float64(c.Car.Metering), Max: float64(car.ExpansionValve), Source: "definition"},
		{Quantity: "kind of compressor", Value: float64(c.Car.Compressor), Max: float64(car.Electric), Source: "definition"},
		{Quantity: "place of the high port", Value: float64(c.Car.HighPort), Max: float64(car.PortLiquid), Source: "definition"},
		{Quantity: "size", Value: float64(c.Car.Size), Max: float64(car.SizeLarge), Source: "definition"},
		{Quantity: "number of evaporators", Value: float64(c.Car.Evaporators), Max: 2, Source: "judgement"},
	}} {
		if err := allWithin(limits); err != nil {
			return err
		}
	}
	if c.Car.LabelCharge != 0 { // known; no car has less than a cupful
		if err := within(refrig.RangeError{Quantity: "label charge", Value: c.Car.LabelCharge, Min: 0.05, Max: 5, Unit: "kg", Source: "judgement"}); err != nil {
			return err
		}
	}
	if err := allWithin(restLimits(&c.Rest)); err != nil {
		return err
	}
	lo, hi, unit := car.High.Limits(float64(air.AtmosphericPressure(c.Weather.Altitude)))
	for _, f := range []struct {
		name string
		span car.Interval
	}{{"expected low side", c.Service.Low}, {"expected high side", c.Service.High}} {
		for _, v := range []float64{f.span.Lo, f.span.Hi} {
			if err := within(refrig.RangeError{Quantity: f.name, Value: v, Min: lo, Max: hi, Unit: unit, Source: "judgement"}); err != nil {
				return err
			}
		}
	}
	return checkEarlier(c)
}

// weatherLimits, runningLimits and restLimits hold today and on every earlier visit.
func weatherLimits(w *car.Weather) []refrig.RangeError {
	return []refrig.RangeError{
		{Quantity: "outside temperature", Value: w.Ambient, Min: 253.15, Max: 333.15, Unit: "K", Source: "judgement"},
		{Quantity: "relative humidity", Value: w.Humidity, Min: 0, Max: 1, Source: "definition"},
		{Quantity: "altitude", Value: w.Altitude, Min: -430, Max: 5000, Unit: "m", Source: "judgement"},
	}
}

func runningLimits(r *car.Running) []refrig.RangeError {
	return []refrig.RangeError{
		{Quantity: "engine speed", Value: r.RPM, Min: 0, Max: 6000, Unit: "1/min", Source: "judgement"},
		{Quantity: "blower setting", Value: r.Blower, Min: 0.05, Max: 1, Source: "judgement"},
		{Quantity: "position of the doors", Value: float64(r.Doors), Max: float64(car.DoorsClosed), Source: "definition"},
	}
}

func restLimits(r *car.Rest) []refrig.RangeError {
	if r.Temperature == 0 { // not taken
		return nil
	}
	// The limits of the field that asks for it.
	return []refrig.RangeError{{Quantity: "temperature at rest", Value: r.Temperature, Min: 233.15, Max: 363.15, Unit: "K", Source: "judgement"}}
}

// within returns e as an error if its value lies outside its limits or is no
// number; the error prints, whatever was typed.
func within(e refrig.RangeError) error {
	if e.Value >= e.Min && e.Value <= e.Max {
		return nil
	}
	if math.IsNaN(e.Value) || math.IsInf(e.Value, 0) {
		e.Value = math.Copysign(math.MaxFloat64, e.Value)
	}
	return &e
}

// allWithin is [within] for each of the limits.
func allWithin(limits []refrig.RangeError) error {
	for _, e := range limits {
		if err := within(e); err != nil {
			return err
		}
	}
	return nil
}

// checkedReadings returns the readings of c that say something, each with what its
// form leaves open filled in: a swing has its middle as value, a steady needle no
// ends. At least one is needed.
func checkedReadings(c *car.Case, sc *nets.Scaler) (car.Readings, error) {
	out := car.Readings{}
	for _, q := range quantities {
		r, ok := c.Readings[q]
		if !ok {
			continue
		}
		if q == car.SightGlass {
			switch r.Choice {
			case car.GlassClear, car.GlassBubbles, car.GlassFoam:
				out[q] = car.Reading{Choice: r.Choice}
			case car.GlassNone:
			default:
				return nil, &refrig.UnknownError{What: string(q), Value: r.Choice, Known: []string{car.GlassClear, car.GlassBubbles, car.GlassFoam, car.GlassNone}}
			}
			continue
		}
		lo, hi, unit := q.Limits(sc.Atm)
		ends := []float64{r.Value}
		if r.Swing {
			ends = []float64{r.Lo, r.Hi}
		}
		for _, v := range ends {
			if v < lo && v >= lo-1 { // 1 Pa: a perfect vacuum typed in inches rounds
				continue
			}
			if err := within(refrig.RangeError{Quantity: string(q), Value: v, Min: lo, Max: hi, Unit: unit, Source: "judgement"}); err != nil {
				return nil, err
			}
		}
		if r.Swing && r.Lo > r.Hi {
			return nil, &refrig.RangeError{Quantity: string(q) + " lowest", Value: r.Lo, Min: lo, Max: r.Hi, Unit: unit, Source: "definition"}
		}
		if r.Choice = ""; r.Swing {
			r.Value = (r.Lo + r.Hi) / 2
		} else {
			r.Lo, r.Hi = 0, 0
		}
		out[q] = r
	}
	if len(out) == 0 {
		return nil, &refrig.RangeError{Quantity: "number of readings", Value: 0, Min: 1, Max: float64(len(quantities)), Source: "judgement"}
	}
	return out, nil
}

// deepest is the vacuum, as a share of the atmosphere, to which the networks know their
// way: of 2,000 simulated cars with a blockage 14 drew more, none beyond 0.7. What a
// deeper one tells is how tight blockage and compressor are and not which fault it is: a
// sound compressor whose suction is shut draws 0.80 to 0.94 [USArmy291].
const deepest = 0.6

// known returns the readings as the networks know such: a low side in a deeper vacuum is
// one in the deepest they were shown.
func known(rs car.Readings, atm float64) car.Readings {
	least := -deepest * atm
	out := rs
	for _, q := range [...]car.Quantity{car.Low, car.LowIdle} {
		if r, ok := rs[q]; ok && min(r.Value, r.Lo, r.Hi) < least {
			r.Value, r.Lo, r.Hi = max(r.Value, least), max(r.Lo, least), max(r.Hi, least)
			out = maps.Clone(out) // what was read stays as it is
			out[q] = r
		}
	}
	return out
}

// Reading checks: limits of physics with a margin for instruments.
const (
	reliefPressure = 3.4e6 // Pa gauge; relief valves open at about 3.4…4.1 MPa (memory)
	equalBand      = 35e3  // Pa; two gauges on one pressure may differ by both their errors …
	swapBand       = 200e3 // … and two worn ones by this (sim.Instruments); swapped hoses differ by more
	ventMargin     = 4.0   // K; two thermometers and a gauge
	rejectMargin   = 3.0   // K
	fullCoil       = 10.0  // K; superheat below which the whole coil is wet
	coldCoil       = 15.0  // K below the outside air
	mostPast       = 0.75  // of the way from coil to outside air: what air past a wet coil keeps is a quarter to two fifths
	closedBand     = 12e3  // Pa from zero: a hose that sees nothing
)

// question lists what no car can show, or next to none: readings to look at before
// blaming the car.
func question(c *car.Case, sc *nets.Scaler) []refrig.Warning {
	var out []refrig.Warning
	ask := func(code string, args map[string]float64) { out = append(out, refrig.Warning{Code: code, Args: args}) }
	low, hasLow := c.Readings[car.Low]
	high, hasHigh := c.Readings[car.High]
	top, bottom := low.Value, low.Value
	if low.Swing {
		bottom, top = low.Lo, low.Hi
	}
	highTop := high.Value
	if high.Swing {
		highTop = high.Hi
	}
	if hasLow && hasHigh {
		switch {
		case math.Abs(low.Value) < closedBand && !low.Swing && high.Value > 700e3:
			ask("low_coupler", map[string]float64{"low": low.Value})
		case math.Abs(high.Value) < closedBand && !high.Swing && low.Value > 80e3:
			ask("high_coupler", map[string]float64{"high": high.Value})
		case top > highTop+swapBand:
			ask("hoses_swapped", map[string]float64{"low": top, "high": highTop})
		}
	}
	if hasHigh && highTop > reliefPressure {
		ask("above_relief", map[string]float64{"high": highTop, "limit": reliefPressure})
	}
	vent, hasVent := c.Readings[car.Vent]
	if hasVent && hasLow && !low.Swing {
		if coil := sc.TSat(bottom); vent.Value < coil-ventMargin {
			ask("vent_colder_than_coil", map[string]float64{"vent_K": vent.Value, "coil_K": coil})
		}
	}
	// Of 8,500 simulated cars, whose heaters are shut, 17 came within two thirds of the way.
	suction, hasSuction := c.Readings[car.SuctionLine]
	outside := !c.Running.Recirc || c.Running.Doors == car.DoorsOpen // what the coil breathes
	if hasVent && hasLow && hasSuction && !low.Swing && outside {
		coil, air := sc.TSat(bottom), c.Weather.Ambient
		if suction.Value < coil+fullCoil && coil < air-coldCoil && vent.Value > coil+mostPast*(air-coil) {
			ask("heat_behind_coil", map[string]float64{"vent_K": vent.Value, "suction_K": suction.Value})
		}
	}
	if hasHigh && hasLow && !high.Swing && highTop > top+3*equalBand {
		if t := sc.TSat(highTop); t < c.Weather.Ambient-rejectMargin && highTop > closedBand {
			ask("high_below_ambient", map[string]float64{"saturation_K": t, "ambient_K": c.Weather.Ambient})
		}
	}
	return out
}

// doubt lists the questions about what was typed that the readings give reason to
// ask, from the probabilities of doubts.
func doubt(p []float64) []refrig.Warning {
	var out []refrig.Warning
	for i, d := range nets.Doubts {
		if p[i] >= d.From {
			out = append(out, d.Ask)
		}
	}
	return out
}

// isImpossible tells whether no car gives the readings that a question is about. A closed
// coupler and a wrong gauge are not the only ones to give the others: a blockage draws the
// low side of a running car to nothing, and where next to no refrigerant is left, or the
// port lies behind a blockage, nothing condenses at the high side. Of 40,000 simulated cars
// 261 were asked why their condenser stood below the outside air; 21 had a wrong reading.
func isImpossible(code string) bool {
	switch code {
	case "hoses_swapped", "high_coupler", "above_relief", "vent_colder_than_coil":
		return true
	}
	return false
}
