package diagnose

import (
	"math"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// Lessons is what confirmed jobs teach (package learn); the zero value teaches nothing.
type Lessons struct {
	Jobs int `json:"jobs"` // they were learnt from
	// Odds are factors on the odds of each condition before anything is read, by place in
	// car.Conditions; nil for none.
	Odds []float64 `json:"odds,omitempty"`
	// Low and High are how far needles stand above what the networks expect, K of
	// saturation temperature.
	Low  float64 `json:"low_K"`
	High float64 `json:"high_K"`
	// Sharp is the power that probabilities are raised to: below one the answers claim
	// less than they did. Nought stands for one.
	Sharp float64 `json:"sharp,omitempty"`
}

// What lessons may change at most: factors on the odds, and the needles in K of
// saturation temperature. Judgement: more is not a shop that differs but a gauge that is
// off or a file that is wrong.
const (
	MostOdds  = 8.0
	MostMoved = 6.0

	LeastSharp, MostSharp = 0.5, 1.5
)

// With returns the model with lessons learnt; m stays as it is.
//
// Errors: *refrig.RangeError for lessons beyond what they may change.
func (m *Model) With(l Lessons) (*Model, error) {
	if l.Odds != nil && len(l.Odds) != len(conditions) {
		return nil, &refrig.RangeError{Quantity: "number of learnt odds", Value: float64(len(l.Odds)), Min: float64(len(conditions)), Max: float64(len(conditions)), Source: "definition"}
	}
	for _, f := range l.Odds {
		if err := within(refrig.RangeError{Quantity: "learnt factor on odds", Value: f, Min: 1 / MostOdds, Max: MostOdds, Source: "judgement"}); err != nil {
			return nil, err
		}
	}
	for _, v := range []float64{l.Low, l.High} {
		if err := within(refrig.RangeError{Quantity: "learnt stand of a needle", Value: v, Min: -MostMoved, Max: MostMoved, Unit: "K", Source: "judgement"}); err != nil {
			return nil, err
		}
	}
	if l.Sharp != 0 {
		if err := within(refrig.RangeError{Quantity: "learnt sharpness", Value: l.Sharp, Min: LeastSharp, Max: MostSharp, Source: "judgement"}); err != nil {
			return nil, err
		}
	}
	return &Model{nets: m.nets, made: m.made, memory: m.memory, shares: m.shares, answers: m.answers, drifts: &drifts{}, lessons: l}, nil
}

// Apply puts the learnt odds and the learnt sharpness on p, by place in car.Conditions.
func (l *Lessons) Apply(p []float64) {
	if l.Odds == nil && (l.Sharp == 0 || l.Sharp == 1) {
		return
	}
	for i := range l.Odds {
		p[i] *= l.Odds[i]
	}
	power := 1.0
	if l.Sharp != 0 {
		power = l.Sharp
	}
	sharpen(p, power)
}

// moved is what the lessons move each side by, scaled.
func (l *Lessons) moved() (by [3]float64) {
	by[car.LowSide] = l.Low / car.Low.Info().Scale.Spread
	by[car.HighSide] = l.High / car.High.Info().Scale.Spread
	return by
}

// Gap is how far a needle stands from what the networks expect of a sound car of
// its kind in its weather.
type Gap struct {
	Known bool
	By    float64 // K of saturation temperature
	Sd    float64 // of sound cars of the kind, K
}

// Gaps gives it for the low and the high side of c, a sound car, lessons left out.
// A needle that swings or is pegged has none.
//
// Errors: as [Model.Ask].
func (m *Model) Gaps(c car.Case) (low, high Gap, err error) {
	k, err := m.about(c)
	if err != nil {
		return low, high, err
	}
	read, err := checkedReadings(&k.c, k.sc)
	if err != nil {
		return low, high, err
	}
	read = read.Steadied()
	mean, sd := gaussians(m.nets.Base.Eval(k.x[:contextSize], &k.s))
	of := func(q car.Quantity) Gap {
		r, ok := read[q]
		if !ok || r.Swing || r.AtLeast || r.AtMost {
			return Gap{}
		}
		spread, i := q.Info().Scale.Spread, q.Place()
		return Gap{true, spread * (k.sc.in(q, r.Value) - mean[i]), spread * math.Max(sd[i], 1e-3)}
	}
	return of(car.Low), of(car.High), nil
}
