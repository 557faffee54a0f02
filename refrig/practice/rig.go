package practice

import (
	"maps"
	"math"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fast"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/sim"
)

// Dial is one thing that can be turned on a [Rig]. Its words are
// explore.dial.<id>.
type Dial string

// The dials.
const (
	Outside     Dial = "ambient"     // K
	Humidity    Dial = "humidity"    // relative, 0…1
	Altitude    Dial = "altitude"    // m
	Engine      Dial = "rpm"         // 1/min
	Blower      Dial = "blower"      // share of its highest setting
	Charge      Dial = "charge"      // share of the label charge
	CondAir     Dial = "cond_air"    // share of a sound car's air through the condenser
	EvapAir     Dial = "evap_air"    // share of a sound car's air through the evaporator
	Restriction Dial = "restriction" // in the liquid line: 0 none … 1 severe
	Wear        Dial = "wear"        // of the compressor: 0 none … 1 severe
	Air         Dial = "air"         // its partial pressure at rest, Pa
)

// DialRange is what a dial can be turned through.
type DialRange struct {
	Dial           Dial
	Min, Max, Step float64 // SI
	Rest           float64 // of a sound car on a warm day
	Fault          bool    // it is wrong with the car, not with the weather or the driver
}

// Dials lists every dial in the order of the page. The ranges are judgement:
// as far as a workshop sees them and the model of the loop is used
// (diagnose.Effect).
var Dials = []DialRange{
	{Dial: Outside, Min: 283.15, Max: 318.15, Step: 0.5, Rest: 303.15},
	{Dial: Humidity, Min: 0.1, Max: 0.95, Step: 0.05, Rest: 0.5},
	{Dial: Altitude, Min: 0, Max: 2500, Step: 100, Rest: 0},
	{Dial: Engine, Min: 700, Max: 3000, Step: 50, Rest: 1500},
	{Dial: Blower, Min: 0.3, Max: 1, Step: 0.05, Rest: 1},
	{Dial: Charge, Min: 0.25, Max: 1.6, Step: 0.01, Rest: 1, Fault: true},
	{Dial: CondAir, Min: 0.2, Max: 1.2, Step: 0.01, Rest: 1, Fault: true},
	{Dial: EvapAir, Min: 0.2, Max: 1.2, Step: 0.01, Rest: 1, Fault: true},
	{Dial: Restriction, Min: 0, Max: 0.8, Step: 0.01, Rest: 0, Fault: true},
	{Dial: Wear, Min: 0, Max: 1, Step: 0.01, Rest: 0, Fault: true},
	{Dial: Air, Min: 0, Max: 110e3, Step: 1e3, Rest: 0, Fault: true},
}

// RangeOf returns the range of a dial; an unknown dial panics.
func RangeOf(d Dial) DialRange {
	for _, r := range Dials {
		if r.Dial == d {
			return r
		}
	}
	panic("practice: no dial " + string(d))
}

// Settings are the dials of a rig and the kind of car that stands on it.
type Settings struct {
	Refrigerant string           `json:"refrigerant"`
	Metering    car.Metering     `json:"metering"`
	Compressor  car.Compressor   `json:"compressor"`
	At          map[Dial]float64 `json:"at"`
}

// NewSettings is a sound car with an expansion valve on a warm day.
func NewSettings() Settings {
	s := Settings{Refrigerant: car.R134a, Metering: car.ExpansionValve, Compressor: car.Fixed, At: map[Dial]float64{}}
	for _, d := range Dials {
		s.At[d.Dial] = d.Rest
	}
	return s
}

// With returns s with one dial turned to v, held within its range and on its
// steps.
func (s Settings) With(d Dial, v float64) Settings {
	r := RangeOf(d)
	if !(v >= r.Min) { // NaN too
		v = r.Min
	}
	v = math.Min(v, r.Max)
	s.At = maps.Clone(s.At)
	s.At[d] = r.Min + to(v-r.Min, r.Step)
	return s
}

// Sane returns s with every dial in its range and a kind of car that exists:
// what was stored is restored, never trusted.
func (s Settings) Sane() Settings {
	out := NewSettings()
	switch s.Refrigerant {
	case car.R134a, car.R1234yf, car.R12:
		out.Refrigerant = s.Refrigerant
	}
	if s.Compressor == car.Fixed || s.Compressor == car.Variable || s.Compressor == car.Electric {
		out.Compressor = s.Compressor
	}
	if s.Metering == car.OrificeTube || s.Metering == car.ExpansionValve {
		out.Metering = s.Metering
	}
	for d, v := range s.At {
		for _, r := range Dials {
			if r.Dial == d {
				out = out.With(d, v)
			}
		}
	}
	return out
}

// Spec is the car on the rig.
func (s Settings) Spec() car.Spec {
	return car.Spec{Refrigerant: s.Refrigerant, Metering: s.Metering, Compressor: s.Compressor, HighPort: car.PortDischarge, Evaporators: 1}
}

// Conditions are the air round the car and how it runs.
func (s Settings) Conditions() cycle.Conditions {
	return cycle.Conditions{
		Ambient: s.At[Outside], Humidity: s.At[Humidity], PAtm: float64(air.AtmosphericPressure(s.At[Altitude])),
		RPM: s.At[Engine], Blower: s.At[Blower],
	}
}

// Case is what a technician would say of the rig before reading the needles.
func (s Settings) Case() car.Case {
	return car.Case{
		Car:     s.Spec(),
		Weather: car.Weather{Ambient: s.At[Outside], Humidity: s.At[Humidity], Altitude: s.At[Altitude], HumidityKnown: true},
		Running: car.Running{RPM: s.At[Engine], Blower: s.At[Blower], RPMKnown: true},
	}
}

// fault puts the dials into the equations of the loop. Restriction and wear take
// the strengths of the diagnosis; those begin at what can just be noticed, so
// the first fifth of the dial leads up to that.
func (s Settings) fault(p *cycle.Plant) cycle.Fault {
	f := cycle.Sound()
	f.Charge, f.AirPressure, f.CondAir, f.EvapAir = s.At[Charge], s.At[Air], s.At[CondAir], s.At[EvapAir]
	const lead = 5
	if x := s.At[Restriction]; x > 0 {
		e, _ := sim.Effect(car.Restriction, p, x, fleet.NewRand(0))
		f.LiquidArea = e.LiquidArea / math.Min(lead*x, 1)
	}
	if x := s.At[Wear]; x > 0 {
		e, _ := sim.Effect(car.WeakCompressor, p, x, fleet.NewRand(0))
		f.LeakArea, f.EtaV = e.LeakArea*math.Min(lead*x, 1), e.EtaV
	}
	return f
}

// Rig holds a typical car of each kind and solves it for any setting. Not safe
// for concurrent use.
type Rig struct{ plants map[car.Spec]*cycle.Plant }

// Solve gives the state of the car on the rig.
//
// Errors: those of [cycle.Solve].
func (g *Rig) Solve(s Settings) (cycle.Result, error) {
	p, err := g.plant(s.Spec())
	if err != nil {
		return cycle.Result{}, err
	}
	return cycle.Solve(p, s.fault(p), s.Conditions())
}

// Fluid is the refrigerant in the car on the rig.
func (g *Rig) Fluid(s Settings) (*fast.Fluid, error) {
	p, err := g.plant(s.Spec())
	if err != nil {
		return nil, err
	}
	return p.Fluid, nil
}

// plant sizes the car of a kind the first time it is wanted: that takes as long
// as several solutions.
func (g *Rig) plant(spec car.Spec) (*cycle.Plant, error) {
	if p, ok := g.plants[spec]; ok {
		return p, nil
	}
	p, err := fleet.Typical(spec)
	if err != nil {
		return nil, err
	}
	if g.plants == nil {
		g.plants = map[car.Spec]*cycle.Plant{}
	}
	g.plants[spec] = p
	return p, nil
}
