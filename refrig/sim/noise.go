package sim

import (
	"math"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
)

// Errors of what a technician reads, one standard deviation unless noted.
//
// What is wrong with an instrument or a fact for the whole visit is drawn once
// ([Instruments]) and shared by all that is read with it; the rest is drawn anew for
// every look. Thermometers and the rest are judgement.
const (
	SdReadLow  = 3e3  // Pa, of one look at the low side, on top of the gauge's own error
	SdReadHigh = 10e3 // Pa, the same for the high side
	SdVent     = 1.2  // K
	SdPipe     = 1.7  // K, a probe strapped to a pipe …
	PullPipe   = 0.04 // … which also feels this share of the air round it
	SdDisch    = 3.0  // K, hot pipes are read worse
	SdCycles   = 0.15
	sdEqual    = 0.35  // of ln
	sdMass     = 0.030 // kg, display of the recovery machine [CFR82], and …
	sdResidue  = 0.03  // … share of the charge left in the car, spread
)

// Discrepancy is how far the model may be from a real car of the same build: a
// bias per car, drawn anew for each, in the units of the readings. It widens every
// likelihood.
type Discrepancy struct {
	Low, High                  fleet.Error // of ln p absolute: of the car, and of each state it is read in besides
	Vent                       fleet.Error // K
	Discharge, Suction, Liquid float64     // K
	Test                       float64     // of ln of the ratio of a second high side in the same state to the first
}

// ModelError is the discrepancy in force: needles and vent by what is left between
// makers' published tables and the model (package makers), the rest by the difference
// between two sets of laws ([EstimateDiscrepancy]), rounded up, since no table says.
func ModelError() Discrepancy {
	return Discrepancy{Low: fleet.LowError, High: fleet.HighError, Vent: fleet.VentError, Discharge: 5, Suction: 2.5, Liquid: 2, Test: 0.03}
}

// Measure reads every quantity of t with the instruments of one visit: their
// errors, the model's discrepancy, and for a car with a gauge fault what the fault
// makes of the reading. Callers drop what was not measured.
func Measure(t *Truth, in Instruments, r *fleet.Rand) car.Case { return measure(t, in, nil, r) }

// measure is Measure of a car whose own share of the model's error is known; of a car
// met once (own nil) it is drawn.
func measure(t *Truth, in Instruments, own *own, r *fleet.Rand) car.Case {
	n := func(sd float64) float64 { return sd * fleet.Normal(r) }
	c := car.Case{Car: in.typed(t.Car), Readings: car.Readings{}}
	k := t.Conditions
	c.Weather.Ambient = k.Ambient + in.Ambient
	c.Weather.Humidity = math.Min(math.Max(k.Humidity+in.Humidity, 0.02), 1)
	c.Weather.HumidityKnown = true
	c.Weather.Altitude = air.AltitudeAt(k.PAtm)
	c.Running.RPM, c.Running.RPMKnown = math.Max(k.RPM+in.RPM, 400), true
	c.Running.Blower, c.Running.Recirc = k.Blower, k.Recirc
	c.Running.Doors = in.doors(k.DoorsShut)
	c.Car.LabelCharge = t.LabelCharge

	e := ModelError()
	var carLow, carHigh, carVent, carDischarge, carSuction, carLiquid float64
	if own != nil {
		carLow, carHigh, carVent = own.low*e.Low.Between, own.high*e.High.Between, own.vent*e.Vent.Between
		carDischarge, carSuction, carLiquid = own.discharge*e.Discharge*keptOfPipes, own.suction*e.Suction*keptOfPipes, own.liquid*e.Liquid*keptOfPipes
		e.Discharge, e.Suction, e.Liquid = e.Discharge*freshOfPipes, e.Suction*freshOfPipes, e.Liquid*freshOfPipes
	} else {
		carLow, carHigh = n(e.Low.Between), n(e.High.Between)
	}
	biasLow, biasHigh := math.Exp(carLow+n(e.Low.Within)), math.Exp(carHigh+n(e.High.Within))
	low := func(g, bias float64) float64 { return (g+k.PAtm)*bias - k.PAtm + in.LowZero + n(SdReadLow) }
	high := func(g, bias float64) float64 { return (g+k.PAtm)*bias - k.PAtm + in.HighZero + n(SdReadHigh) }
	put := func(q car.Quantity, v float64) { c.Readings[q] = car.Reading{Value: v} }
	read := func(q car.Quantity, x Needle, gauge func(float64) float64) {
		if !x.Swings {
			put(q, gauge(x.Mean))
			return
		}
		if r.Float64() < InPassing {
			put(q, gauge(x.Lo+r.Float64()*(x.Hi-x.Lo)))
			return
		}
		a, b := gauge(x.Lo), gauge(x.Hi)
		c.Readings[q] = car.Reading{Value: (a + b) / 2, Lo: math.Min(a, b), Hi: math.Max(a, b), Swing: true}
	}
	read(car.Low, t.Low, func(g float64) float64 { return low(g, biasLow) })
	read(car.High, t.High, func(g float64) float64 { return high(g, biasHigh) })
	put(car.LowIdle, low(t.LowIdle, math.Exp(carLow+n(e.Low.Within))))
	put(car.HighIdle, high(t.HighIdle, math.Exp(carHigh+n(e.High.Within))))
	put(car.WaterTest, high(t.Water, biasHigh*math.Exp(n(e.Test))))
	put(car.FanTest, high(t.Fan, biasHigh*math.Exp(n(e.Test))))
	rest := t.Resting
	if t.restAt != nil {
		rest = t.restAt(k.Ambient + in.RestShift + in.SoakLag)
	}
	put(car.Resting, low(rest, 1)) // at rest the finer gauge is read
	if in.RestTaken {
		c.Rest = car.Rest{Temperature: k.Ambient + in.RestShift + in.RestThermometer, Soaked: in.Soaked}
	}

	ventError := e.Vent.Total()
	if own != nil {
		ventError = e.Vent.Within
	}
	put(car.Vent, t.Vent+carVent+n(SdVent)+n(ventError))
	pipe := func(T, sd, bias float64) float64 {
		return T + PullPipe*(k.Ambient-T) + n(sd) + n(bias)
	}
	put(car.DischargeLine, pipe(t.Discharge+carDischarge, SdDisch, e.Discharge))
	put(car.CondenserIn, pipe(t.CondIn-1.5+carDischarge, SdDisch, e.Discharge))
	put(car.SuctionLine, pipe(t.Suction+carSuction, SdPipe, e.Suction))
	liquid := t.Liquid
	if in.ProbeBefore {
		liquid = t.CondOut
	}
	put(car.LiquidLine, pipe(liquid+carLiquid, SdPipe, e.Liquid))
	put(car.CondenserOut, pipe(t.CondOut+carLiquid, SdPipe, e.Liquid))
	if t.Cycles > 0.05 {
		put(car.Cycling, t.Cycles*math.Exp(n(SdCycles)))
	} else {
		put(car.Cycling, 0)
	}
	put(car.EqualiseTime, t.Equalise*math.Exp(n(sdEqual)))
	put(car.Recovered, math.Max(t.ChargeShare*(1-0.04+n(sdResidue))+n(sdMass)/t.LabelCharge, 0))
	if t.HasGlass {
		c.Readings[car.SightGlass] = car.Reading{Choice: glass(t, r)}
	}
	switch t.Cause {
	case car.Gauge:
		spoil(&c, t, r)
	case car.NoneOfThese:
		scramble(&c, t, r)
	}
	for q, v := range c.Readings {
		v.Value, v.Lo, v.Hi = shownBy(q, v.Value, k.PAtm), shownBy(q, v.Lo, k.PAtm), shownBy(q, v.Hi, k.PAtm)
		if q == car.SightGlass || !v.Swing {
			v.Lo, v.Hi = 0, 0
		}
		c.Readings[q] = v
	}
	return c
}

// InPassing is how often a needle that swings is read at some moment of the swing
// and typed as if it stood still. Judgement.
const InPassing = 0.35

// shownBy keeps a value within what the instrument for q can show.
func shownBy(q car.Quantity, v, atm float64) float64 {
	lo, hi, _ := q.Limits(atm)
	return math.Min(math.Max(v, lo), hi)
}

// glass draws what a sight glass shows: bubbles where vapour reaches it, but some
// in sound cars too and a haze of oil in others ([USArmy307], common practice).
// Where much of what passes is vapour a person says foam, and where next to nothing
// but vapour passes the glass looks clear or streaked with oil (common practice).
func glass(t *Truth, r *fleet.Rand) string {
	if t.ChargeShare < 0.1 && r.Float64() < 0.5 { // nothing but vapour passes
		return car.GlassClear
	}
	vapour := func(at, width float64) float64 { return 1 / (1 + math.Exp(-(t.LiquidQuality-at)/width)) }
	if r.Float64() >= 0.06+0.84*vapour(0.004, 0.008) {
		return car.GlassClear
	}
	if r.Float64() < 0.05+0.75*vapour(0.05, 0.02) {
		return car.GlassFoam
	}
	return car.GlassBubbles
}

// spoil makes the two gauge readings what a fault of gauge, hose or coupler
// makes of them. How often each happens is judgement.
func spoil(c *car.Case, t *Truth, r *fleet.Rand) {
	set := func(q car.Quantity, v float64) { c.Readings[q] = car.Reading{Value: v + 3e3*fleet.Normal(r)} }
	side, idle := car.Low, car.LowIdle
	if r.Float64() < 0.5 {
		side, idle = car.High, car.HighIdle
	}
	switch u := r.Float64(); {
	case u < 0.10: // neither coupler opened: both hoses hold what was in them
		for _, q := range []car.Quantity{car.Low, car.LowIdle, car.High, car.HighIdle, car.WaterTest, car.FanTest, car.Resting} {
			set(q, 15e3*r.Float64()*r.Float64())
		}
	case u < 0.38: // one coupler not opened: the hose holds what was in it
		v := 0.0
		if r.Float64() < 0.5 {
			v = t.Resting * r.Float64()
		}
		set(side, v)
		set(idle, v)
		if side == car.High {
			set(car.WaterTest, v)
			set(car.FanTest, v)
		}
	case u < 0.55: // hoses swapped
		c.Readings[car.Low], c.Readings[car.High] = c.Readings[car.High], c.Readings[car.Low]
		c.Readings[car.LowIdle], c.Readings[car.HighIdle] = c.Readings[car.HighIdle], c.Readings[car.LowIdle]
	default: // needle bent or off its zero
		sign := 1.0
		if r.Float64() < 0.5 {
			sign = -1
		}
		off := sign * (70e3 + 130e3*r.Float64())
		if side == car.High {
			off *= 4
		}
		shift := func(q car.Quantity) {
			v := c.Readings[q]
			v.Value, v.Lo, v.Hi = v.Value+off, v.Lo+off, v.Hi+off
			c.Readings[q] = v
		}
		shift(side)
		shift(idle)
		if side == car.High {
			shift(car.WaterTest)
			shift(car.FanTest)
			shift(car.Resting)
		}
	}
}

// scramble is the model of "none of these": readings spread over everything an
// instrument can show, each on its own.
func scramble(c *car.Case, t *Truth, r *fleet.Rand) {
	u := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	amb := t.Conditions.Ambient
	ranges := map[car.Quantity][2]float64{
		car.Low: {-95e3, 900e3}, car.LowIdle: {-95e3, 900e3},
		car.High: {0, 3300e3}, car.HighIdle: {0, 3300e3}, car.WaterTest: {0, 3300e3}, car.FanTest: {0, 3300e3}, car.Resting: {0, 1500e3},
		car.Vent: {270, amb + 20}, car.DischargeLine: {amb - 10, 415}, car.CondenserIn: {amb - 10, 415},
		car.SuctionLine: {258, amb + 25}, car.LiquidLine: {amb - 25, amb + 50}, car.CondenserOut: {amb - 25, amb + 50},
		car.Cycling: {0, 8}, car.EqualiseTime: {2, 600}, car.Recovered: {0, 2},
	}
	for _, q := range car.Quantities() { // a fixed order: the same seed gives the same case
		if b, ok := ranges[q]; ok {
			c.Readings[q] = car.Reading{Value: u(b[0], b[1])}
		}
	}
}
