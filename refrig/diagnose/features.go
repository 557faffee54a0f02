package diagnose

import (
	"math"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/fast"
	"twoneedles/refrig/internal/mlp"
)

// The inputs of the networks. Each quantity has a block that opens with a flag,
// 1 if it was read; a quantity that was not read leaves its block zero, which is
// how "not measured" differs from "normal". Scales make every number of order
// one; pressures enter as saturation temperatures, so that one network serves
// every refrigerant.

const contextSize = 30

// block is the place of a quantity in the inputs.
type block struct{ at, size int }

var (
	blocks    map[car.Quantity]block
	inputSize int
)

func init() {
	blocks = map[car.Quantity]block{}
	at := contextSize
	for _, q := range car.Quantities {
		n := 3 // flag, value, score against healthy cars
		switch q {
		case car.Low, car.High:
			n = 7 // … swings, span, at least, at most
		case car.Cycling:
			n = 4 // … cycles at all
		case car.Resting:
			n = 5 // … the car's temperature was taken, it was soaked
		}
		blocks[q] = block{at, n}
		at += n
	}
	inputSize = at
}

// scaler turns readings of one case into network inputs and back.
type scaler struct {
	fluid   *fast.Fluid
	atm     float64
	ambient float64
	rest    float64 // temperature the car rested at, K
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
	s := &scaler{fl, float64(air.AtmosphericPressure(c.Weather.Altitude)), c.Weather.Ambient, c.Weather.Ambient}
	if c.Rest.Temperature > 0 {
		s.rest = c.Rest.Temperature
	}
	return s, nil
}

const (
	lowMid, lowScale   = 275.0, 10.0 // K
	highMid, highScale = 20.0, 10.0  // K above ambient
)

// in maps a reading of q in SI to a network input; out is its inverse.
func (s *scaler) in(q car.Quantity, v float64) float64 {
	switch q {
	case car.Low, car.LowIdle:
		return (s.tsat(v) - lowMid) / lowScale
	case car.High, car.HighIdle, car.WaterTest, car.FanTest:
		return (s.tsat(v) - s.ambient - highMid) / highScale
	case car.Resting:
		return (s.tsat(v) - s.rest) / 8
	case car.Vent:
		return (v - s.ambient + 15) / 8
	case car.DischargeLine, car.CondenserIn:
		return (v - s.ambient - 45) / 15
	case car.SuctionLine:
		return (v - 283) / 10
	case car.LiquidLine, car.CondenserOut:
		return (v - s.ambient - 12) / 8
	case car.Cycling:
		return v / 3
	case car.EqualiseTime:
		return math.Log(math.Max(v, 1) / 60)
	case car.Recovered:
		return (v - 0.8) / 0.4
	}
	return 0
}

func (s *scaler) out(q car.Quantity, x float64) float64 {
	switch q {
	case car.Low, car.LowIdle:
		return s.psat(x*lowScale + lowMid)
	case car.High, car.HighIdle, car.WaterTest, car.FanTest:
		return s.psat(x*highScale + highMid + s.ambient)
	case car.Resting:
		return s.psat(x*8 + s.rest)
	case car.Vent:
		return x*8 + s.ambient - 15
	case car.DischargeLine, car.CondenserIn:
		return x*15 + s.ambient + 45
	case car.SuctionLine:
		return x*10 + 283
	case car.LiquidLine, car.CondenserOut:
		return x*8 + s.ambient + 12
	case car.Cycling:
		return math.Max(x*3, 0)
	case car.EqualiseTime:
		return math.Exp(x) * 60
	case car.Recovered:
		return math.Max(x*0.4+0.8, 0)
	}
	return 0
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

// features writes the inputs of c into x, which must be zero and inputSize long.
func features(c *car.Case, s *scaler, x []float32) {
	set := func(i int, v float64) { x[i] = float32(v) }
	flag := func(i int, b bool) {
		if b {
			x[i] = 1
		}
	}
	w, run, k := &c.Weather, &c.Running, &c.Car
	set(0, (w.Ambient-305)/10)
	if w.HumidityKnown {
		W := air.HumidityRatio(w.Ambient, w.Humidity, s.atm)
		x[1] = 1
		set(2, 2*w.Humidity-1)
		set(3, 100*W-1)
	}
	set(4, 5*(s.atm/101325-1))
	if run.RPMKnown {
		x[5] = 1
		set(6, (run.RPM-1500)/700)
	}
	set(7, 2*run.Blower-1.5)
	flag(8, run.Recirc)
	flag(9, k.Refrigerant == car.R134a)
	flag(10, k.Refrigerant == car.R1234yf)
	flag(11, k.Refrigerant == car.R12)
	flag(12, k.Metering == car.OrificeTube)
	flag(13, k.Metering == car.ExpansionValve)
	flag(14, k.Compressor == car.Fixed)
	flag(15, k.Compressor == car.Variable)
	flag(16, k.Compressor == car.Electric)
	flag(17, k.HighPort == car.PortDischarge)
	flag(18, k.HighPort == car.PortLiquid)
	flag(19, k.Size == car.SizeSmall)
	flag(20, k.Size == car.SizeMedium)
	flag(21, k.Size == car.SizeLarge)
	if k.LabelCharge > 0 {
		x[22] = 1
		set(23, 2*math.Log(k.LabelCharge/0.6))
	}
	flag(24, k.Evaporators == 1)
	flag(25, k.Evaporators == 2)
	flag(26, run.Doors == car.DoorsOpen)
	flag(27, run.Doors == car.DoorsClosed)
	for q, r := range c.Readings {
		b, ok := blocks[q]
		if !ok || r.Choice == car.GlassNone {
			continue
		}
		i := b.at
		x[i] = 1
		switch q {
		case car.Low, car.High:
			if r.Swing {
				lo, hi := s.in(q, r.Lo), s.in(q, r.Hi)
				set(i+1, squash((lo+hi)/2))
				x[i+3] = 1
				set(i+4, squash(hi-lo))
			} else {
				set(i+1, squash(s.in(q, r.Value)))
			}
			flag(i+5, r.AtLeast)
			flag(i+6, r.AtMost)
		case car.SightGlass:
			flag(i+1, r.Choice == car.GlassBubbles)
			flag(i+2, r.Choice == car.GlassFoam)
		case car.Cycling:
			set(i+1, squash(s.in(q, r.Value)))
			flag(i+3, r.Value > 0)
		case car.Resting:
			set(i+1, squash(s.in(q, r.Value)))
			flag(i+3, c.Rest.Temperature > 0)
			flag(i+4, c.Rest.Soaked)
		default:
			set(i+1, squash(s.in(q, r.Value)))
		}
	}
}

// compare fills in how each reading stands against healthy cars of this kind in
// this weather: (value − mean)/spread, from the base network and the context
// left visible in x. With it the other networks need not learn the weather.
func compare(base *mlp.Net, x []float32, s *mlp.Scratch) {
	mean, sd := gaussians(base.Eval(x[:contextSize], s))
	for i, q := range car.Quantities {
		b := blocks[q]
		if x[b.at] == 0 || q == car.SightGlass {
			continue
		}
		x[b.at+2] = standing(x[b.at+1], mean[i], sd[i])
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
