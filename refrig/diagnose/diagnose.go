package diagnose

import (
	"math"
	"sort"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/mlp"
	"twoneedles/refrig/sim"
)

// NamedAt and LeaningAt are how much must be sure before one condition is named. Judgement: at 0.8 the
// report command counts how often a healthy car is accused (see doc.go).
const (
	NamedAt   = 0.80
	LeaningAt = 0.50
	doubtAt   = 0.50 // probability that the reading itself is at fault
)

// asked is one case being answered.
type asked struct {
	m  *Model
	c  car.Case // its readings moved to the model's band: see toServiceBand
	sc *scaler
	x  []float32
	p  []float64
	s  mlp.Scratch

	read     car.Readings // as they were read
	moved    [2]float64   // what was taken off Low and High, scaled
	mean, sd []float64    // of every reading over healthy cars in this context
	pre      []float32    // first layer of the posterior network for x
	probe    []float32    // the same for a variation of x
}

// Diagnose answers c. It needs at least one of Low and High and the ambient
// temperature.
//
// Errors: *refrig.RangeError for a value no instrument or weather can give,
// naming it and its limits.
func (m *Model) Diagnose(c car.Case) (Report, error) {
	r, a, err := m.answer(c)
	if err != nil {
		return Report{}, err
	}
	r.Next = a.next()
	return r, nil
}

func (m *Model) answer(c car.Case) (Report, *asked, error) {
	a, err := m.ask(c)
	if err != nil {
		return Report{}, nil, err
	}
	pair, doubts := a.judge()
	p := a.p
	r := Report{Refs: refsOf(&c), Ranking: ranking(p)}
	low, high := a.bands()
	r.Group = group(&c, low, high)
	r.Members = m.Members(r.Group, c.Car)
	sort.SliceStable(r.Members, func(i, j int) bool { return p[car.Index(r.Members[i])] > p[car.Index(r.Members[j])] })
	r.Questions = append(question(&a.c, a.sc), doubt(doubts)...)
	r.Verdict = verdict(&r)
	r.Weighed = weighed(&c)
	r.Evidence = a.evidence(r.Ranking)
	r.Warnings = a.warn(&r)
	if p[car.Index(car.Combination)] > 0.25 {
		r.PairA, r.PairB = likeliest(pair)
	}
	return r, a, nil
}

func (m *Model) ask(c car.Case) (*asked, error) {
	if err := check(&c); err != nil {
		return nil, err
	}
	sc, err := newScaler(&c)
	if err != nil {
		return nil, err
	}
	if err := checkReadings(&c, sc); err != nil {
		return nil, err
	}
	a := &asked{m: m, sc: sc, read: c.Readings}
	c.Readings = c.Readings.Steadied()
	a.c = c
	if c.Service != (car.ServiceFigures{}) {
		a.moved = m.serviceShift(&c, sc, m.healthy(&c, sc, &a.s))
		a.c = m.toServiceBand(c, sc, &a.s)
	}
	a.x = make([]float32, inputSize)
	features(&a.c, sc, a.x)
	compare(m.nets.Base, a.x, &a.s)
	a.mean, a.sd = m.expect(a.x, &a.s)
	a.pre = m.nets.Posterior.First(a.x, nil)
	return a, nil
}

// verdict says how much can be claimed from a ranking.
func verdict(r *Report) Verdict {
	top := r.Ranking[0]
	spoilt := 0.0
	for _, k := range r.Ranking {
		if k.ID == car.Gauge || k.ID == car.NoneOfThese {
			spoilt += k.Probability
		}
	}
	soft := false // a question about what was typed: answer it before acting, but go on
	for _, q := range r.Questions {
		if !isDoubt(q.Code) {
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
	return pairables[order[0]], pairables[order[1]]
}

// without returns the posterior with the block of q hidden.
func (a *asked) without(q car.Quantity) []float64 {
	a.probe = append(a.probe[:0], a.pre...)
	b := blocks[q]
	for i := b.at; i < b.at+b.size; i++ {
		a.set(i, 0)
	}
	return a.probed()
}

// set changes input i in the probe.
func (a *asked) set(i int, v float32) {
	if dx := v - a.x[i]; dx != 0 {
		a.m.nets.Posterior.Shift(a.probe, i, dx)
	}
}

// probed is the posterior of the probe.
func (a *asked) probed() []float64 {
	p, _, _ := a.m.odds(a.m.nets.Posterior.Rest(a.probe, &a.s))
	return p
}

// evidence weighs each reading by what the posterior would be without it: the
// ratio of posterior odds with and without a reading is its likelihood ratio
// given all the others.
func (a *asked) evidence(rank []Ranked) []Evidence {
	lead, next := car.Index(rank[0].ID), car.Index(rank[1].ID)
	healthy := car.Index(car.Healthy)
	mean, sd := a.mean, a.sd
	low, high := a.bands()
	var out []Evidence
	for i, q := range car.Quantities {
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
		for j, id := range car.Conditions {
			if a.p[j] < 0.02 && w[j] < 0.02 {
				continue // odds of what is out of the question say nothing to a person
			}
			if g := logRatio(a.p[j], w[j]); g > best {
				best, e.Favours = g, id
			}
		}
		if q != car.SightGlass {
			e.HasExpected = true
			switch q {
			case car.Low:
				e.Expected, e.Median = car.Interval{Lo: low.P05, Hi: low.P95}, low.P50
			case car.High:
				e.Expected, e.Median = car.Interval{Lo: high.P05, Hi: high.P95}, high.P50
			default:
				by := 0.0
				switch q {
				case car.HighIdle, car.WaterTest, car.FanTest:
					by = a.moved[1]
				case car.LowIdle:
					by = a.moved[0]
				}
				at := func(z float64) float64 { return a.sc.out(q, mean[i]+z*sd[i]+by) }
				e.Expected, e.Median = car.Interval{Lo: at(bandScores[0]), Hi: at(bandScores[4])}, at(0)
			}
			lo, hi := r.Value, r.Value
			if r.Swing {
				lo, hi = r.Lo, r.Hi
			}
			switch {
			case hi < e.Expected.Lo:
				e.Place = -1
			case lo > e.Expected.Hi:
				e.Place = 1
			}
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
func (a *asked) warn(r *Report) []refrig.Warning {
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
	if a.priorMatters(r.Ranking) {
		add("prior_matters", nil)
	}
	return w
}

// priorMatters reports whether the leader would change if the odds before
// measuring were at the far ends of what we still believe (priors.csv).
func (a *asked) priorMatters(rank []Ranked) bool {
	lead := car.Index(rank[0].ID)
	o := sim.OddsOf(rank[0].ID)
	down := a.p[lead] * o.Low / o.Mid
	for i, id := range car.Conditions {
		if o := sim.OddsOf(id); i != lead && a.p[i]*o.High/o.Mid > down {
			return true
		}
	}
	return false
}

// refsOf lists the sources an answer rests on.
func refsOf(c *car.Case) []string {
	refs := []string{"EN837", "CFR82"}
	switch c.Car.Refrigerant {
	case "R1234yf":
		refs = append(refs, "Lemmon2022")
	case "R12":
		refs = append(refs, "Marx1992")
	default:
		refs = append(refs, "TillnerRoth1994")
	}
	return refs
}
