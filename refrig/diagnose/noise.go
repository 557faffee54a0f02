package diagnose

import (
	"math"

	"twoneedles/refrig/fleet"
)

// Errors of what a technician reads, one standard deviation unless noted.
//
// Gauges: class 1.6 of [EN837] allows 1.6 % of full scale; on common ranges of
// 0…10 bar and 0…35 bar that is ±16 kPa and ±56 kPa, taken as two standard
// deviations. Thermometers and the rest are judgement.
const (
	sdLow     = 8e3  // Pa
	sdHigh    = 28e3 // Pa
	sdVent    = 1.2  // K
	sdPipe    = 1.7  // K, a probe strapped to a pipe …
	pullPipe  = 0.04 // … which also feels this share of the air round it
	sdDisch   = 3.0  // K, hot pipes are read worse
	sdResting = 8e3  // Pa, with the soak not quite complete
	sdAmbient = 1.0  // K
	sdRH      = 0.05
	sdRPM     = 60 // 1/min
	sdCycles  = 0.15
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
var ModelError = Discrepancy{Low: 0.05, High: 0.04, Vent: 1.2, Discharge: 5, Suction: 2.5, Liquid: 2, Test: 0.03}

// Measure reads the instruments once: noise, model discrepancy, and for a car
// with a gauge fault what the fault makes of the reading. Every quantity is
// read; callers drop what was not measured.
func Measure(t *Truth, r *fleet.Rand) Case {
	n := func(sd float64) float64 { return sd * fleet.Normal(r) }
	c := Case{Car: t.Car, Readings: Readings{}}
	k := t.Conditions
	c.Weather.Ambient = k.Ambient + n(sdAmbient)
	c.Weather.Humidity = math.Min(math.Max(k.Humidity+n(sdRH), 0.02), 1)
	c.Weather.HumidityKnown = true
	c.Weather.Altitude = altitudeOf(k.PAtm)
	c.Running.RPM, c.Running.RPMKnown = k.RPM+n(sdRPM), true
	c.Running.Blower, c.Running.Recirc = k.Blower, k.Recirc
	c.Car.LabelCharge = t.LabelCharge

	e := ModelError
	biasLow, biasHigh := math.Exp(n(e.Low)), math.Exp(n(e.High))
	gauge := func(g, bias, sd float64) float64 { return (g+k.PAtm)*bias - k.PAtm + n(sd) }
	put := func(q Quantity, v float64) { c.Readings[q] = Reading{Value: v} }
	read := func(q Quantity, x needle, bias, sd float64) {
		if !x.swings {
			put(q, gauge(x.mean, bias, sd))
			return
		}
		if r.Float64() < 0.35 { // read in passing, at some moment of the swing
			u := r.Float64()
			put(q, gauge(x.lo+u*(x.hi-x.lo), bias, sd))
			return
		}
		lo, hi := gauge(x.lo, bias, sd), gauge(x.hi, bias, sd)
		if lo > hi {
			lo, hi = hi, lo
		}
		c.Readings[q] = Reading{Value: (lo + hi) / 2, Lo: lo, Hi: hi, Swing: true}
	}
	read(Low, t.Low, biasLow, sdLow)
	read(High, t.High, biasHigh, sdHigh)
	put(LowIdle, gauge(t.LowIdle, biasLow*math.Exp(n(e.Test)), sdLow))
	put(HighIdle, gauge(t.HighIdle, biasHigh*math.Exp(n(e.Test)), sdHigh))
	put(WaterTest, gauge(t.Water, biasHigh*math.Exp(n(e.Test)), sdHigh))
	put(FanTest, gauge(t.Fan, biasHigh*math.Exp(n(e.Test)), sdHigh))
	put(Resting, t.Resting+n(sdResting))

	put(Vent, t.Vent+n(sdVent)+n(e.Vent))
	pipe := func(T, sd, bias float64) float64 {
		return T + pullPipe*(k.Ambient-T) + n(sd) + n(bias)
	}
	put(DischargeLine, pipe(t.Discharge, sdDisch, e.Discharge))
	put(CondenserIn, pipe(t.CondIn-1.5, sdDisch, e.Discharge))
	put(SuctionLine, pipe(t.Suction, sdPipe, e.Suction))
	put(LiquidLine, pipe(t.Liquid, sdPipe, e.Liquid))
	put(CondenserOut, pipe(t.CondOut, sdPipe, e.Liquid))
	if t.Cycles > 0.05 {
		put(Cycling, t.Cycles*math.Exp(n(sdCycles)))
	} else {
		put(Cycling, 0)
	}
	put(EqualiseTime, t.Equalise*math.Exp(n(sdEqual)))
	put(Recovered, math.Max(t.ChargeShare*(1-0.04+n(sdResidue))+n(sdMass)/t.LabelCharge, 0))
	if t.HasGlass {
		c.Readings[SightGlass] = Reading{Choice: glass(t, r)}
	}
	switch t.Cause {
	case Gauge:
		spoil(&c, t, r)
	case NoneOfThese:
		scramble(&c, t, r)
	}
	for q, v := range c.Readings {
		v.Value, v.Lo, v.Hi = shownBy(q, v.Value, k.PAtm), shownBy(q, v.Lo, k.PAtm), shownBy(q, v.Hi, k.PAtm)
		if q == SightGlass || !v.Swing {
			v.Lo, v.Hi = 0, 0
		}
		c.Readings[q] = v
	}
	return c
}

// shownBy keeps a value within what the instrument for q can show.
func shownBy(q Quantity, v, atm float64) float64 {
	lo, hi, _ := limits(q, atm)
	return math.Min(math.Max(v, lo), hi)
}

// Choices of the sight glass.
const (
	GlassClear   = "clear"
	GlassBubbles = "bubbles"
	GlassFoam    = "foam" // foam, oil streaks or nothing moving
	GlassNone    = "none" // no glass fitted: nothing was read
)

// glass draws what a sight glass shows: bubbles where vapour reaches it, but
// some in sound cars too and a haze of oil in others ([USArmy307], common
// practice).
func glass(t *Truth, r *fleet.Rand) string {
	if t.ChargeShare < 0.1 {
		return GlassFoam
	}
	p := 0.06 + 0.84/(1+math.Exp(-(t.LiquidQuality-0.004)/0.008))
	if r.Float64() < p {
		return GlassBubbles
	}
	return GlassClear
}

// spoil makes the two gauge readings what a fault of gauge, hose or coupler
// makes of them. How often each happens is judgement.
func spoil(c *Case, t *Truth, r *fleet.Rand) {
	set := func(q Quantity, v float64) { c.Readings[q] = Reading{Value: v + 3e3*fleet.Normal(r)} }
	side, idle := Low, LowIdle
	if r.Float64() < 0.5 {
		side, idle = High, HighIdle
	}
	switch u := r.Float64(); {
	case u < 0.10: // neither coupler opened: both hoses hold what was in them
		for _, q := range []Quantity{Low, LowIdle, High, HighIdle, WaterTest, FanTest, Resting} {
			set(q, 15e3*r.Float64()*r.Float64())
		}
	case u < 0.38: // one coupler not opened: the hose holds what was in it
		v := 0.0
		if r.Float64() < 0.5 {
			v = t.Resting * r.Float64()
		}
		set(side, v)
		set(idle, v)
		if side == High {
			set(WaterTest, v)
			set(FanTest, v)
		}
	case u < 0.55: // hoses swapped
		c.Readings[Low], c.Readings[High] = c.Readings[High], c.Readings[Low]
		c.Readings[LowIdle], c.Readings[HighIdle] = c.Readings[HighIdle], c.Readings[LowIdle]
	default: // needle bent or off its zero
		sign := 1.0
		if r.Float64() < 0.5 {
			sign = -1
		}
		off := sign * (70e3 + 130e3*r.Float64())
		if side == High {
			off *= 4
		}
		shift := func(q Quantity) {
			v := c.Readings[q]
			v.Value, v.Lo, v.Hi = v.Value+off, v.Lo+off, v.Hi+off
			c.Readings[q] = v
		}
		shift(side)
		shift(idle)
		if side == High {
			shift(WaterTest)
			shift(FanTest)
			shift(Resting)
		}
	}
}

// scramble is the model of "none of these": readings spread over everything an
// instrument can show, each on its own.
func scramble(c *Case, t *Truth, r *fleet.Rand) {
	u := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	amb := t.Conditions.Ambient
	ranges := map[Quantity][2]float64{
		Low: {-95e3, 900e3}, LowIdle: {-95e3, 900e3},
		High: {0, 3300e3}, HighIdle: {0, 3300e3}, WaterTest: {0, 3300e3}, FanTest: {0, 3300e3}, Resting: {0, 1500e3},
		Vent: {270, amb + 20}, DischargeLine: {amb - 10, 415}, CondenserIn: {amb - 10, 415},
		SuctionLine: {258, amb + 25}, LiquidLine: {amb - 25, amb + 50}, CondenserOut: {amb - 25, amb + 50},
		Cycling: {0, 8}, EqualiseTime: {2, 600}, Recovered: {0, 2},
	}
	for _, q := range Quantities { // a fixed order: the same seed gives the same case
		if b, ok := ranges[q]; ok {
			c.Readings[q] = Reading{Value: u(b[0], b[1])}
		}
	}
}
