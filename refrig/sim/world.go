package sim

import (
	"math"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
)

// World is the distribution that cars, weather and conditions are drawn from.
type World struct {
	Spec   car.Spec     // what is known of the car; unknowns are drawn
	Spread fleet.Spread // of the sizes; 1 is our best judgement
	// Conditions, if set, is the weather and running as reported; the truth then
	// lies round it by the errors of thermometer, hygrometer and tachometer.
	Conditions *cycle.Conditions
	Laws       *cycle.Laws // correlations the cars obey; nil for the standard ones
	Care       Care        // how the cars are read
	// Mixed draws each car from one of several worlds, for a diagnosis that is not
	// sure which one it lives in: see [World.DrawOf].
	Mixed bool
	// Change, if set, is made to every car before its label charge is sized: a world
	// in which all makers build otherwise.
	Change func(*cycle.Plant)
	// Mistake, if set, is made on every visit.
	Mistake func(*Instruments)
	// Met, if set, is the one earlier visit of every pair ([World.DrawPair]).
	Met *Meeting
	// Flatten evens out the odds of the conditions (0 prior odds, 1 all alike);
	// Sample.Weight makes up for it.
	Flatten float64
}

// Sample is one simulated car with what was read off it.
type Sample struct {
	Truth  Truth
	Visit  Instruments // what was wrong with the instruments and the facts typed
	Case   car.Case
	Weight float64
}

// Weather the simulated cars were tested in, K. Beyond it an answer is an
// extrapolation, and a warning says so.
const (
	FleetColdest = 280.15
	FleetHottest = 321.15
)

// DrawConditions draws weather and running as met in a workshop. Judgement: cars
// come when it is warm, mostly near sea level, and are tested at 1500/min with
// the blower high.
func DrawConditions(r *fleet.Rand) cycle.Conditions {
	u := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	c := cycle.Conditions{Blower: 1, RPM: 1500}
	c.Ambient = FleetColdest + (FleetHottest-FleetColdest)*r.Float64()
	if r.Float64() < 0.6 {
		c.Ambient = 273.15 + u(20, 38)
	}
	// Humidity by dew point, which outdoors seldom passes 27 °C.
	dew := math.Min(273.15+u(-5, 27), c.Ambient-0.5)
	c.Humidity = math.Min(math.Max(air.PSatWater(dew)/air.PSatWater(c.Ambient), 0.05), 0.98)
	alt := u(0, 400)
	if r.Float64() < 0.3 {
		alt = u(0, 2600)
	}
	c.PAtm = float64(air.AtmosphericPressure(alt))
	switch v := r.Float64(); { // half are read as the books say, many at idle because nobody said
	case v < 0.30:
		c.RPM = u(650, 950)
	case v < 0.55:
		c.RPM = u(950, 2500)
	}
	if r.Float64() < 0.2 {
		c.Blower = u(0.35, 1)
	}
	c.Recirc = r.Float64() < 0.4
	if c.DoorsShut = r.Float64() < 0.5; c.DoorsShut {
		c.Minutes = u(3, 15)
	}
	c.BonnetShut = r.Float64() < 0.2
	return c
}

// Draw draws one car from w with a condition by its prior odds and reads every
// instrument. A draw whose loop has no audited solution is returned as the
// solver's error; callers count these.
func (w *World) Draw(r *fleet.Rand) (Sample, error) {
	spec := fleet.Complete(r, w.Spec)
	id, weight := w.pick(PriorOf(spec), r)
	return w.DrawOf(r, id, spec, weight)
}

// pick draws a condition by probabilities p, evened out as the world says, with the
// weight that makes up for it.
func (w *World) pick(p []float64, r *fleet.Rand) (id car.ConditionID, weight float64) {
	q := make([]float64, len(p))
	sum := 0.0
	for i, v := range p {
		q[i] = math.Pow(v, 1-w.Flatten)
		if v == 0 {
			q[i] = 0
		}
		sum += q[i]
	}
	k := Pick(q, r)
	return car.Conditions()[k], p[k] / (q[k] / sum)
}

// Pick draws a place in p by the weights there.
func Pick(p []float64, r *fleet.Rand) int {
	sum := 0.0
	for _, v := range p {
		sum += v
	}
	u := r.Float64() * sum
	k := 0
	for k < len(p)-1 && u >= p[k] {
		u -= p[k]
		k++
	}
	return k
}

// DrawMany draws n cars on all processors; the same seed gives the same cars.
// Those whose loop has no solution are counted and left out.
func (w *World) DrawMany(n int, seed uint64) (samples []Sample, failed int) {
	samples = Each(n, 250, seed, w.Draw)
	return samples, n - len(samples)
}

// DrawOf draws one car of a complete spec with the given condition.
//
// In a mixed world 20 % of the cars obey other laws and are more widely spread, 40 %
// differ from the fleet each in a way of their own ([biased]), the rest are the
// fleet's. Nobody knows which world a real car comes from, so an answer that is to
// hold for it has to allow for all of them; it pays with some sharpness.
func (w *World) DrawOf(r *fleet.Rand, id car.ConditionID, spec car.Spec, weight float64) (Sample, error) {
	in := DrawInstruments(w.Care, r)
	if w.Mistake != nil {
		w.Mistake(&in)
	}
	typed := spec
	if w.Conditions != nil { // spec is what was typed; a mistake made the car seem so
		spec = in.typed(spec)
	}
	plant, err := w.plant(r, spec)
	if err != nil {
		return Sample{}, err
	}
	c := DrawConditions(r)
	if w.Conditions != nil {
		c = in.behind(*w.Conditions)
	}
	t, err := Simulate(id, plant, spec, r.Float64(), c, r)
	if err != nil {
		return Sample{}, err
	}
	if t.Car.Size == car.SizeUnknown {
		t.Car.Size = SizeOf(plant.Charge, spec.Evaporators)
	}
	k := Measure(&t, in, r)
	if w.Conditions != nil {
		k.Weather.Ambient, k.Weather.Humidity = w.Conditions.Ambient, w.Conditions.Humidity
		k.Running.RPM = w.Conditions.RPM
		k.Car.Metering, k.Car.Compressor, k.Car.Refrigerant, k.Car.HighPort = typed.Metering, typed.Compressor, typed.Refrigerant, typed.HighPort
	}
	return Sample{t, in, k, weight}, nil
}

// Again reads a car that was drawn once more, on another visit.
func (w *World) Again(s *Sample, r *fleet.Rand) {
	s.Visit = DrawInstruments(w.Care, r)
	if w.Mistake != nil {
		w.Mistake(&s.Visit)
	}
	s.Case = Measure(&s.Truth, s.Visit, r)
}

func (w *World) plant(r *fleet.Rand, spec car.Spec) (*cycle.Plant, error) {
	spread, laws, change := w.Spread, w.Laws, w.Change
	if spread == 0 {
		spread = 1
	}
	if w.Mixed {
		switch u := r.Float64(); {
		case u < 0.2:
			spread, laws = 1.3*spread, &cycle.OtherLaws
		case u < 0.6:
			change = biased(r)
		}
	}
	return fleet.DrawChanged(r, spec, spread, laws, change)
}

// biased draws a way in which a car may differ from the fleet besides its spread:
// a smaller or larger condenser and evaporator, a weaker compressor, warmer air in
// front, another reserve, other set points. Judgement; the sizes are those by which
// published cars differ from the model (package fleet).
func biased(r *fleet.Rand) func(*cycle.Plant) {
	n := func(sd float64) float64 { return sd * fleet.Normal(r) }
	condenser, evaporator := math.Exp(n(0.20)-0.08), math.Exp(n(0.15))
	etaV, preheat := 1-math.Abs(n(0.07)), math.Abs(n(3))
	store, setPoint := math.Exp(n(0.3)), n(20e3)
	return func(p *cycle.Plant) {
		p.CondUAAir *= condenser
		p.CondUARef *= condenser
		p.EvapUAAir *= evaporator
		p.EvapUARef *= evaporator
		p.EtaV0 *= etaV
		p.CondPreheat += preheat
		p.StoreVolume *= store
		p.SetPoint += setPoint
		p.CutOut += setPoint
		p.CutIn += setPoint
	}
}

// DrawSound draws one sound car and reads it, for the healthy bands: the case, and
// where both needles stand at some moment, Pa gauge, free of the instrument's error
// but with the model's discrepancy. It solves one state, not six.
func (w *World) DrawSound(r *fleet.Rand) (k car.Case, low, high float64, err error) {
	spec := fleet.Complete(r, car.Spec{})
	plant, err := w.plant(r, spec)
	if err != nil {
		return k, 0, 0, err
	}
	c := DrawConditions(r)
	s := simulator{plant, spec, c, nil}
	f := cycle.Sound()
	s.scatter(&f, r)
	res, err := cycle.Solve(plant, f, c)
	if err != nil {
		return k, 0, 0, err
	}
	t := Truth{Cause: car.Healthy, Label: car.Healthy, Car: spec, Conditions: c, LabelCharge: plant.Charge}
	s.take(&t, res, f)
	t.Car.Size = SizeOf(plant.Charge, spec.Evaporators)
	k = Measure(&t, DrawInstruments(w.Care, r), r)
	low, high = needleNow(&t, r)
	return k, low, high, nil
}

// SoundAt is where both needles of a sound car of w stand at some moment, Pa gauge,
// in weather that was reported as c: free of the gauges' error but with the model's
// discrepancy. Unknowns of spec are drawn.
func (w *World) SoundAt(spec car.Spec, c cycle.Conditions, r *fleet.Rand) (low, high float64, err error) {
	in := DrawInstruments(w.Care, r)
	spec = in.typed(fleet.Complete(r, spec))
	plant, err := w.plant(r, spec)
	if err != nil {
		return 0, 0, err
	}
	c = in.behind(c)
	s := simulator{plant, spec, c, nil}
	f := cycle.Sound()
	s.scatter(&f, r)
	res, err := cycle.Solve(plant, f, c)
	if err != nil {
		return 0, 0, err
	}
	t := Truth{Car: spec, Conditions: c}
	s.take(&t, res, f)
	low, high = needleNow(&t, r)
	return low, high, nil
}

// SizeOf is what a person would call the size of a system. judgement
func SizeOf(charge float64, evaporators int) car.Size {
	if evaporators == 2 {
		charge /= 1.4
	}
	switch {
	case charge < 0.45:
		return car.SizeSmall
	case charge > 0.68:
		return car.SizeLarge
	}
	return car.SizeMedium
}
