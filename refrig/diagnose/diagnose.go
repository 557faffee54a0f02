package diagnose

import (
	"math"
	"sort"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/nets"
	"twoneedles/refrig/sim"
)

// NamedAt and LeaningAt are how much must be sure before one condition is named. Judgement: at 0.8 the
// report command counts how often a healthy car is accused (see doc.go).
const (
	NamedAt   = 0.80
	LeaningAt = 0.50
	doubtAt   = 0.50 // probability that the reading itself is at fault
)

// verdict says how much can be claimed from a ranking.
func verdict(r *Report) Verdict {
	top := r.Ranking[0]
	spoilt := 0.0
	for _, k := range r.Ranking {
		if k.ID == car.Gauge || k.ID == car.NoneOfThese {
			spoilt += k.Probability
		}
	}
	soft := false // a question that a car may answer too: settle it before acting, but go on
	for _, q := range r.Questions {
		if isImpossible(q.Code) {
			return Doubtful
		}
		soft = true
	}
	if spoilt > doubtAt {
		return Doubtful
	}
	switch {
	case top.Probability >= NamedAt && soft:
		return Leaning
	case top.Probability >= NamedAt:
		return Named
	case top.Probability >= LeaningAt:
		return Leaning
	}
	return CannotTell
}

func likeliest(pair []float64) (a, b car.ConditionID) {
	order := make([]int, len(pair))
	for i := range order {
		order[i] = i
	}
	sort.Slice(order, func(i, j int) bool { return pair[order[i]] > pair[order[j]] })
	if pair[order[1]] < 0.4 { // the data do not support a name for the second
		return "", ""
	}
	return nets.Pairables[order[0]], nets.Pairables[order[1]]
}

// without returns the posterior with the block of q hidden.
func (a *Inference) without(q car.Quantity) []float64 {
	a.vary()
	b := nets.Blocks[q]
	for i := b.At; i < b.At+b.Size; i++ {
		a.set(i, 0)
	}
	return a.probed()
}

// set changes input i in the probe.
func (a *Inference) set(i int, v float32) {
	if dx := v - a.x[i]; dx != 0 {
		a.m.nets.Posterior.Shift(a.probe, i, dx)
		if a.mem != nil {
			a.mem.set(a.m.nets.Memory, i, v)
		}
	}
}

// vary starts a variation of the inputs: set changes one, probed is the answer.
func (a *Inference) vary() {
	a.probe = append(a.probe[:0], a.pre...)
	if a.mem != nil {
		a.mem.begin()
	}
}

// probed is the posterior of the probe.
func (a *Inference) probed() []float64 {
	p, _, _ := a.m.odds(a.m.nets.Posterior.Rest(a.probe, &a.s))
	if a.mem != nil {
		p = a.mem.end(a.m.nets.Memory, p)
	}
	return released(p)
}

// evidence weighs each reading by what the posterior would be without it: the
// ratio of posterior odds with and without a reading is its likelihood ratio
// given all the others.
func (a *Inference) evidence(rank []Ranked) []Evidence {
	lead, next := car.Index(rank[0].ID), car.Index(rank[1].ID)
	healthy := car.Index(car.Healthy)
	mean, sd := a.mean, a.sd
	var out []Evidence
	for _, q := range quantities {
		r, ok := a.read[q]
		if !ok {
			continue
		}
		w := a.without(q)
		llr := func(i, j int) float64 {
			return logRatio(a.p[i], a.p[j]) - logRatio(w[i], w[j])
		}
		e := Evidence{Quantity: q, Reading: r, AgainstHealthy: llr(lead, healthy), AgainstNext: llr(lead, next)}
		best := math.Inf(-1)
		for j, id := range conditions {
			if a.p[j] < 0.02 && w[j] < 0.02 {
				continue // odds of what is out of the question say nothing to a person
			}
			if g := logRatio(a.p[j], w[j]); g > best {
				best, e.Favours = g, id
			}
		}
		if q != car.SightGlass {
			e.HasExpected = true
			e.Expected, e.Median = a.expected(q, mean, sd)
			e.Place = e.Expected.Place(r.Ends())
		}
		out = append(out, e)
	}
	sort.SliceStable(out, func(i, j int) bool { return weightOf(out[i]) > weightOf(out[j]) })
	return out
}

func weightOf(e Evidence) float64 {
	return math.Max(math.Abs(e.AgainstHealthy), math.Abs(e.AgainstNext))
}

func logRatio(p, q float64) float64 {
	const least = 1e-6 // a network cannot be surer than this; keeps the ratio finite
	return math.Log(math.Max(p, least) / math.Max(q, least))
}

// warn lists what was assumed and what makes the answer weaker.
func (a *Inference) warn(rank []Ranked) []refrig.Warning {
	var w []refrig.Warning
	add := func(code string, args map[string]float64) { w = append(w, refrig.Warning{Code: code, Args: args}) }
	c := &a.c
	if !c.Weather.HumidityKnown {
		add("humidity_assumed", map[string]float64{"humidity": c.Weather.Humidity})
	}
	if !c.Running.RPMKnown {
		add("speed_assumed", map[string]float64{"rpm": c.Running.RPM})
	}
	if c.Weather.Ambient < sim.FleetColdest || c.Weather.Ambient > sim.FleetHottest {
		add("weather_beyond", map[string]float64{"ambient_K": c.Weather.Ambient, "coldest_K": sim.FleetColdest, "hottest_K": sim.FleetHottest})
	}
	if c.Weather.Ambient < 293.15 {
		add("cold_day", map[string]float64{"ambient_K": c.Weather.Ambient})
	}
	if _, ok := c.Readings[car.Low]; !ok {
		add("low_missing", nil)
	}
	if _, ok := c.Readings[car.High]; !ok {
		add("high_missing", nil)
	}
	if a.priorMatters(rank) {
		add("prior_matters", nil)
	}
	return w
}

// priorMatters reports whether the leader would change if the odds before
// measuring were at the far ends of what we still believe (priors.csv).
func (a *Inference) priorMatters(rank []Ranked) bool {
	lead := car.Index(rank[0].ID)
	odds := sim.OddsOf(rank[0].ID)
	down := a.p[lead] * odds.Low / odds.Mid
	for i, id := range conditions {
		if odds := sim.OddsOf(id); i != lead && a.p[i]*odds.High/odds.Mid > down {
			return true
		}
	}
	return false
}
