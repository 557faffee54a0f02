package diagnose

import (
	"math"
	"slices"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/nets"
)

func bandOf(q car.Quantity, v [len(nets.BandLevels)]float64, sc *nets.Scaler) Band {
	return Band{sc.Out(q, v[0]), sc.Out(q, v[1]), sc.Out(q, v[2]), sc.Out(q, v[3]), sc.Out(q, v[4])}
}

// serviceBand turns a service interval into a band: its limits are taken as the
// middle 90 %, spread evenly.
func serviceBand(i car.Interval) Band {
	w := i.Hi - i.Lo
	return Band{i.Lo, i.Lo + 0.3*w, i.Lo + 0.5*w, i.Lo + 0.7*w, i.Hi}
}

// bands returns the healthy bands in force: the service figures where given.
func (k *setting) bands() (low, high Band) {
	h := k.healthy
	for i := range nets.BandLevels {
		h.Low[i] += k.shift.Of(car.Low)
		h.High[i] += k.shift.Of(car.High)
	}
	low, high = bandOf(car.Low, h.Low, k.sc), bandOf(car.High, h.High, k.sc)
	if stated(k.c.Service.Low) {
		low = serviceBand(k.c.Service.Low)
	}
	if stated(k.c.Service.High) {
		high = serviceBand(k.c.Service.High)
	}
	return low, high
}

// stated tells whether the vehicle's own figures hold i.
func stated(i car.Interval) bool { return i.Hi > i.Lo }

// shiftOf is how far the middle of the vehicle's own figures lies from the
// model's median, and what was learnt where there are none: what is left of a reading is
// the car's deviation from itself as it should be.
func shiftOf(c *car.Case, sc *nets.Scaler, h *nets.Healthy, learnt nets.Shift) nets.Shift {
	if i := c.Service.Low; stated(i) {
		learnt.Side[car.LowSide] = sc.In(car.Low, i.Middle()) - h.Low[2]
	}
	if i := c.Service.High; stated(i) {
		learnt.Side[car.HighSide] = sc.In(car.High, i.Middle()) - h.High[2]
	}
	return learnt
}

// regionPoints is the number of corners of a region's outline.
const regionPoints = 48

// Plane gives what the pressure plane shows: the healthy regions, and for each
// of conds the path from healthy to severe, solved for the median car of this
// kind and moved so that it starts at the centre of the region. The case may be
// without readings.
func (m *Model) Plane(c car.Case, conds []car.ConditionID) (Plane, error) {
	k, err := m.about(c)
	if err != nil {
		return Plane{}, err
	}
	return k.plane(conds), nil
}

func (k *setting) plane(conds []car.ConditionID) Plane {
	h, sc := &k.healthy, k.sc
	point := func(zl, zh float64) [2]float64 {
		return [2]float64{
			sc.Out(car.Low, nets.QuantileOf(h.Low[:], zl)+k.shift.Of(car.Low)),
			sc.Out(car.High, nets.QuantileOf(h.High[:], zh)+k.shift.Of(car.High)),
		}
	}
	low, high := k.bands()
	p := Plane{Centre: point(0, 0), Low: car.Interval{Lo: low.P05, Hi: low.P95}, High: car.Interval{Lo: high.P05, Hi: high.P95}}
	kind := normal2{sd: [2]float64{1, 1}, rho: h.Rho}
	p.Regions = kind.regions(point)
	if own, ok := k.own(); ok && own.n[0] > 0 && own.n[1] > 0 {
		p.Own, p.OwnCentre = own.needles.regions(point), point(own.needles.mean[0], own.needles.mean[1])
	}
	p.Drifts = k.m.drifts.of(&k.c, sc, p.Centre, conds)
	return p
}

// normal2 is a bivariate normal distribution of the scores of both needles.
type normal2 struct {
	mean, sd [2]float64
	rho      float64
}

// regions outlines the parts that hold half and nine tenths of it, the wider first;
// point says where two scores lie.
func (n normal2) regions(point func(low, high float64) [2]float64) []Region {
	var out []Region
	for _, level := range []float64{0.9, 0.5} {
		r := math.Sqrt(-2 * math.Log(1-level)) // of a circle that holds level of a bivariate normal
		g := Region{Level: level}
		for i := range regionPoints {
			t := 2 * math.Pi * float64(i) / regionPoints
			a, b := r*math.Cos(t), r*math.Sin(t)
			g.Outline = append(g.Outline, point(n.mean[0]+n.sd[0]*a, n.mean[1]+n.sd[1]*(n.rho*a+math.Sqrt(1-n.rho*n.rho)*b)))
		}
		out = append(out, g)
	}
	return out
}

// WeatherBands gives the healthy bands of this kind of car at other outside
// temperatures, the water in the air kept as it is as far as the air can hold
// it. Service figures hold for the weather of c and move the bands everywhere by
// what they differ there.
func (m *Model) WeatherBands(c car.Case, ambients []float64) ([]WeatherBand, error) {
	here, err := m.about(c)
	if err != nil {
		return nil, err
	}
	water := air.HumidityRatio(c.Weather.Ambient, c.Weather.Humidity, here.sc.Atm)
	var out []WeatherBand
	for _, T := range ambients {
		c.Weather.Ambient = T
		if err := check(&c); err != nil {
			return nil, err
		}
		c.Weather.Humidity = math.Min(air.RelativeHumidity(T, water, here.sc.Atm), 1)
		there := here.sc.At(T)
		clear(here.x)
		nets.WriteContext(&c, there, here.x)
		h := m.nets.HealthyIn(here.x, &here.s)
		for i := range nets.BandLevels {
			h.Low[i] += here.shift.Of(car.Low)
			h.High[i] += here.shift.Of(car.High)
		}
		b := WeatherBand{Ambient: T, Low: bandOf(car.Low, h.Low, there), High: bandOf(car.High, h.High, there)}
		mean, sd := nets.Gaussians(m.nets.Base.Eval(here.x[:nets.ContextSize], &here.s))
		v := slices.Index(quantities, car.Vent)
		at := func(score float64) float64 { return there.Out(car.Vent, mean[v]+score*sd[v]+here.shift.Of(car.Vent)) }
		b.Vent, b.VentMedian = car.Interval{Lo: at(nets.BandScores[0]), Hi: at(nets.BandScores[4])}, at(0)
		out = append(out, b)
	}
	return out, nil
}
