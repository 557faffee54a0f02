package sim

import (
	"math"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
)

// Errors of what a technician reads, one standard deviation unless noted.
//
// Gauges: class 1.6 of [EN837] allows 1.6 % of full scale; on common ranges of
// 0…10 bar and 0…35 bar that is ±16 kPa and ±56 kPa, taken as two standard
// deviations. Thermometers and the rest are judgement.
const (
	SdLow     = 8e3  // Pa
	SdHigh    = 28e3 // Pa
	SdVent    = 1.2  // K
	SdPipe    = 1.7  // K, a probe strapped to a pipe …
	PullPipe  = 0.04 // … which also feels this share of the air round it
	SdDisch   = 3.0  // K, hot pipes are read worse
	SdResting = 8e3  // Pa, with the soak not quite complete
	SdAmbient = 1.0  // K
	SdRH      = 0.05
	SdRPM     = 60 // 1/min
	SdCycles  = 0.15
	sdEqual   = 0.35  // of ln
	sdMass    = 0.030 // kg, display of the recovery machine [CFR82], and …
	sdResidue = 0.03  // … share of the charge left in the car, spread
)

// Discrepancy is how far the model may be from a real car of the same build: a
// bias per car, drawn anew for each, in the units of the readings. It widens
// every likelihood. The report command estimates it from the difference between
// two models that share no correlation (see doc.go) and from the published
// ambient tables; these are the estimates, rounded up.
type Discrepancy struct {
	Low, High                        float64 // of ln p absolute
	Vent, Discharge, Suction, Liquid float64 // K
	Test                             float64 // of ln of the ratio of a second pressure to the first
}

// ModelError is the discrepancy in force.
func ModelError() Discrepancy { return modelError }

var modelError = Discrepancy{Low: 0.05, High: 0.04, Vent: 1.2, Discharge: 5, Suction: 2.5, Liquid: 2, Test: 0.03}

// Measure reads the instruments once: noise, model discrepancy, and for a car
// with a gauge fault what the fault makes of the reading. Every quantity is
// read; callers drop what was not measured.
func Measure(t *Truth, r *fleet.Rand) car.Case {
	n := func(sd float64) float64 { return sd * fleet.Normal(r) }
	c := car.Case{Car: t.Car, Readings: car.Readings{}}
	k := t.Conditions
	c.Weather.Ambient = k.Ambient + n(SdAmbient)
	c.Weather.Humidity = math.Min(math.Max(k.Humidity+n(SdRH), 0.02), 1)
	c.Weather.HumidityKnown = true
	c.Weather.Altitude = air.AltitudeAt(k.PAtm)
	c.Running.RPM, c.Running.RPMKnown = k.RPM+n(SdRPM), true
	c.Running.Blower, c.Running.Recirc = k.Blower, k.Recirc
	c.Car.LabelCharge = t.LabelCharge

	e := modelError
	biasLow, biasHigh := math.Exp(n(e.Low)), math.Exp(n(e.High))
	gauge := func(g, bias, sd float64) float64 { return (g+k.PAtm)*bias - k.PAtm + n(sd) }
	put := func(q car.Quantity, v float64) { c.Readings[q] = car.Reading{Value: v} }
	read := func(q car.Quantity, x Needle, bias, sd float64) {
		if !x.Swings {
			put(q, gauge(x.Mean, bias, sd))
			return
		}
		if r.Float64() < 0.35 { // read in passing, at some moment of the swing
			u := r.Float64()
			put(q, gauge(x.Lo+u*(x.Hi-x.Lo), bias, sd))
			return
		}
		lo, hi := gauge(x.Lo, bias, sd), gauge(x.Hi, bias, sd)
		if lo > hi {
			lo, hi = hi, lo
		}
		c.Readings[q] = car.Reading{Value: (lo + hi) / 2, Lo: lo, Hi: hi, Swing: true}
	}
	read(car.Low, t.Low, biasLow, SdLow)
	read(car.High, t.High, biasHigh, SdHigh)
	put(car.LowIdle, gauge(t.LowIdle, biasLow*math.Exp(n(e.Test)), SdLow))
	put(car.HighIdle, gauge(t.HighIdle, biasHigh*math.Exp(n(e.Test)), SdHigh))
	put(car.WaterTest, gauge(t.Water, biasHigh*math.Exp(n(e.Test)), SdHigh))
	put(car.FanTest, gauge(t.Fan, biasHigh*math.Exp(n(e.Test)), SdHigh))
	put(car.Resting, t.Resting+n(SdResting))

	put(car.Vent, t.Vent+n(SdVent)+n(e.Vent))
	pipe := func(T, sd, bias float64) float64 {
		return T + PullPipe*(k.Ambient-T) + n(sd) + n(bias)
	}
	put(car.DischargeLine, pipe(t.Discharge, SdDisch, e.Discharge))
	put(car.CondenserIn, pipe(t.CondIn-1.5, SdDisch, e.Discharge))
	put(car.SuctionLine, pipe(t.Suction, SdPipe, e.Suction))
	put(car.LiquidLine, pipe(t.Liquid, SdPipe, e.Liquid))
	put(car.CondenserOut, pipe(t.CondOut, SdPipe, e.Liquid))
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

// shownBy keeps a value within what the instrument for q can show.
func shownBy(q car.Quantity, v, atm float64) float64 {
	lo, hi, _ := q.Limits(atm)
	return math.Min(math.Max(v, lo), hi)
}

// glass draws what a sight glass shows: bubbles where vapour reaches it, but
// some in sound cars too and a haze of oil in others ([USArmy307], common
// practice).
func glass(t *Truth, r *fleet.Rand) string {
	if t.ChargeShare < 0.1 {
		return car.GlassFoam
	}
	p := 0.06 + 0.84/(1+math.Exp(-(t.LiquidQuality-0.004)/0.008))
	if r.Float64() < p {
		return car.GlassBubbles
	}
	return car.GlassClear
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
