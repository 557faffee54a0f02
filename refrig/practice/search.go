package practice

import (
	"container/heap"
	"slices"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// Search looks, in hindsight, for the measurements that would have settled a puzzle in
// the fewest minutes: the very readings of the car are tried, in the order of what they
// take, until the diagnosis gives the right answer SettledAt or more. The first that does
// is the shortest there is. Nobody could know it beforehand; [Plan] is what can be known.
type Search struct {
	m       *diagnose.Model
	p       *Puzzle
	offers  []Offer // the quickest first
	want    car.ConditionID
	waiting choices

	Tried int            // combinations diagnosed so far
	Found bool           // Way holds the shortest way
	Way   []car.Quantity // in the order of their minutes; empty where the two needles do
	// Chance is what the diagnosis gives the right answer at the end of Way, or, where
	// none was found, the most it gave at all.
	Chance float64
}

// SettledAt is the chance from which a search takes a case for settled.
const SettledAt = 0.80

// mostTried bounds a search. Judgement: one in a phone's program takes a few seconds,
// and a way that is longer than the thousand quickest is no lesson any more.
const mostTried = 1000

// choice is some of the offers, by place, in rising order.
type choice struct {
	of      []int
	minutes float64
}

// choices is a heap of choices, the quickest on top, of equals the one of fewest looks.
type choices []choice

func (c choices) Len() int      { return len(c) }
func (c choices) Swap(i, j int) { c[i], c[j] = c[j], c[i] }
func (c choices) Less(i, j int) bool {
	if c[i].minutes != c[j].minutes {
		return c[i].minutes < c[j].minutes
	}
	return len(c[i].of) < len(c[j].of)
}
func (c *choices) Push(x any) { *c = append(*c, x.(choice)) }
func (c *choices) Pop() any {
	last := (*c)[len(*c)-1]
	*c = (*c)[:len(*c)-1]
	return last
}

// NewSearch returns a search of p that has tried nothing yet.
func NewSearch(m *diagnose.Model, p *Puzzle) *Search {
	s := &Search{m: m, p: p, offers: NewDesk(p).Offers(), want: Wanted(&p.Truth), waiting: choices{{}}}
	slices.SortStableFunc(s.offers, func(a, b Offer) int {
		switch {
		case a.Minutes < b.Minutes:
			return -1
		case a.Minutes > b.Minutes:
			return 1
		}
		return 0
	})
	return s
}

// Go tries up to n more combinations and reports whether the search is over: found, or
// given up. Errors are those of [diagnose.Model.Rank].
func (s *Search) Go(n int) (over bool, err error) {
	for range n {
		if s.Found || s.Tried >= mostTried || len(s.waiting) == 0 {
			return true, nil
		}
		c := heap.Pop(&s.waiting).(choice)
		d := NewDesk(s.p)
		for _, i := range c.of {
			d.Buy(s.offers[i].Quantity)
		}
		r, err := s.m.Rank(d.Case())
		if err != nil {
			return true, err
		}
		s.Tried++
		chance := chanceOf(&r, s.want)
		s.Chance = max(s.Chance, chance)
		if r.Ranking[0].ID == s.want && chance >= SettledAt {
			s.Found, s.Way, s.Chance = true, d.Bought(), chance
			return true, nil
		}
		from := 0
		if k := len(c.of); k > 0 {
			from = c.of[k-1] + 1
		}
		for i := from; i < len(s.offers); i++ {
			if d.has(s.offers[i].Quantity.Info().Twin) { // it tells the same once more
				continue
			}
			heap.Push(&s.waiting, choice{append(slices.Clone(c.of), i), c.minutes + s.offers[i].Minutes})
		}
	}
	return false, nil
}

// All reports whether a search that found nothing has tried every combination.
func (s *Search) All() bool { return len(s.waiting) == 0 }

// Minutes is what the way takes.
func (s *Search) Minutes() float64 {
	sum := 0.0
	for _, q := range s.Way {
		sum += q.Info().Minutes
	}
	return sum
}
