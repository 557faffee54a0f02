package diagnose

import (
	"math"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// check refuses weather and running no car is diagnosed in.
func check(c *car.Case) error {
	for _, v := range []refrig.RangeError{
		{Quantity: "outside temperature", Value: c.Weather.Ambient, Min: 253.15, Max: 333.15, Unit: "K", Source: "judgement"},
		{Quantity: "relative humidity", Value: c.Weather.Humidity, Min: 0, Max: 1, Source: "definition"},
		{Quantity: "altitude", Value: c.Weather.Altitude, Min: -430, Max: 5000, Unit: "m", Source: "judgement"},
		{Quantity: "engine speed", Value: c.Running.RPM, Min: 0, Max: 6000, Unit: "1/min", Source: "judgement"},
		{Quantity: "blower setting", Value: c.Running.Blower, Min: 0.05, Max: 1, Source: "judgement"},
		{Quantity: "label charge", Value: c.Car.LabelCharge, Min: 0, Max: 5, Unit: "kg", Source: "judgement"},
	} {
		if !(v.Value >= v.Min && v.Value <= v.Max) {
			return finiteValue(v)
		}
	}
	if len(c.Readings) == 0 {
		return &refrig.RangeError{Quantity: "number of readings", Value: 0, Min: 1, Max: float64(len(car.Quantities)), Source: "judgement"}
	}
	return nil
}

// finiteValue makes an error that prints, whatever was typed.
func finiteValue(e refrig.RangeError) error {
	if math.IsNaN(e.Value) || math.IsInf(e.Value, 0) {
		e.Value = math.Copysign(math.MaxFloat64, e.Value)
	}
	return &e
}

func checkReadings(c *car.Case, sc *scaler) error {
	for _, q := range car.Quantities {
		r, ok := c.Readings[q]
		if !ok || q == car.SightGlass {
			continue
		}
		lo, hi, unit := car.Limits(q, sc.atm)
		values := []float64{r.Value}
		if r.Swing {
			values = []float64{r.Lo, r.Hi}
		}
		for _, v := range values {
			if !(v >= lo-1 && v <= hi) { // 1 Pa: a perfect vacuum typed in inches rounds
				return finiteValue(refrig.RangeError{Quantity: string(q), Value: v, Min: lo, Max: hi, Unit: unit, Source: "judgement"})
			}
		}
		if r.Swing && r.Lo > r.Hi {
			return &refrig.RangeError{Quantity: string(q) + " lowest", Value: r.Lo, Min: lo, Max: r.Hi, Unit: unit, Source: "definition"}
		}
	}
	return nil
}

// Reading checks: limits of physics with a margin for instruments.
const (
	reliefPressure = 3.4e6 // Pa gauge; relief valves open at about 3.4…4.1 MPa (memory, FACTS section 4)
	equalBand      = 35e3  // Pa; two gauges on one pressure may differ by both their errors
	ventMargin     = 4.0   // K; two thermometers and a gauge
	rejectMargin   = 3.0   // K
	closedBand     = 12e3  // Pa from zero: a hose that sees nothing
)

// question lists what no car can show: readings to look at before blaming the
// car.
func question(c *car.Case, sc *scaler) []refrig.Warning {
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
		case top > highTop+equalBand:
			ask("hoses_swapped", map[string]float64{"low": top, "high": highTop})
		}
	}
	if hasHigh && highTop > reliefPressure {
		ask("above_relief", map[string]float64{"high": highTop, "limit": reliefPressure})
	}
	vent, hasVent := c.Readings[car.Vent]
	if hasVent && hasLow && !low.Swing {
		if coil := sc.tsat(bottom); vent.Value < coil-ventMargin {
			ask("vent_colder_than_coil", map[string]float64{"vent_K": vent.Value, "coil_K": coil})
		}
	}
	if hasHigh && hasLow && !high.Swing && highTop > top+3*equalBand {
		if t := sc.tsat(highTop); t < c.Weather.Ambient-rejectMargin && highTop > closedBand {
			ask("high_below_ambient", map[string]float64{"saturation_K": t, "ambient_K": c.Weather.Ambient})
		}
	}
	return out
}

// doubt lists the questions about what was typed that the readings give reason to
// ask, from the probabilities of doubts.
func doubt(p []float64) []refrig.Warning {
	var out []refrig.Warning
	for i, d := range doubts {
		if p[i] >= d.from {
			out = append(out, d.ask)
		}
	}
	return out
}

func isDoubt(code string) bool {
	for _, d := range doubts {
		if d.ask.Code == code {
			return true
		}
	}
	return false
}
