package diagnose

import (
	"math"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/fast"
	"twoneedles/refrig/unit"
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
	inRefrigerant = 9  // R-134a, R-1234yf, R-12
	inMetering    = 12 // orifice tube, valve
	inCompressor  = 14 // fixed, variable, electric
	inHighPort    = 17 // discharge, liquid
	inSize        = 19 // small, medium, large
	inLabel       = 22 // flag, value
	inEvaporators = 24 // one, two
	inDoors       = 26 // open, closed
	contextSize   = 30 // the last two are free
)

// unknowable are the facts of the context that a technician may not know, as from
// and to, with the chance that a simulated one does not.
var unknowable = []struct {
	from, to int
	chance   float64
}{
	{inHumidity, inPressure, 0.4},
	{inSpeed, inBlower, 0.2},
	{inRefrigerant, inMetering, 0.15},
	{inMetering, inCompressor, 0.25},
	{inCompressor, inHighPort, 0.25},
	{inHighPort, inSize, 0.5},
	{inSize, inLabel, 0.5},
	{inLabel, inEvaporators, 0.5},
	{inEvaporators, inDoors, 0.3},
	{inDoors, inDoors + 2, 0.4},
}

// block is the place of a quantity in the inputs: a flag that it was read, its
// scaled value, its standing against healthy cars, and for some a little more.
type block struct{ at, size int }

const (
	bFlag     = 0
	bValue    = 1
	bStanding = 2

	// the two needles
	bSwings  = 3
	bSpan    = 4 // of a needle that swings
	bAtLeast = 5
	bAtMost  = 6

	bCycles = 3 // the clutch cycles at all

	// the resting pressure
	bRestTaken = 3 // the car's temperature was taken
	bSoaked    = 4 // every part had come to it

	// the sight glass has flags in place of value and standing
	bBubbles = 1
	bFoam    = 2
)

var blocks, inputSize = func() (map[car.Quantity]block, int) {
	m := map[car.Quantity]block{}
	at := contextSize
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
		m[q] = block{at, n}
		at += n
	}
	return m, at
}()

// scaler turns readings of one case into network inputs and back.
type scaler struct {
	fluid   *fast.Fluid
	atm     float64
	ambient float64
	rest    car.Rest // how the car stood when the resting pressure was read
}

func newScaler(c *car.Case) (*scaler, error) {
	id := c.Car.Refrigerant
	if id == "" {
		id = car.R134a
	}
	fl, err := fast.Load(id)
	if err != nil {
		return nil, err
	}
	return &scaler{fl, float64(air.AtmosphericPressure(c.Weather.Altitude)), c.Weather.Ambient, c.Rest}, nil
}

// in maps a reading of q in SI to a network input: see [car.Scale]. out is its
// inverse within the limits of the instrument.
func (s *scaler) in(q car.Quantity, v float64) float64 {
	k := q.Info().Scale
	switch {
	case k.Spread == 0: // a choice has no number
		return 0
	case k.Saturation:
		v = s.tsat(v)
	case k.Logarithm:
		v = math.Log(math.Max(v, 1) / 60)
	}
	if k.AboveAmbient {
		v -= s.surroundings(q)
	}
	return (v - k.Mid) / k.Spread
}

func (s *scaler) out(q car.Quantity, x float64) float64 {
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
func (s *scaler) surroundings(q car.Quantity) float64 {
	if q == car.Resting && s.rest.Temperature > 0 {
		return s.rest.Temperature
	}
	return s.ambient
}

// tsat is the saturation temperature at a gauge pressure. Below the table's
// lowest pressure it goes on in a straight line, so that a deeper vacuum still
// reads lower.
func (s *scaler) tsat(g float64) float64 {
	p := g + s.atm
	if lo := s.fluid.PMin(); p < lo {
		return s.fluid.TSat(lo) - 20*(lo-p)/lo
	}
	return s.fluid.TSat(p) + 8*math.Max(p/s.fluid.PMax()-1, 0)
}

func (s *scaler) psat(T float64) float64 {
	lo, hi := s.fluid.PMin(), s.fluid.PMax()
	if t := s.fluid.TSat(lo); T < t {
		return lo*math.Max(1-(t-T)/20, 0) - s.atm
	}
	if t := s.fluid.TSat(hi); T > t {
		return hi*(1+(T-t)/8) - s.atm
	}
	return s.fluid.PSat(T) - s.atm
}

// writeContext writes what is known of car, weather and running into x, whose
// context must be zero.
func writeContext(c *car.Case, s *scaler, x []float32) {
	set := func(i int, v float64) { x[i] = float32(v) }
	flag := func(i int, b bool) {
		if b {
			x[i] = 1
		}
	}
	w, run, k := &c.Weather, &c.Running, &c.Car
	set(inAmbient, (w.Ambient-305)/10)
	if w.HumidityKnown {
		W := air.HumidityRatio(w.Ambient, w.Humidity, s.atm)
		x[inHumidity] = 1
		set(inHumidity+1, 2*w.Humidity-1)
		set(inHumidity+2, 100*W-1)
	}
	set(inPressure, 5*(s.atm/101325-1))
	if run.RPMKnown {
		x[inSpeed] = 1
		set(inSpeed+1, (run.RPM-1500)/700)
	}
	set(inBlower, 2*run.Blower-1.5)
	flag(inRecirc, run.Recirc)
	flag(inRefrigerant, k.Refrigerant == car.R134a)
	flag(inRefrigerant+1, k.Refrigerant == car.R1234yf)
	flag(inRefrigerant+2, k.Refrigerant == car.R12)
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
	flag(inDoors, run.Doors == car.DoorsOpen)
	flag(inDoors+1, run.Doors == car.DoorsClosed)
}

// writeReadings writes the readings, less their shift, into x, whose
// blocks must be zero.
func writeReadings(read car.Readings, s *scaler, by *shift, x []float32) {
	for q, r := range read {
		b, ok := blocks[q]
		if !ok || r.Choice == car.GlassNone {
			continue
		}
		set := func(i int, v float64) { x[b.at+i] = float32(squash(v)) }
		flag := func(i int, on bool) {
			if on {
				x[b.at+i] = 1
			}
		}
		in := func(v float64) float64 { return s.in(q, v) - by.of(q) }
		flag(bFlag, true)
		switch q {
		case car.Low, car.High:
			if r.Swing {
				lo, hi := in(r.Lo), in(r.Hi)
				set(bValue, (lo+hi)/2)
				flag(bSwings, true)
				set(bSpan, hi-lo)
			} else {
				set(bValue, in(r.Value))
			}
			flag(bAtLeast, r.AtLeast)
			flag(bAtMost, r.AtMost)
		case car.SightGlass:
			flag(bBubbles, r.Choice == car.GlassBubbles)
			flag(bFoam, r.Choice == car.GlassFoam)
		case car.Cycling:
			set(bValue, in(r.Value))
			flag(bCycles, r.Value > 0)
		case car.Resting:
			set(bValue, in(r.Value))
			flag(bRestTaken, s.rest.Temperature > 0)
			flag(bSoaked, s.rest.Soaked)
		default:
			set(bValue, in(r.Value))
		}
	}
}

// features writes every input of a simulated case but the standings into x, which
// must be zero and inputSize long.
func features(c *car.Case, s *scaler, x []float32) {
	writeContext(c, s, x)
	writeReadings(c.Readings, s, new(shift), x)
}

// compare fills in how each reading stands against healthy cars of this kind in
// this weather: (value − mean)/spread, from what the base network makes of the
// context left visible in x. With it the other networks need not learn the weather.
func compare(x []float32, mean, sd []float64) {
	for i, q := range quantities {
		b := blocks[q]
		if x[b.at+bFlag] == 0 || q == car.SightGlass {
			continue
		}
		x[b.at+bStanding] = standing(x[b.at+bValue], mean[i], sd[i])
	}
}

// standing is the score of an input against healthy cars.
func standing(x float32, mean, sd float64) float32 {
	return float32(squash((float64(x) - mean) / sd))
}

// squash keeps an input within ±8: beyond that a reading is absurd and its
// exact size says nothing more.
func squash(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return 8 * math.Tanh(x/8)
}
