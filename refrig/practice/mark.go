package practice

import (
	"iter"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/sim"
)

// Outcome says what an answer was worth.
type Outcome string

// The outcomes; their words are practice.outcome.<code>.
const (
	Right        Outcome = "right"
	Half         Outcome = "half"          // one of two faults named
	Wrong        Outcome = "wrong"         // something else named
	RightToWait  Outcome = "right_to_wait" // "cannot tell yet", and the diagnosis could not either
	CouldBeTold  Outcome = "could_be_told" // "cannot tell yet", but the readings told it
	RightByLuck  Outcome = "right_by_luck" // right with more confidence than the readings bear
	HonestlyOpen Outcome = "honestly_open" // wrong, but said with no more confidence than the readings bear
)

// Outcomes lists every outcome.
var Outcomes = []Outcome{Right, Half, Wrong, RightToWait, CouldBeTold, RightByLuck, HonestlyOpen}

// Mark is what comes back for an answer.
type Mark struct {
	Answer  Answer
	Want    car.ConditionID // the right answer
	Truth   sim.Truth
	Outcome Outcome
	Points  float64
	// Given is the chance the diagnosis gives the student's answer from the same
	// readings; it is what a careful technician would have claimed.
	Given  float64
	Report diagnose.Report // of the diagnosis, from the readings at the desk
	// Minutes is what the student spent.
	Minutes float64
}

// confident is how far above the diagnosis's own chance a stated confidence may
// lie before it counts as luck. judgement: one step of Confidences.
const confident = 0.25

// Mark compares the answer with the truth and with the diagnosis.
//
// Errors: *refrig.RangeError for a confidence outside Least…Most, and those of
// Diagnose.
func (d *Desk) Mark(m *diagnose.Model, a Answer) (Mark, error) {
	if err := a.check(); err != nil {
		return Mark{}, err
	}
	p := d.Puzzle
	r, err := m.Diagnose(d.Case())
	if err != nil {
		return Mark{}, err
	}
	k := Mark{Answer: a, Want: Wanted(&p.Truth), Truth: p.Truth, Report: r, Minutes: d.Minutes()}
	n := len(p.Answers())
	if a.CannotTell() {
		k.Outcome, k.Points = CouldBeTold, -d.Cost()
		if !Settled(&r) {
			k.Outcome, k.Points = RightToWait, d.Waiting()
		}
		return k, nil
	}
	k.Given = chanceOf(&r, a.Condition)
	right := a.Condition == k.Want
	k.Points = Points(n, a.Confidence, right) - d.Cost()
	over := a.Confidence > k.Given+confident
	switch {
	case right && over:
		k.Outcome = RightByLuck
	case right:
		k.Outcome = Right
	case k.Want == car.Combination && (a.Condition == p.Truth.Cause || a.Condition == p.Truth.Second):
		k.Outcome = Half
	case !over:
		k.Outcome = HonestlyOpen
	default:
		k.Outcome = Wrong
	}
	return k, nil
}

// chanceOf is what a report gives a condition.
func chanceOf(r *diagnose.Report, id car.ConditionID) float64 {
	for _, c := range r.Ranking {
		if c.ID == id {
			return c.Probability
		}
	}
	return 0
}

// Correct reports whether the outcome counts as solved.
func (k Mark) Correct() bool {
	return k.Outcome == Right || k.Outcome == RightByLuck || k.Outcome == RightToWait
}

// Step is one measurement of the plan and what the diagnosis makes of it.
type Step struct {
	Quantity car.Quantity // "" for the two needles
	Minutes  float64
	Leader   car.ConditionID
	Chance   float64
	Settled  bool
}

// maxSteps bounds a plan; no puzzle has more measurements on offer.
const maxSteps = 16

// Plan walks the shortest way the diagnosis knows: from the two needles it takes
// the measurement with the best expected information per minute until one
// condition is settled or nothing on offer is worth a walk round the car. Greedy
// is not the best plan in principle, but nothing was found to beat it (see the
// report of package diagnose). It yields each step as it is worked out, so that
// a page can breathe in between.
func Plan(m *diagnose.Model, p *Puzzle) iter.Seq2[Step, error] {
	return func(yield func(Step, error) bool) {
		d := NewDesk(p)
		var q car.Quantity
		for range maxSteps {
			r, err := m.Diagnose(d.Case())
			if err != nil {
				yield(Step{}, err)
				return
			}
			s := Step{Quantity: q, Leader: r.Ranking[0].ID, Chance: r.Ranking[0].Probability, Settled: Settled(&r)}
			if q != "" {
				s.Minutes = q.Info().Minutes
			}
			if !yield(s, nil) || s.Settled {
				return
			}
			if q = d.buyBest(r.Next); q == "" {
				return
			}
		}
	}
}

// buyBest takes the first measurement of next that is on offer.
func (d *Desk) buyBest(next []diagnose.Next) car.Quantity {
	for _, n := range next {
		if d.Buy(n.Quantity) {
			return n.Quantity
		}
	}
	return ""
}
