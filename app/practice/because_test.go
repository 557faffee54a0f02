package practice

import (
	"slices"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/pagetest"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/practice"
	"twoneedles/refrig/sim"
)

// moved counts, for each condition and reading, how many cars it moved up, down and
// not at all, by the model.
type moved map[car.ConditionID]map[car.Quantity]*[3]int

// move draws cars with every condition that Practice sets and compares each with the
// same car sound. Faults a third of the way up their scale and more: what is slighter
// moves hardly anything.
func move(t *testing.T, cars int) moved {
	t.Helper()
	all := moved{}
	for _, id := range car.Conditions() {
		if id == car.Healthy || id == car.NoneOfThese || id == car.Gauge || id == car.Combination {
			continue
		}
		all[id] = map[car.Quantity]*[3]int{}
		for n := 0; n < cars; n++ {
			r := fleet.NewRand(uint64(n + 1))
			spec := fleet.Complete(r, car.Spec{})
			if !sim.Fits(id, spec) {
				continue
			}
			w := sim.World{Care: sim.Careful}
			b, err := w.DrawBeside(r, id, spec, sim.DrawConditions(r))
			if err != nil || practice.Graded(id) && b.Truth.Severity < 1./3 {
				continue
			}
			p := practice.Puzzle{Case: b.Case, Truth: b.Truth, Sound: b.Sound}
			for _, x := range p.Shifts() {
				if all[id][x.Quantity] == nil {
					all[id][x.Quantity] = &[3]int{}
				}
				all[id][x.Quantity][x.Way+1]++
			}
		}
	}
	return all
}

// A reason stands only for a direction that the model shows, and where only one
// direction has a reason, it is that of most cars that move. A needle that often moves
// has a reason. The bounds are judgement: a reason for less than one car in ten would
// teach the exception, and a needle moved in three of ten without one would leave the
// student alone.
func TestReasonsNameTheDirectionOfTheModel(t *testing.T) {
	en := present.English()
	if testing.Short() {
		t.Skip("fewer cars are too few for the rare kinds")
	}
	all := move(t, 150)
	for id, by := range all {
		for q, n := range by {
			total := n[0] + n[1] + n[2]
			up := en.Has(reasonKey(id, practice.Shift{Quantity: q, Way: 1}))
			down := en.Has(reasonKey(id, practice.Shift{Quantity: q, Way: -1}))
			for _, c := range []struct {
				named, other bool
				n, against   int
				way          string
			}{{up, down, n[2], n[0], "up"}, {down, up, n[0], n[2], "down"}} {
				if c.named && 10*c.n < total {
					t.Errorf("%s, %s %s: has a reason, but moves so in %d of %d cars", id, q, c.way, c.n, total)
				}
				if c.named && !c.other && c.n <= c.against {
					t.Errorf("%s, %s %s: the only reason, but %d cars move so and %d against it", id, q, c.way, c.n, c.against)
				}
				if !c.named && 10*c.n > 3*total && (q == car.Low || q == car.High || q == car.Vent) {
					t.Errorf("%s, %s %s: moves so in %d of %d cars, and nothing says why", id, q, c.way, c.n, total)
				}
			}
		}
	}
}

// Every condition that can be set has its mechanism, and no words are left over.
func TestReasonsAndConditionsBothWays(t *testing.T) {
	en := present.English()
	for _, id := range car.Conditions() {
		want := id != car.Healthy && id != car.NoneOfThese && id != car.Combination // a pair has the reasons of both
		if has := en.Has("practice.reason." + string(id) + ".why"); has != want {
			t.Errorf("%s: mechanism %v", id, has)
		}
	}
	for _, key := range en.Keys() {
		rest, ok := strings.CutPrefix(key, "practice.reason.")
		if !ok {
			continue
		}
		part := strings.Split(rest, ".")
		if !slices.Contains(car.Conditions(), car.ConditionID(part[0])) ||
			!(len(part) == 2 && part[1] == "why") &&
				!(len(part) == 3 && slices.Contains(car.Quantities(), car.Quantity(part[1])) && (part[2] == "up" || part[2] == "down")) {
			t.Errorf("%s: words for nothing", key)
		}
	}
}

// The page says for a car at hand what moved, from what to what, and why; the same
// numbers as the model's.
func TestBecauseTellsOfThisCar(t *testing.T) {
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	told := 0
	for n := 1; n <= 12; n++ {
		puzzle, err := practice.Draw(m, n, practice.Textbook)
		if err != nil {
			t.Fatal(err)
		}
		var v *view
		s := pagetest.New(t, job.Memory{}, func(pg *page.Page) func() app.Composer {
			return func() app.Composer {
				v = &view{s: pg, desk: practice.NewDesk(puzzle), pages: page.Unfolder{On: pg}}
				return &only{part: v.because}
			}
		})
		if len(puzzle.Causes()) == 0 {
			s.Has("because", "Nothing was done to this car.")
			continue
		}
		s.Has("because", s.Page.Words.T("practice.reason."+string(puzzle.Truth.Cause)+".why"))
		for _, x := range puzzle.Shifts() {
			if x.Way == 0 {
				continue
			}
			told++
			s.Has("shifts", s.Page.Voice().Reading(x.Quantity, x.Sound))
			s.Has("shifts", s.Page.Voice().Reading(x.Quantity, x.Found))
			if key := reasonKey(puzzle.Truth.Cause, x); s.Page.Words.Has(key) {
				s.Has("shifts", s.Page.Words.T(key))
			}
		}
	}
	if told < 20 {
		t.Errorf("only %d movements in twelve cases", told)
	}
}
