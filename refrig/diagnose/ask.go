package diagnose

import (
	"sort"

	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/mlp"
	"twoneedles/refrig/internal/nets"
)

// Inference is one case as the model sees it: what the networks make of it, each
// worked out once. It is for one goroutine at a time; the answers it gives share
// nothing with it.
type Inference struct {
	setting
	p, pair []float64    // posterior of each condition; of each pairable fault to be part of a combination
	far     []float64    // of what is asked about in doubts
	read    car.Readings // as they were read; the case holds them steadied

	mean, sd []float64 // of every reading over healthy cars in this context, scaled
	pre      []float32 // first layer of the posterior network for x
	probe    []float32 // the same for a variation of x
	mem      *memory   // nil without earlier visits
}

// setting is a case without its readings, which is enough for the healthy bands.
type setting struct {
	m       *Model
	c       car.Case
	sc      *nets.Scaler
	x       []float32 // inputs of the networks; the readings' part is filled by Ask
	healthy nets.Healthy
	shift   nets.Shift
	s       mlp.Scratch

	visits []nets.Visited // the earlier visits as inputs, once they were asked for
}

// about checks c and works out what does not depend on its readings.
func (m *Model) about(c car.Case) (setting, error) {
	if err := check(&c); err != nil {
		return setting{}, err
	}
	sc, err := nets.NewScaler(&c)
	if err != nil {
		return setting{}, err
	}
	k := setting{m: m, c: c, sc: sc, x: make([]float32, nets.InputSize)}
	nets.WriteContext(&c, sc, k.x)
	k.healthy = m.nets.HealthyIn(k.x, &k.s)
	k.shift = shiftOf(&c, sc, &k.healthy, m.lessons.moved())
	return k, nil
}

// Ask weighs c, which needs at least one reading.
//
// Errors: *refrig.RangeError for a value no car, weather or instrument can give,
// naming it and its limits; *refrig.UnknownError for a refrigerant or a choice
// that is none of those known; *EarlierError, mostly round one of these, for an earlier
// visit that is no ruler.
func (m *Model) Ask(c car.Case) (*Inference, error) {
	k, err := m.about(c)
	if err != nil {
		return nil, err
	}
	if k.c.Readings, err = checkedReadings(&k.c, k.sc); err != nil {
		return nil, err
	}
	a := &Inference{setting: k, read: k.c.Readings}
	a.c.Readings = a.c.Readings.Steadied()
	nets.WriteReadings(known(a.c.Readings, a.sc.Atm), a.sc, &a.shift, a.x)
	a.mean, a.sd = nets.Gaussians(m.nets.Base.Eval(a.x[:nets.ContextSize], &a.s))
	nets.Compare(a.x, a.mean, a.sd)
	a.pre = m.nets.Posterior.First(a.x, nil)
	a.p, a.pair, a.far = m.odds(m.nets.Posterior.Rest(a.pre, &a.s))
	if err := a.remember(); err != nil {
		return nil, err
	}
	a.p = released(a.p)
	return a, nil
}

// Check is the door of [Model.Ask] alone, with its errors: for those who let many cases
// in and ask later.
func Check(c car.Case) error {
	if err := check(&c); err != nil {
		return err
	}
	sc, err := nets.NewScaler(&c)
	if err != nil {
		return err
	}
	_, err = checkedReadings(&c, sc)
	return err
}

// Answer is the report without Next, which takes most of the time.
func (a *Inference) Answer() Report {
	r := a.rank()
	low, high := a.bands()
	r.Group = group(a.c.Readings, low, high)
	r.Members = a.m.Members(r.Group, a.c.Car)
	sort.SliceStable(r.Members, func(i, j int) bool { return a.p[car.Index(r.Members[i])] > a.p[car.Index(r.Members[j])] })
	r.Weighed = weighed(&a.c)
	r.Superheat, r.Subcooling = a.superheat(), a.subcooling()
	r.Memory = a.recollection()
	r.Evidence = a.evidence(r.Ranking)
	r.Deviation = a.Deviation()
	r.Warnings = a.warn(r.Ranking)
	if a.p[car.Index(car.Combination)] > 0.25 {
		r.PairA, r.PairB = likeliest(a.pair)
	}
	return r
}

// rank is the part of the answer that costs next to nothing: ranking, questions and
// verdict.
func (a *Inference) rank() Report {
	r := Report{Ranking: ranking(a.p), Questions: append(question(&a.c, a.sc), doubt(a.far)...)}
	r.Verdict = verdict(&r)
	return r
}

// Plane is what the pressure plane shows for the case: see [Model.Plane].
func (a *Inference) Plane(conds []car.ConditionID) Plane { return a.plane(conds) }

// Diagnose is the whole report on c: [Model.Ask] with all it can tell.
func (m *Model) Diagnose(c car.Case) (Report, error) {
	a, err := m.Ask(c)
	if err != nil {
		return Report{}, err
	}
	r := a.Answer()
	r.Next = a.Next()
	return r, nil
}

// Rank is [Model.Diagnose] without group, evidence, next measurement and warnings,
// at a hundredth of the cost.
func (m *Model) Rank(c car.Case) (Report, error) {
	a, err := m.Ask(c)
	if err != nil {
		return Report{}, err
	}
	return a.rank(), nil
}

// Answer is [Inference.Answer] of c.
func (m *Model) Answer(c car.Case) (Report, error) {
	a, err := m.Ask(c)
	if err != nil {
		return Report{}, err
	}
	return a.Answer(), nil
}

// Next is [Inference.Next] of c.
func (m *Model) Next(c car.Case) ([]Next, error) {
	a, err := m.Ask(c)
	if err != nil {
		return nil, err
	}
	return a.Next(), nil
}

// ranking lists every condition with its probability in p, the likeliest first.
func ranking(p []float64) []Ranked {
	r := make([]Ranked, len(conditions))
	for i, id := range conditions {
		r[i] = Ranked{id, p[i]}
	}
	sort.SliceStable(r, func(i, j int) bool { return r[i].Probability > r[j].Probability })
	return r
}
