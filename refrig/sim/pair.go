package sim

import (
	"maps"
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
)

// own is what is peculiar to one car besides its sizes and stays from visit to visit:
// how it is swept, worn and charged, and how far the model is from it.
type own struct {
	charge                                      float64 // share of the label charge
	condAir, evapAir, etaV                      float64 // factors
	air                                         float64 // Pa
	low, high, vent, discharge, suction, liquid float64 // of the model's error, in its standard deviations
	glass                                       bool
}

// Of the model's error in pipe temperatures half the variance stays with the car, the
// other half is drawn for each state it is read in. Judgement: unlike for the needles
// and the vent no table parts the two. These are the shares of the deviation.
var (
	keptOfPipes  = math.Sqrt(0.5)
	freshOfPipes = math.Sqrt(0.5)
)

// drawOwn draws what is peculiar to a car; the spreads are those of simulator.scatter.
func drawOwn(r *fleet.Rand) own {
	n := func() float64 { return fleet.Normal(r) }
	return own{charge: 1 + 0.04*n(), condAir: math.Exp(0.06 * n()), evapAir: math.Exp(0.06 * n()), etaV: math.Exp(0.04 * n()),
		air: 2.5e3 * math.Abs(n()), low: n(), high: n(), vent: n(), discharge: n(), suction: n(), liquid: n(), glass: r.Float64() < 0.3}
}

// later is the same car on another day: a little more or less dirt. Judgement.
func (o own) later(r *fleet.Rand) own {
	o.condAir *= math.Exp(0.03 * fleet.Normal(r))
	o.evapAir *= math.Exp(0.03 * fleet.Normal(r))
	return o
}

func (o *own) scatter(f *cycle.Fault) {
	f.Charge *= o.charge
	f.CondAir *= o.condAir
	f.EvapAir *= o.evapAir
	f.EtaV *= o.etaV
	f.AirPressure += o.air
}

// Pair is one car on two or more visits: sound on the earlier ones, today with a
// condition. Case.Earlier holds what was read then, the latest first.
type Pair struct {
	Sample
	// Wrong says what is wrong with the earlier visits.
	Wrong Wrong
	Then  []Truth // what perfect instruments would have shown on the earlier visits
	again func(r *fleet.Rand) car.Case
}

// Meeting is an earlier visit as it is known from outside.
type Meeting struct {
	Months, Charge float64           // as in car.Visit
	Conditions     *cycle.Conditions // weather and running as reported
}

// Wrong says why earlier visits may be no ruler for a car.
type Wrong int

// What may be wrong with earlier visits.
const (
	NotWrong     Wrong = iota
	AnotherCar         // they are another car's with the same refrigerant
	NotSoundThen       // the car had a fault then
)

// ReadThen reports whether a reading of q on an earlier visit says something of the
// car today: needles, temperatures and the clutch do; tests that load the system and
// a charge that was recovered do not.
func ReadThen(q car.Quantity) bool {
	switch q {
	case car.Low, car.High, car.Vent, car.DischargeLine, car.SuctionLine, car.LiquidLine, car.CondenserIn, car.CondenserOut,
		car.Resting, car.Cycling, car.LowIdle, car.HighIdle:
		return true
	}
	return false
}

// How often, in a workshop. Judgement.
const (
	anotherCar   = 0.04
	notSoundThen = 0.06
)

// How long ago a car was last seen, months, evenly by its logarithm; and how often its
// charge was known by weight then. Judgement: repairs end with a weighed charge,
// checks do not.
const (
	leastMonths, mostMonths = 0.5, 60
	weighedThen             = 0.5
)

// DrawPair draws one car of w with earlier visits and a condition today. Spec and
// Conditions of w, if set, hold for today; the weather of earlier visits is drawn.
func (w *World) DrawPair(r *fleet.Rand) (Pair, error) {
	return w.DrawPairAs(r, wrongOf(r.Float64()))
}

func wrongOf(u float64) Wrong {
	switch {
	case u < anotherCar:
		return AnotherCar
	case u < anotherCar+notSoundThen:
		return NotSoundThen
	}
	return NotWrong
}

// DrawPairAs is [World.DrawPair] with what is wrong with the earlier visits given.
func (w *World) DrawPairAs(r *fleet.Rand, wrong Wrong) (Pair, error) {
	spec := fleet.Complete(r, w.Spec)
	months := math.Exp(math.Log(leastMonths) + math.Log(mostMonths/leastMonths)*r.Float64())
	charge := 0.0
	if r.Float64() < weighedThen {
		charge = 1
	}
	if w.Met != nil {
		months, charge = w.Met.Months, w.Met.Charge
	}
	p := PriorOf(spec)
	Leaked(p, months, charge)
	id, weight := w.pick(p, r)

	o := drawOwn(r)
	o.charge = 1 + 0.02*fleet.Normal(r) // weighed: the display and the scale
	if charge == 0 {
		o.charge *= soundLeast + (1-soundLeast)*r.Float64()
	}
	plant, err := w.plant(r, spec)
	if err != nil {
		return Pair{}, err
	}
	in := w.instruments(r)
	k := Pair{Wrong: wrong}

	// Today.
	now := o.later(r)
	severity := r.Float64()
	switch id {
	case car.Undercharge, car.Overcharge:
		left := leak(o.charge, months, r, func(c float64) bool { return (c < shortBelow) == (id == car.Undercharge) })
		if id == car.Undercharge {
			severity = math.Min(math.Max((shortBelow-left)/(shortBelow-leastShort), 0), 1)
		}
		now.charge = 1
	default:
		now.charge = leak(o.charge, months, r, func(c float64) bool { return c >= shortBelow })
	}
	c := DrawConditions(r)
	if w.Conditions != nil {
		c = in.behind(*w.Conditions)
	}
	if k.Truth, err = simulate(id, simulator{plant, spec, c, &now}, severity, r); err != nil {
		return Pair{}, err
	}
	k.Truth.HasGlass = o.glass
	if k.Truth.Car.Size == car.SizeUnknown {
		k.Truth.Car.Size = SizeOf(plant.Charge, spec.Evaporators)
	}
	k.Weight = weight

	earlier, err := w.drawThen(r, wrong, o, plant, spec, months)
	if err != nil {
		return Pair{}, err
	}
	for _, e := range earlier {
		k.Then = append(k.Then, e.truth)
	}
	today := k.Truth
	k.again = func(r *fleet.Rand) car.Case {
		c := measure(&today, in, &now, r)
		for i := range earlier {
			c.Earlier = append(c.Earlier, w.measureThen(&earlier[i], in, c.Car.Refrigerant, r))
		}
		c.Earlier[0].Charge = charge
		return c
	}
	k.Visit, k.Case = in, k.again(r)
	return k, nil
}

// thenVisit is an earlier visit as it was.
type thenVisit struct {
	truth Truth
	own   own
	in    *Instruments // nil: drawn anew for every reading
	ago   float64      // months
}

// drawThen draws the earlier visits: the car as it was sound, or what was taken for it.
func (w *World) drawThen(r *fleet.Rand, wrong Wrong, then own, plant *cycle.Plant, spec car.Spec, months float64) ([]thenVisit, error) {
	fault := car.Healthy
	switch wrong {
	case AnotherCar:
		then, spec = drawOwn(r), fleet.Complete(r, car.Spec{Refrigerant: spec.Refrigerant})
		var err error
		if plant, err = w.plant(r, spec); err != nil {
			return nil, err
		}
	case NotSoundThen:
		for fault == car.Healthy || !IsSteady(fault) {
			fault, _ = w.pick(PriorOf(spec), r)
		}
	}
	visits := 1
	switch u := r.Float64(); {
	case u > 0.85:
		visits = 3
	case u > 0.6:
		visits = 2
	}
	if w.Met != nil {
		visits = 1
	}
	var out []thenVisit
	howBad := 0.5 * r.Float64() // nobody takes a severe fault for sound
	for v := range visits {
		o := then.later(r)
		c := DrawConditions(r)
		var before *Instruments
		if w.Met != nil {
			in := w.instruments(r)
			before, c = &in, in.behind(*w.Met.Conditions)
		}
		t, err := simulateThen(fault, simulator{plant, spec, c, &o}, howBad, r)
		if err != nil {
			return nil, err
		}
		t.HasGlass = o.glass
		out = append(out, thenVisit{t, o, before, months * float64(1+v)})
	}
	return out, nil
}

// measureThen reads an earlier visit; what is typed wrong of the car today was so then.
func (w *World) measureThen(e *thenVisit, today Instruments, refrigerant string, r *fleet.Rand) car.Visit {
	var before Instruments
	if e.in != nil {
		before = *e.in
	} else {
		before = w.instruments(r)
	}
	before.MeteringWrong, before.CompressorWrong, before.RefrigerantWrong, before.PortWrong = today.MeteringWrong, today.CompressorWrong, today.RefrigerantWrong, today.PortWrong
	b := measure(&e.truth, before, &e.own, r)
	steady := b.Readings.Steadied()
	maps.DeleteFunc(steady, func(q car.Quantity, v car.Reading) bool { return v.Swing || !ReadThen(q) })
	return car.Visit{Refrigerant: refrigerant, Weather: b.Weather, Running: b.Running, Rest: b.Rest, Readings: steady, Months: e.ago}
}

// AgainPair reads every visit of the pair once more, today's with the instruments of before.
func (k *Pair) AgainPair(r *fleet.Rand) { k.Case = k.again(r) }

// DrawPairs draws n pairs on all processors; the same seed gives the same ones. Those
// whose loop has no solution are left out.
func DrawPairs(n int, seed uint64, draw func(r *fleet.Rand) (Pair, error)) []Pair {
	return Each(n, 250, seed, draw)
}

func (w *World) instruments(r *fleet.Rand) Instruments {
	in := DrawInstruments(w.Care, r)
	if w.Mistake != nil {
		w.Mistake(&in)
	}
	return in
}

// leastShort is the charge of the severest shortage: see the effect of
// car.Undercharge.
const leastShort = 0.08

// leak is what is left of a charge after some months at a rate drawn from what cars
// lose, among the outcomes that fit. Where none of many draws fits (a car that had no
// time to get short) the charge lies where it fits, at random.
func leak(charge, months float64, r *fleet.Rand, fits func(c float64) bool) float64 {
	for range 200 {
		if c := charge - months/12*leakMedian*math.Exp(leakSpread*fleet.Normal(r)); c > leastShort && fits(c) {
			return c
		}
	}
	for range 200 {
		if c := leastShort + (1-leastShort)*r.Float64(); fits(c) {
			return c
		}
	}
	return charge
}

// simulateThen is the truth of an earlier visit, of which the needles, the temperatures
// and the idle test matter: two solves and not six.
func simulateThen(id car.ConditionID, s simulator, severity float64, r *fleet.Rand) (Truth, error) {
	t := Truth{Cause: id, Label: id, Severity: severity, Car: s.spec, Conditions: s.c, LabelCharge: s.plant.Charge, ChargeShare: 1}
	f, _ := Effect(id, s.plant, severity, r)
	s.scatter(&f, r)
	found, err := cycle.Solve(s.plant, f, s.c)
	if err != nil {
		return t, err
	}
	s.take(&t, found, f)
	idle := s.c
	idle.RPM = idleRPM
	if found, err = cycle.Solve(s.plant, f, idle); err != nil {
		return t, err
	}
	t.LowIdle, t.HighIdle, t.Water, t.Fan = found.Low, found.High, t.High.Mean, t.High.Mean
	s.unsteady(&t, r)
	return t, nil
}
