package practice

import (
	"errors"
	"fmt"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/sim"
)

// MaxSeed is the largest number of a puzzle: short enough to be read aloud in a
// class.
const MaxSeed = 999_999

// Puzzle is one car with a hidden condition.
type Puzzle struct {
	Seed  int
	Level Level
	// Case is the car with everything that can be read off it, to the digits its
	// instrument shows.
	Case      car.Case
	Complaint Complaint
	// Truth is hidden until the answer is marked, and so is Sound, what the same car
	// would show in the same weather with nothing wrong.
	Truth, Sound sim.Truth
}

// Tries of one puzzle. Judgement: enough that fewer than one puzzle in a hundred
// is not what its level promises (see the test), and few enough for a phone.
const (
	triesOfCause = 40
	causesTried  = 4
)

// Draw makes the puzzle of a number 1…MaxSeed and a level. Where no try meets
// the level, the last car that solved is kept.
//
// Errors: *refrig.RangeError for a number outside its range. The solver's error
// comes back only if every try failed.
func Draw(m *diagnose.Model, seed int, l Level) (*Puzzle, error) {
	if err := checkSeed(seed); err != nil {
		return nil, err
	}
	if l < Textbook || l > Ambiguous {
		panic(fmt.Sprintf("practice: no level %d", l))
	}
	choice := stream(seed, l, 0)
	var kept *Puzzle
	var last error
	for k := range causesTried {
		id := l.cause(choice, nil)
		for n := range triesOfCause {
			p, ok, err := try(m, seed, l, id, stream(seed, l, 1+k*triesOfCause+n))
			if err != nil {
				last = err
				continue
			}
			if kept = p; ok {
				return p, nil
			}
		}
	}
	if kept == nil {
		return nil, errors.Join(errors.New("practice: no car solved"), last)
	}
	return kept, nil
}

// Cause is the condition that the puzzle of a number tries first, and nearly
// always has. It solves nothing, so that many numbers can be looked through.
func Cause(seed int, l Level) car.ConditionID { return l.cause(stream(seed, l, 0), nil) }

// stream is the source of randomness of one try, independent of how much the
// tries before it used.
func stream(seed int, l Level, n int) *fleet.Rand {
	return fleet.NewRand(uint64(seed)<<16 | uint64(l)<<12 | uint64(n))
}

func checkSeed(seed int) error {
	if seed < 1 || seed > MaxSeed {
		return &refrig.RangeError{Quantity: "number of a practice case", Value: float64(seed), Min: 1, Max: MaxSeed, Source: "definition"}
	}
	return nil
}

// try draws one car with the condition and reports whether the level keeps it.
func try(m *diagnose.Model, seed int, l Level, id car.ConditionID, r *fleet.Rand) (*Puzzle, bool, error) {
	spec := fleet.Complete(r, l.spec())
	for n := 0; !sim.Fits(id, spec); n++ {
		if n == 100 { // four cars in ten have a variable compressor, the rarest need
			return nil, false, fmt.Errorf("practice: no car can have %s", id)
		}
		spec = fleet.Complete(r, l.spec())
	}
	w := sim.World{Care: sim.Careful, Spread: l.spread()} // a student is not misled by a thermometer
	s, err := w.DrawBeside(r, id, spec, l.conditions(r))
	if err != nil {
		return nil, false, err
	}
	p := &Puzzle{Seed: seed, Level: l, Case: shown(s.Case), Truth: s.Truth, Sound: s.Sound}
	p.Complaint = complain(p, r)
	all, err := m.Rank(p.Case)
	if err != nil {
		return nil, false, err
	}
	desk := NewDesk(p)
	two, err := m.Rank(desk.Case())
	if err != nil {
		return nil, false, err
	}
	return p, l.keeps(&p.Truth, &two, &all), nil
}

// Answers lists what can be the matter with the puzzle's car, in the order of
// the catalogue.
func (p *Puzzle) Answers() []car.ConditionID {
	var out []car.ConditionID
	for _, id := range car.Conditions() {
		if id != car.NoneOfThese && sim.Fits(id, p.Case.Car) {
			out = append(out, id)
		}
	}
	return out
}
