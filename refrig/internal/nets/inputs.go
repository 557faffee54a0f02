package nets

import (
	"math"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/fast"
	"twoneedles/refrig/unit"
)

// The fixed orders that networks and tables index by.
var (
	conditions = car.Conditions()
	quantities = car.Quantities()
)

// The inputs of the networks. Each quantity has a block that opens with a flag,
// 1 if it was read; a quantity that was not read leaves its block zero, which is
// how "not measured" differs from "normal". Scales make every number of order
// one; pressures enter as saturation temperatures, so that one network serves
// every refrigerant.

// Places of the context in the inputs. A name without a size is one number; facts
// of several numbers are a flag each, or open with a flag.
const (
	inAmbient     = 0
	inHumidity    = 1 // flag, relative, absolute
	inPressure    = 4
	inSpeed       = 5 // flag, value
	inBlower      = 7
	inRecirc      = 8
	InRefrigerant = 9  // R-134a, R-1234yf, R-12
	inMetering    = 12 // orifice tube, valve
	inCompressor  = 14 // fixed, variable, electric
	inHighPort    = 17 // discharge, liquid
	inSize        = 19 // small, medium, large
	inLabel       = 22 // flag, value
	inEvaporators = 24 // one, two
	InDoors       = 26 // open, closed
	ContextSize   = 30 // the last two are free
)

// Unknowable are the facts of the context that a technician may not know, as from
// and to, with the chance that a simulated one does not.
var Unknowable = []struct {
	From, To int
	Chance   float64
}{
	{inHumidity, inPressure, 0.4},
	{inSpeed, inBlower, 0.2},
	{InRefrigerant, inMetering, 0.15},
	{inMetering, inCompressor, 0.25},
	{inCompressor, inHighPort, 0.25},
	{inHighPort, inSize, 0.5},
	{inSize, inLabel, 0.5},
	{inLabel, inEvaporators, 0.5},
	{inEvaporators, InDoors, 0.3},
	{InDoors, InDoors + 2, 0.4},
}

// Block is the place of a quantity in the inputs: a flag that it was read, its
// scaled value, its standing against healthy cars, and for some a little more.
type Block struct{ At, Size int }

// Places within a block.
const (
	AtFlag     = 0
	AtValue    = 1
	AtStanding = 2

	// the two needles
	atSwings = 3
	atSpan   = 4 // of a needle that swings
	atLeast  = 5
	atMost   = 6

	AtCycles = 3 // the clutch cycles at all

	// the resting pressure
	atRestTaken = 3 // the car's temperature was taken
	atSoaked    = 4 // every part had come to it

	// the sight glass has flags in place of value and standing
	atBubbles = 1
	atFoam    = 2
)

// Blocks are the places of the quantities in the inputs, InputSize how many inputs there are.
var Blocks, InputSize = func() (map[car.Quantity]Block, int) {
	m := map[car.Quantity]Block{}
	at := ContextSize
	for _, q := range quantities {
		n := 3
		switch q {
		case car.Low, car.High:
			n = 7
		case car.Cycling:
			n = 4
		case car.Resting:
			n = 5
		}
		m[q] = Block{at, n}
		at += n
	}
	return m, at
}()

// Scaler turns readings of one case into network inputs and back.
type Scaler struct {
	Fluid   *fast.Fluid
	Atm     float64  // atmospheric pressure, Pa
	ambient float64  // K
	rest    car.Rest // how the car stood when the resting pressure was read
}

// NewScaler returns that of c; without a refrigerant it is taken to be R-134a. The error is
// that of a refrigerant without tables.
func NewScaler(c *car.Case) (*Scaler, error) {
	id := c.Car.Refrigerant
	if id == "" {
		id = car.R134a
	}
	fl, err := fast.Load(id)
	if err != nil {
		return nil, err
	}
	return &Scaler{fl, float64(air.AtmosphericPressure(c.Weather.Altitude)), c.Weather.Ambient, c.Rest}, nil
}

// At returns the scaler of another outside temperature, for a car that did not rest.
func (s *Scaler) At(ambient float64) *Scaler {
	return &Scaler{s.Fluid, s.Atm, ambient, car.Rest{}}
}

// In maps a reading of q in SI to a network input: see [car.Scale].
func (s *Scaler) In(q car.Quantity, v float64) float64 {
	k := q.Info().Scale
	switch {
	case k.Spread == 0: // a choice has no number
		return 0
	case k.Saturation:
		v = s.TSat(v)
	case k.Logarithm:
		v = math.Log(math.Max(v, 1) / 60)
	}
	if k.AboveAmbient {
		v -= s.surroundings(q)
	}
	return (v - k.Mid) / k.Spread
}

// Out is the inverse of [Scaler.In], within the limits of the instrument.
func (s *Scaler) Out(q car.Quantity, x float64) float64 {
	info := q.Info()
	k := info.Scale
	v := x*k.Spread + k.Mid
	if k.AboveAmbient {
		v += s.surroundings(q)
	}
	switch {
	case k.Spread == 0:
		return 0
	case k.Saturation:
		return s.psat(v)
	case k.Logarithm:
		return 60 * math.Exp(v)
	case info.Kind == unit.Rate || info.Kind == unit.Fraction:
		return math.Max(v, 0)
	}
	return v
}

// surroundings is the temperature a reading is compared with, K: the outside air of
// the running test, or what the car rested at.
func (s *Scaler) surroundings(q car.Quantity) float64 {
	if q == car.Resting && s.rest.Temperature > 0 {
		return s.rest.Temperature
	}
	return s.ambient
}

// TSat is the saturation temperature at a gauge pressure. Below the table's
// lowest pressure it goes on in a straight line, so that a deeper vacuum still
// reads lower.
func (s *Scaler) TSat(g float64) float64 {
	p := g + s.Atm
	if lo := s.Fluid.PMin(); p < lo {
		return s.Fluid.TSat(lo) - 20*(lo-p)/lo
	}
	return s.Fluid.TSat(p) + 8*math.Max(p/s.Fluid.PMax()-1, 0)
}

func (s *Scaler) psat(T float64) float64 {
	lo, hi := s.Fluid.PMin(), s.Fluid.PMax()
	if t := s.Fluid.TSat(lo); T < t {
		return lo*math.Max(1-(t-T)/20, 0) - s.Atm
	}
	if t := s.Fluid.TSat(hi); T > t {
		return hi*(1+(T-t)/8) - s.Atm
	}
	return s.Fluid.PSat(T) - s.Atm
}

// WriteContext writes what is known of car, weather and running into x, whose
// context must be zero.
func WriteContext(c *car.Case, s *Scaler, x []float32) {
	set := func(i int, v float64) { x[i] = float32(v) }
	flag := func(i int, b bool) {
		if b {
			x[i] = 1
		}
	}
	w, run, k := &c.Weather, &c.Running, &c.Car
	set(inAmbient, (w.Ambient-305)/10)
	if w.HumidityKnown {
		W := air.HumidityRatio(w.Ambient, w.Humidity, s.Atm)
		x[inHumidity] = 1
		set(inHumidity+1, 2*w.Humidity-1)
		set(inHumidity+2, 100*W-1)
	}
	set(inPressure, 5*(s.Atm/101325-1))
	if run.RPMKnown {
		x[inSpeed] = 1
		set(inSpeed+1, (run.RPM-1500)/700)
	}
	set(inBlower, 2*run.Blower-1.5)
	flag(inRecirc, run.Recirc)
	flag(InRefrigerant, k.Refrigerant == car.R134a)
	flag(InRefrigerant+1, k.Refrigerant == car.R1234yf)
	flag(InRefrigerant+2, k.Refrigerant == car.R12)
	flag(inMetering, k.Metering == car.OrificeTube)
	flag(inMetering+1, k.Metering == car.ExpansionValve)
	flag(inCompressor, k.Compressor == car.Fixed)
	flag(inCompressor+1, k.Compressor == car.Variable)
	flag(inCompressor+2, k.Compressor == car.Electric)
	flag(inHighPort, k.HighPort == car.PortDischarge)
	flag(inHighPort+1, k.HighPort == car.PortLiquid)
	flag(inSize, k.Size == car.SizeSmall)
	flag(inSize+1, k.Size == car.SizeMedium)
	flag(inSize+2, k.Size == car.SizeLarge)
	if k.LabelCharge > 0 {
		x[inLabel] = 1
		set(inLabel+1, 2*math.Log(k.LabelCharge/0.6))
	}
	flag(inEvaporators, k.Evaporators == 1)
	flag(inEvaporators+1, k.Evaporators == 2)
	flag(InDoors, run.Doors == car.DoorsOpen)
	flag(InDoors+1, run.Doors == car.DoorsClosed)
}

// WriteReadings writes the readings, less their shift, into x, whose
// blocks must be zero.
func WriteReadings(read car.Readings, s *Scaler, by *Shift, x []float32) {
	for q, r := range read {
		b, ok := Blocks[q]
		if !ok || r.Choice == car.GlassNone {
			continue
		}
		set := func(i int, v float64) { x[b.At+i] = float32(Squash(v)) }
		flag := func(i int, on bool) {
			if on {
				x[b.At+i] = 1
			}
		}
		in := func(v float64) float64 { return s.In(q, v) - by.Of(q) }
		flag(AtFlag, true)
		switch q {
		case car.Low, car.High:
			if r.Swing {
				lo, hi := in(r.Lo), in(r.Hi)
				set(AtValue, (lo+hi)/2)
				flag(atSwings, true)
				set(atSpan, hi-lo)
			} else {
				set(AtValue, in(r.Value))
			}
			flag(atLeast, r.AtLeast)
			flag(atMost, r.AtMost)
		case car.SightGlass:
			flag(atBubbles, r.Choice == car.GlassBubbles)
			flag(atFoam, r.Choice == car.GlassFoam)
		case car.Cycling:
			set(AtValue, in(r.Value))
			flag(AtCycles, r.Value > 0)
		case car.Resting:
			set(AtValue, in(r.Value))
			flag(atRestTaken, s.rest.Temperature > 0)
			flag(atSoaked, s.rest.Soaked)
		default:
			set(AtValue, in(r.Value))
		}
	}
}

// features writes every input of a simulated case but the standings into x, which
// must be zero and inputSize long.
func Write(c *car.Case, s *Scaler, x []float32) {
	WriteContext(c, s, x)
	WriteReadings(c.Readings, s, new(Shift), x)
}

// Compare fills in how each reading stands against healthy cars of this kind in
// this weather: (value − mean)/spread, from what the base network makes of the
// context left visible in x. With it the other networks need not learn the weather.
func Compare(x []float32, mean, sd []float64) {
	for i, q := range quantities {
		b := Blocks[q]
		if x[b.At+AtFlag] == 0 || q == car.SightGlass {
			continue
		}
		x[b.At+AtStanding] = Standing(x[b.At+AtValue], mean[i], sd[i])
	}
}

// Standing is the score of an input against healthy cars.
func Standing(x float32, mean, sd float64) float32 {
	return float32(Squash((float64(x) - mean) / sd))
}

// Squash keeps an input within ±8: beyond that a reading is absurd and its
// exact size says nothing more.
func Squash(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return 8 * math.Tanh(x/8)
}
