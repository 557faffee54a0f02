package diagnose

import "sort"

// Rank is [Model.Diagnose] without evidence, next measurement and warnings: the
// ranking, the questions and the verdict, at a hundredth of the cost.
func (m *Model) Rank(c Case) (Report, error) {
	a, err := m.ask(c)
	if err != nil {
		return Report{}, err
	}
	p, _ := m.posterior(a.x, c.Car, &a.s)
	var r Report
	for i, id := range Conditions {
		r.Ranking = append(r.Ranking, Ranked{id, p[i]})
	}
	sort.SliceStable(r.Ranking, func(i, j int) bool { return r.Ranking[i].Probability > r.Ranking[j].Probability })
	r.Questions = question(&c, a.sc)
	r.Verdict = verdict(&r)
	return r, nil
}

// Answer is [Model.Diagnose] without the next measurement, which takes nearly all
// of its time: what a page shows first.
func (m *Model) Answer(c Case) (Report, error) {
	r, _, err := m.answer(c)
	return r, err
}

// Next ranks the measurements not made yet, as Report.Next of [Model.Diagnose].
func (m *Model) Next(c Case) ([]Next, error) {
	a, err := m.ask(c)
	if err != nil {
		return nil, err
	}
	a.p, _ = m.posterior(a.x, c.Car, &a.s)
	return a.next(), nil
}
