package diagnose

import (
	"math"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/mlp"
)

// healthy is the distribution of both needles over healthy cars, scaled.
type healthy struct {
	low, high [len(bandLevels)]float64
	rho       float64
}

func (m *Model) healthy(c *car.Case, sc *scaler, s *mlp.Scratch) (h healthy) {
	x := make([]float32, inputSize)
	k := *c
	k.Readings = nil
	features(&k, sc, x)
	y := m.nets.Bands.Eval(x[:contextSize], s)
	n := len(bandLevels)
	for i := range bandLevels {
		h.low[i], h.high[i] = float64(y[i]), float64(y[n+i])
		if i > 0 { // quantiles may not cross
			h.low[i] = math.Max(h.low[i], h.low[i-1])
			h.high[i] = math.Max(h.high[i], h.high[i-1])
		}
	}
	h.rho = correlation(y[2*n])
	return h
}

func bandOf(q car.Quantity, v [len(bandLevels)]float64, sc *scaler) Band {
	return Band{sc.out(q, v[0]), sc.out(q, v[1]), sc.out(q, v[2]), sc.out(q, v[3]), sc.out(q, v[4])}
}

// serviceBand turns a service interval into a band: its limits are taken as the
// middle 90 %, spread evenly.
func serviceBand(i car.Interval) Band {
	w := i.Hi - i.Lo
	return Band{i.Lo, i.Lo + 0.3*w, i.Lo + 0.5*w, i.Lo + 0.7*w, i.Hi}
}

// bands returns the healthy bands in force: the service figures where given.
func (a *asked) bands() (low, high Band) { return a.m.bandsOf(&a.c, a.sc, &a.s) }

func (m *Model) bandsOf(c *car.Case, sc *scaler, s *mlp.Scratch) (low, high Band) {
	h := m.healthy(c, sc, s)
	low, high = bandOf(car.Low, h.low, sc), bandOf(car.High, h.high, sc)
	if c.Service.Low.Hi > c.Service.Low.Lo {
		low = serviceBand(c.Service.Low)
	}
	if c.Service.High.Hi > c.Service.High.Lo {
		high = serviceBand(c.Service.High)
	}
	return low, high
}

// toServiceBand moves the pressures read so that the middle of the vehicle's own
// figures falls on the model's median: what is left is the car's deviation from
// itself as it should be.
func (m *Model) toServiceBand(c car.Case, sc *scaler, s *mlp.Scratch) car.Case {
	if c.Service.Low.Hi <= c.Service.Low.Lo && c.Service.High.Hi <= c.Service.High.Lo {
		return c
	}
	h := m.healthy(&c, sc, s)
	out := car.Readings{}
	for q, r := range c.Readings {
		var iv car.Interval
		var mid float64
		switch q {
		case car.Low, car.LowIdle:
			iv, mid = c.Service.Low, h.low[2]
		case car.High, car.HighIdle, car.WaterTest, car.FanTest:
			iv, mid = c.Service.High, h.high[2]
		}
		if iv.Hi > iv.Lo {
			by := mid - sc.in(q, (iv.Lo+iv.Hi)/2) // readings of one side have one scale
			move := func(v float64) float64 { return sc.out(q, sc.in(q, v)+by) }
			r.Value, r.Lo, r.Hi = move(r.Value), move(r.Lo), move(r.Hi)
		}
		out[q] = r
	}
	c.Readings = out
	return c
}

// regionPoints is the number of corners of a region's outline.
const regionPoints = 48

// Plane gives what the pressure plane shows: the healthy regions, and for each
// of conds the path from healthy to severe, solved for the median car of this
// kind and moved so that it starts at the centre of the region.
func (m *Model) Plane(c car.Case, conds []car.ConditionID) (Plane, error) {
	if c.Readings == nil {
		c.Readings = car.Readings{}
	}
	if err := check(&c); err != nil && len(c.Readings) > 0 {
		return Plane{}, err
	}
	sc, err := newScaler(&c)
	if err != nil {
		return Plane{}, err
	}
	var s mlp.Scratch
	h := m.healthy(&c, sc, &s)
	shift := m.serviceShift(&c, sc, h)
	point := func(zl, zh float64) [2]float64 {
		return [2]float64{
			sc.out(car.Low, quantileOf(h.low[:], zl)+shift[0]),
			sc.out(car.High, quantileOf(h.high[:], zh)+shift[1]),
		}
	}
	p := Plane{Centre: point(0, 0)}
	for _, level := range []float64{0.9, 0.5} {
		r := math.Sqrt(-2 * math.Log(1-level)) // of a circle that holds level of a bivariate normal
		g := Region{Level: level}
		for i := range regionPoints {
			t := 2 * math.Pi * float64(i) / regionPoints
			a, b := r*math.Cos(t), r*math.Sin(t)
			g.Outline = append(g.Outline, point(a, h.rho*a+math.Sqrt(1-h.rho*h.rho)*b))
		}
		p.Regions = append(p.Regions, g)
	}
	p.Drifts = m.drifts.of(&c, sc, p.Centre, conds)
	return p, nil
}

func (m *Model) serviceShift(c *car.Case, sc *scaler, h healthy) (shift [2]float64) {
	if i := c.Service.Low; i.Hi > i.Lo {
		shift[0] = sc.in(car.Low, (i.Lo+i.Hi)/2) - h.low[2]
	}
	if i := c.Service.High; i.Hi > i.Lo {
		shift[1] = sc.in(car.High, (i.Lo+i.Hi)/2) - h.high[2]
	}
	return shift
}

// WeatherBands gives the healthy bands of this kind of car at other outside
// temperatures, the water in the air kept as it is as far as the air can hold
// it. Service figures hold for the weather of c and move the bands everywhere by
// what they differ there.
func (m *Model) WeatherBands(c car.Case, ambients []float64) ([]WeatherBand, error) {
	sc, err := newScaler(&c)
	if err != nil {
		return nil, err
	}
	W := air.HumidityRatio(c.Weather.Ambient, c.Weather.Humidity, sc.atm)
	var s mlp.Scratch
	shift := m.serviceShift(&c, sc, m.healthy(&c, sc, &s))
	var out []WeatherBand
	for _, T := range ambients {
		k := c
		k.Weather.Ambient = T
		k.Weather.Humidity = math.Min(air.RelativeHumidity(T, W, sc.atm), 1)
		if err := check(&k); err != nil && len(k.Readings) > 0 {
			return nil, err
		}
		there := &scaler{sc.fluid, sc.atm, T, T}
		h := m.healthy(&k, there, &s)
		for i := range bandLevels {
			h.low[i] += shift[0]
			h.high[i] += shift[1]
		}
		out = append(out, WeatherBand{T, bandOf(car.Low, h.low, there), bandOf(car.High, h.high, there)})
	}
	return out, nil
}
