package practice_test

import (
	"slices"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/practice"
)

// bought is the desk of a puzzle with some of what is on offer.
func bought(t *testing.T, p *practice.Puzzle, way []car.Quantity) *practice.Desk {
	t.Helper()
	d := practice.NewDesk(p)
	for _, q := range way {
		if !d.Buy(q) {
			t.Fatalf("%s is not on offer", q)
		}
	}
	return d
}

// settles asks the diagnosis what the search is to be believed of.
func settles(t *testing.T, p *practice.Puzzle, way []car.Quantity) bool {
	t.Helper()
	r, err := load(t).Rank(bought(t, p, way).Case())
	if err != nil {
		t.Fatal(err)
	}
	return r.Ranking[0].ID == practice.Wanted(&p.Truth) && r.Ranking[0].Probability >= practice.SettledAt
}

// searched is a search that went to its end.
func searched(t *testing.T, p *practice.Puzzle) *practice.Search {
	t.Helper()
	s := practice.NewSearch(load(t), p)
	for range 200 {
		over, err := s.Go(20)
		if err != nil {
			t.Fatal(err)
		}
		if over {
			return s
		}
	}
	t.Fatal("a search without end")
	return nil
}

// What is found settles the case, and no quicker choice of up to three measurements does;
// the greedy plan, which knows no reading beforehand, is never quicker where it settles
// the case rightly.
func TestSearchFindsTheShortestWay(t *testing.T) {
	found, shorter := 0, 0
	for seed := 1; seed <= 8; seed++ {
		for _, l := range []practice.Level{practice.Textbook, practice.Ambiguous} {
			p := draw(t, seed, l)
			s := searched(t, p)
			if !s.Found {
				if s.Way != nil || s.Chance >= 1 {
					t.Errorf("number %d: nothing found, but %+v", seed, s.Way)
				}
				continue
			}
			found++
			if !settles(t, p, s.Way) || s.Chance < practice.SettledAt {
				t.Errorf("number %d: %v does not settle it", seed, s.Way)
			}
			offers := practice.NewDesk(p).Offers()
			var try func(from int, way []car.Quantity, minutes float64)
			try = func(from int, way []car.Quantity, minutes float64) {
				if minutes >= s.Minutes() || len(way) > 3 {
					return
				}
				if settles(t, p, way) {
					t.Errorf("number %d: %v settles it in %g minutes, %v takes %g", seed, way, minutes, s.Way, s.Minutes())
				}
				for i := from; i < len(offers); i++ {
					if slices.Contains(way, offers[i].Quantity.Info().Twin) {
						continue // who measures one of a pair need not be told of the other
					}
					try(i+1, append(slices.Clone(way), offers[i].Quantity), minutes+offers[i].Minutes)
				}
			}
			try(0, nil, 0)
			plan, last := 0.0, practice.Step{}
			for step, err := range practice.Plan(load(t), p) {
				if err != nil {
					t.Fatal(err)
				}
				plan, last = plan+step.Minutes, step
			}
			if last.Leader == practice.Wanted(&p.Truth) && last.Chance >= practice.SettledAt {
				if plan < s.Minutes() {
					t.Errorf("number %d: the plan settles it in %g minutes, the search in %g", seed, plan, s.Minutes())
				}
				if plan > s.Minutes() {
					shorter++
				}
			}
		}
	}
	t.Logf("%d found, %d shorter than the plan", found, shorter)
	if found < 8 || shorter == 0 {
		t.Errorf("%d found, %d shorter than the plan", found, shorter)
	}
}

// A case that nothing settles ends the search within its limit.
func TestSearchGivesUp(t *testing.T) {
	p := draw(t, 1, practice.Textbook)
	p.Truth.Label, p.Truth.Cause = car.WrongRefrigerant, car.WrongRefrigerant // which its readings are not
	s := searched(t, p)
	if s.Found || s.Tried > 1000 || s.Tried < 500 || s.All() {
		t.Errorf("found %v after %d, all %v", s.Found, s.Tried, s.All())
	}
	if s.Chance <= 0 || s.Chance >= practice.SettledAt {
		t.Errorf("at most %g", s.Chance)
	}
}

func BenchmarkSearch(b *testing.B) {
	p := draw(b, 1, practice.Textbook)
	p.Truth.Label, p.Truth.Cause = car.WrongRefrigerant, car.WrongRefrigerant
	for b.Loop() {
		s := practice.NewSearch(load(b), p)
		if _, err := s.Go(100); err != nil {
			b.Fatal(err)
		}
	}
}
