package diagnose

import (
	"sort"

	"twoneedles/refrig/car"
)

// Rank is [Model.Diagnose] without evidence, next measurement and warnings: the
// ranking, the questions and the verdict, at a hundredth of the cost.
func (m *Model) Rank(c car.Case) (Report, error) {
	a, err := m.ask(c)
	if err != nil {
		return Report{}, err
	}
	_, doubts := a.judge()
	r := Report{Ranking: ranking(a.p), Questions: append(question(&a.c, a.sc), doubt(doubts)...)}
	r.Verdict = verdict(&r)
	return r, nil
}

// Answer is [Model.Diagnose] without the next measurement, which takes nearly all
// of its time: what a page shows first.
func (m *Model) Answer(c car.Case) (Report, error) {
	r, _, err := m.answer(c)
	return r, err
}

// Next ranks the measurements not made yet, as Report.Next of [Model.Diagnose].
func (m *Model) Next(c car.Case) ([]Next, error) {
	a, err := m.ask(c)
	if err != nil {
		return nil, err
	}
	a.judge()
	return a.next(), nil
}

// judge sets the posterior of the case from the first layer that ask worked out,
// and returns what odds says of pairs and of what was typed.
func (a *asked) judge() (pair, doubts []float64) {
	a.p, pair, doubts = a.m.odds(a.m.nets.Posterior.Rest(a.pre, &a.s))
	return pair, doubts
}

// ranking lists every condition with its probability in p, the likeliest first.
func ranking(p []float64) []Ranked {
	r := make([]Ranked, len(car.Conditions))
	for i, id := range car.Conditions {
		r[i] = Ranked{id, p[i]}
	}
	sort.SliceStable(r, func(i, j int) bool { return r[i].Probability > r[j].Probability })
	return r
}
