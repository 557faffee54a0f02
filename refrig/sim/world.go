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
	// Flatten evens out the odds of the conditions (0 prior odds, 1 all alike);
	// Sample.Weight makes up for it.
	Flatten float64
}

// Sample is one simulated car with what was read off it.
type Sample struct {
	Truth  Truth
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
	if r.Float64() < 0.5 {
		c.RPM = u(700, 2500)
	}
	if r.Float64() < 0.2 {
		c.Blower = u(0.35, 1)
	}
	c.Recirc = r.Float64() < 0.3
	return c
}

// Draw draws one car from w with a condition by its prior odds and reads every
// instrument. A draw whose loop has no audited solution is returned as the
// solver's error; callers count these.
func (w *World) Draw(r *fleet.Rand) (Sample, error) {
	spec := fleet.Complete(r, w.Spec)
	p := PriorOf(spec)
	q := make([]float64, len(p))
	sum := 0.0
	for i, v := range p {
		q[i] = math.Pow(v, 1-w.Flatten)
		if v == 0 {
			q[i] = 0
		}
		sum += q[i]
	}
	u := r.Float64() * sum
	k := 0
	for k < len(q)-1 && u >= q[k] {
		u -= q[k]
		k++
	}
	return w.DrawOf(r, car.Conditions()[k], spec, p[k]/(q[k]/sum))
}

// DrawMany draws n cars on all processors; the same seed gives the same cars.
// Those whose loop has no solution are counted and left out.
func (w *World) DrawMany(n int, seed uint64) (samples []Sample, failed int) {
	all := make([]Sample, n)
	Parallel(n, 250, seed, func(_, lo, hi int, r *fleet.Rand) {
		for i := lo; i < hi; i++ {
			if s, err := w.Draw(r); err == nil {
				all[i] = s
			}
		}
	})
	for _, s := range all {
		if s.Weight > 0 {
			samples = append(samples, s)
		}
	}
	return samples, n - len(samples)
}

// DrawOf draws one car of a complete spec with the given condition.
func (w *World) DrawOf(r *fleet.Rand, id car.ConditionID, spec car.Spec, weight float64) (Sample, error) {
	spread := w.Spread
	if spread == 0 {
		spread = 1
	}
	plant, err := fleet.DrawUnder(r, spec, spread, w.Laws)
	if err != nil {
		return Sample{}, err
	}
	c := DrawConditions(r)
	if w.Conditions != nil {
		c = *w.Conditions
		c.Ambient += SdAmbient * fleet.Normal(r)
		c.Humidity = math.Min(math.Max(c.Humidity+SdRH*fleet.Normal(r), 0.02), 1)
		c.RPM += SdRPM * fleet.Normal(r)
	}
	t, err := Simulate(id, plant, spec, r.Float64(), c, r)
	if err != nil {
		return Sample{}, err
	}
	if t.Car.Size == car.SizeUnknown {
		t.Car.Size = SizeOf(plant.Charge, spec.Evaporators)
	}
	k := Measure(&t, r)
	if w.Conditions != nil {
		k.Weather.Ambient, k.Weather.Humidity = w.Conditions.Ambient, w.Conditions.Humidity
		k.Running.RPM = w.Conditions.RPM
	}
	return Sample{t, k, weight}, nil
}

// DrawSound draws one sound car and reads it, for the healthy bands: the case, and
// where both needles stand at some moment, Pa gauge, free of the instrument's error
// but with the model's discrepancy. It solves one state, not six.
func (w *World) DrawSound(r *fleet.Rand) (k car.Case, low, high float64, err error) {
	spec := fleet.Complete(r, car.Spec{})
	plant, err := fleet.Draw(r, spec, 1)
	if err != nil {
		return k, 0, 0, err
	}
	c := DrawConditions(r)
	f := cycle.Sound()
	scatter(&f, r)
	res, err := cycle.Solve(plant, f, c)
	if err != nil {
		return k, 0, 0, err
	}
	t := Truth{Cause: car.Healthy, Label: car.Healthy, Car: spec, Conditions: c, LabelCharge: plant.Charge}
	s := simulator{plant, spec, c}
	s.take(&t, res, f)
	t.Car.Size = SizeOf(plant.Charge, spec.Evaporators)
	k = Measure(&t, r)
	low, high = needleNow(&t, r)
	return k, low, high, nil
}

// SoundNeedles is where both needles of a sound car stand at some moment, Pa gauge,
// free of the instrument's error but with the model's discrepancy.
func SoundNeedles(plant *cycle.Plant, spec car.Spec, c cycle.Conditions, r *fleet.Rand) (low, high float64, err error) {
	f := cycle.Sound()
	scatter(&f, r)
	res, err := cycle.Solve(plant, f, c)
	if err != nil {
		return 0, 0, err
	}
	t := Truth{Car: spec, Conditions: c}
	(&simulator{plant, spec, c}).take(&t, res, f)
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
