package sim

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
)

// fault is how a condition changes a plant: severity s from 0 (just a fault) to
// 1 (severe), with what the severity leaves open drawn from r. Every range is
// judgement unless noted.
type fault struct {
	id car.ConditionID
	// apply changes f; p is the sound plant.
	apply func(f *cycle.Fault, p *cycle.Plant, s float64, r *fleet.Rand)
	// fits reports whether a car of this kind can have the fault; nil means any.
	fits func(s car.Spec) bool
}

// geo goes from a (s = 0) to b (s = 1) in equal ratios.
func geo(a, b, s float64) float64 { return a * math.Pow(b/a, s) }

func lin(a, b, s float64) float64 { return a + (b-a)*s }

func variable(s car.Spec) bool { return s.Compressor == car.Variable }

func belted(s car.Spec) bool { return s.Compressor != car.Electric }

// steady are the faults that a steady state of the loop shows.
var steady = []fault{
	{id: car.Undercharge, apply: func(f *cycle.Fault, _ *cycle.Plant, s float64, _ *fleet.Rand) {
		f.Charge = lin(0.85, 0.08, s) // down to where a low-pressure switch keeps the compressor off
	}},
	{id: car.Overcharge, apply: func(f *cycle.Fault, _ *cycle.Plant, s float64, _ *fleet.Rand) {
		f.Charge = lin(1.15, 1.65, s)
	}},
	{id: car.Air, apply: func(f *cycle.Fault, _ *cycle.Plant, s float64, _ *fleet.Rand) {
		f.AirPressure = geo(15e3, 300e3, s) // 101 kPa: opened and not evacuated at all; more: nitrogen left from a test
	}},
	{id: car.CondenserAirflow, apply: func(f *cycle.Fault, _ *cycle.Plant, s float64, r *fleet.Rand) {
		kind := r.Float64()
		if kind > 0.88 { // a fan that does not start while the car stands at idle
			f.IdleAir = geo(0.5, 0.12, s)
			return
		}
		if kind < 0.22 { // engine heat reaches the condenser
			f.CondHeat = lin(4, 20, s)
			f.CondAir *= lin(0.95, 0.7, s)
			return
		}
		f.CondAir *= geo(0.72, 0.2, s)
	}},
	{id: car.EvaporatorAirflow, apply: func(f *cycle.Fault, _ *cycle.Plant, s float64, _ *fleet.Rand) {
		f.EvapAir *= geo(0.65, 0.18, s)
	}},
	{id: car.Restriction, apply: func(f *cycle.Fault, p *cycle.Plant, s float64, _ *fleet.Rand) {
		f.LiquidArea = geo(1.5e-6, 0.08e-6, s) * p.Charge / 0.6 // scaled with the system
	}},
	{id: car.ValveClosed, apply: func(f *cycle.Fault, p *cycle.Plant, s float64, _ *fleet.Rand) {
		if p.Metering == car.OrificeTube {
			f.MeterArea = geo(0.65, 0.08, s)
			return
		}
		f.ValveStuck, f.ValveOpening = true, geo(0.30, 0.03, s)
	}},
	{id: car.ValveOpen, apply: func(f *cycle.Fault, p *cycle.Plant, s float64, _ *fleet.Rand) {
		if p.Metering == car.OrificeTube {
			f.MeterArea = lin(1.35, 3, s)
			return
		}
		f.ValveStuck, f.ValveOpening = true, lin(0.7, 1.6, s)
	}},
	{id: car.WeakCompressor, apply: func(f *cycle.Fault, p *cycle.Plant, s float64, _ *fleet.Rand) {
		f.LeakArea = geo(1.0e-6, 4.5e-6, s) * p.Charge / 0.6
		f.EtaV *= 1 - 0.35*s
	}},
	{id: car.Slipping, fits: belted, apply: func(f *cycle.Fault, _ *cycle.Plant, s float64, _ *fleet.Rand) {
		f.Speed = lin(0.75, 0.2, s)
	}},
	{id: car.StuckMinimum, fits: variable, apply: func(f *cycle.Fault, _ *cycle.Plant, s float64, _ *fleet.Rand) {
		f.StrokeStuck = geo(0.35, 0.06, s)
	}},
	{id: car.StuckMaximum, fits: variable, apply: func(f *cycle.Fault, _ *cycle.Plant, s float64, r *fleet.Rand) {
		f.StrokeStuck = 1
		f.EvapAir *= lin(1, 0.5, s*r.Float64()) // ice
	}},
	{id: car.SwitchRange, apply: func(f *cycle.Fault, _ *cycle.Plant, s float64, r *fleet.Rand) {
		if r.Float64() < 0.5 { // acts too late: the coil ices
			f.CutShift, f.FinShift = lin(-35e3, -110e3, s), lin(-3, -9, s)
			f.EvapAir *= lin(1, 0.45, s*r.Float64())
			return
		}
		f.CutShift, f.FinShift = lin(35e3, 110e3, s), lin(3, 9, s)
	}},
	{id: car.SuctionBlocked, apply: func(f *cycle.Fault, p *cycle.Plant, s float64, _ *fleet.Rand) {
		f.SuctionArea = geo(45e-6, 9e-6, s) * p.Charge / 0.6
	}},
}

var steadyByID = func() map[car.ConditionID]fault {
	m := map[car.ConditionID]fault{}
	for _, f := range steady {
		m[f.id] = f
	}
	return m
}()

// IsSteady reports whether condition id is a fault that shows as a steady state of
// the loop, so that [Effect] gives its change.
func IsSteady(id car.ConditionID) bool {
	_, ok := steadyByID[id]
	return ok
}

// Fits reports whether a car of this kind can have the condition. Unknowns of
// spec are taken to allow it.
func Fits(id car.ConditionID, spec car.Spec) bool {
	f, ok := steadyByID[id]
	return !ok || f.fits == nil || spec.Compressor == car.CompressorUnknown || f.fits(spec)
}

// Effect returns the change that condition id of severity 0…1 makes to plant p;
// ok is false for a condition that is not a steady state of the loop. What the
// severity leaves open is drawn from r.
func Effect(id car.ConditionID, p *cycle.Plant, severity float64, r *fleet.Rand) (f cycle.Fault, ok bool) {
	f = cycle.Sound()
	if id == car.Healthy {
		return f, true
	}
	k, ok := steadyByID[id]
	if ok {
		k.apply(&f, p, severity, r)
	}
	return f, ok
}
