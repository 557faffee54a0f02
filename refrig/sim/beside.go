package sim

import (
	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
)

// Beside is one car with a condition, and what the very same car in the same weather
// would show with nothing wrong: the difference is what the condition does, and not
// how cars differ.
type Beside struct {
	Sample
	Sound Truth
}

// DrawBeside draws one car of a complete spec with the given condition, in the weather
// c, and the same car sound. Of w it takes spread, laws, care and mistakes; the weather
// is c and not that of w.
//
// Errors: the solver's, if either loop has no audited solution.
func (w *World) DrawBeside(r *fleet.Rand, id car.ConditionID, spec car.Spec, c cycle.Conditions) (Beside, error) {
	in := w.instruments(r)
	plant, err := w.plant(r, spec)
	if err != nil {
		return Beside{}, err
	}
	o := drawOwn(r)
	s := simulator{plant, spec, c, &o}
	t, err := simulate(id, s, r.Float64(), r)
	if err != nil {
		return Beside{}, err
	}
	if t.Car.Size == car.SizeUnknown {
		t.Car.Size = SizeOf(plant.Charge, spec.Evaporators)
	}
	// Not by simulate: it would let some sound cars swing at random.
	sound := Truth{Cause: car.Healthy, Label: car.Healthy, Weighed: car.Healthy, Car: t.Car, Conditions: c, LabelCharge: plant.Charge}
	f := cycle.Sound()
	s.scatter(&f, nil)
	if err := s.fill(&sound, f); err != nil {
		return Beside{}, err
	}
	sound.SoundCooling = sound.Cooling
	return Beside{Sample{t, in, measure(&t, in, &o, r), 1}, sound}, nil
}
