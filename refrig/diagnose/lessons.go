package diagnose

import (
	"math"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/nets"
)

// Lessons is what confirmed jobs teach (package learn); the zero value teaches nothing. A
// build may have some of its own, from files of several shops (make learn), and what the
// page learns from one shop's jobs comes upon those.
type Lessons struct {
	Jobs int `json:"jobs"` // they were learnt from
	// Odds are factors on the odds of each condition before anything is read, by place in
	// car.Conditions; nil for none.
	Odds []float64 `json:"odds,omitempty"`
	// Low and High are how far needles stand above what the networks expect, K of
	// saturation temperature; Vent how much warmer its air is, K.
	Low  float64 `json:"low_K"`
	High float64 `json:"high_K"`
	Vent float64 `json:"vent_K"`
	// Sharp is the power that probabilities are raised to: below one the answers claim
	// less than they did. Nought stands for one.
	Sharp float64 `json:"sharp,omitempty"`
}

// What lessons may change at most: factors on the odds, and the needles in K of
// saturation temperature, the vent in K. Judgement: more is not a shop that differs but a gauge that is
// off or a file that is wrong.
const (
	MostOdds  = 8.0
	MostMoved = 6.0

	LeastSharp, MostSharp = 0.5, 1.5
)

// With returns the model with lessons learnt upon those of the build; m stays as it is.
//
// Errors: *refrig.RangeError for lessons beyond what they may change.
func (m *Model) With(l Lessons) (*Model, error) {
	if err := l.Check(); err != nil {
		return nil, err
	}
	return m.with(m.build, l), nil
}

// Untaught is the model without the lessons of the build: what files teach anew.
func (m *Model) Untaught() *Model { return m.with(Lessons{}, Lessons{}) }

func (m *Model) with(build, own Lessons) *Model {
	return &Model{nets: m.nets, shares: m.shares, answers: m.answers, drifts: &drifts{}, build: build, lessons: build.and(own)}
}

// and are both lessons, one upon the other.
func (l Lessons) and(more Lessons) Lessons {
	out := Lessons{Jobs: l.Jobs + more.Jobs, Odds: more.Odds, Low: l.Low + more.Low, High: l.High + more.High, Vent: l.Vent + more.Vent, Sharp: more.Sharp}
	if l.Sharp != 0 {
		out.Sharp = l.Sharp
		if more.Sharp != 0 {
			out.Sharp *= more.Sharp
		}
	}
	if l.Odds != nil {
		out.Odds = append([]float64(nil), l.Odds...)
		for i, f := range more.Odds {
			out.Odds[i] *= f
		}
	}
	return out
}

// Check is the door of [Model.With] alone, with its errors.
func (l *Lessons) Check() error {
	if l.Odds != nil && len(l.Odds) != len(conditions) {
		return &refrig.RangeError{Quantity: "number of learnt odds", Value: float64(len(l.Odds)), Min: float64(len(conditions)), Max: float64(len(conditions)), Source: "definition"}
	}
	for _, f := range l.Odds {
		if err := within(refrig.RangeError{Quantity: "learnt factor on odds", Value: f, Min: 1 / MostOdds, Max: MostOdds, Source: "judgement"}); err != nil {
			return err
		}
	}
	for _, v := range []float64{l.Low, l.High, l.Vent} {
		if err := within(refrig.RangeError{Quantity: "learnt stand of a reading", Value: v, Min: -MostMoved, Max: MostMoved, Unit: "K", Source: "judgement"}); err != nil {
			return err
		}
	}
	if l.Sharp != 0 {
		if err := within(refrig.RangeError{Quantity: "learnt sharpness", Value: l.Sharp, Min: LeastSharp, Max: MostSharp, Source: "judgement"}); err != nil {
			return err
		}
	}
	return nil
}

// Moves tells whether the lessons change any answer.
func (l *Lessons) Moves() bool {
	return l.Odds != nil || l.Low != 0 || l.High != 0 || l.Vent != 0 || l.Sharp != 0 && l.Sharp != 1
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

// moved is what the lessons move readings by.
func (l *Lessons) moved() (by nets.Shift) {
	by.Side[car.LowSide] = l.Low / car.Low.Info().Scale.Spread
	by.Side[car.HighSide] = l.High / car.High.Info().Scale.Spread
	by.Vent = l.Vent / car.Vent.Info().Scale.Spread
	return by
}

// Gap is how far a needle or the vent stands from what the networks expect of a sound
// car of its kind in its weather.
type Gap struct {
	By float64 // K, of saturation temperature for a needle
	Sd float64 // of sound cars of the kind, K; nought where there is no gap
}

// Gaps gives it for the low side, the high side and the vent of c, a sound car, the lessons
// of a shop left out. What swings or is pegged has none, nor has a needle whose figures the vehicle
// states: it is held to those.
//
// Errors: as [Model.Ask].
func (m *Model) Gaps(c car.Case) (gaps [3]Gap, err error) {
	k, err := m.about(c)
	if err != nil {
		return gaps, err
	}
	read, err := checkedReadings(&k.c, k.sc)
	if err != nil {
		return gaps, err
	}
	read = read.Steadied()
	mean, sd := nets.Gaussians(m.nets.Base.Eval(k.x[:nets.ContextSize], &k.s))
	own := [len(gaps)]bool{stated(k.c.Service.Low), stated(k.c.Service.High)}
	taught := [len(gaps)]float64{m.build.Low, m.build.High, m.build.Vent}
	for n, q := range [len(gaps)]car.Quantity{car.Low, car.High, car.Vent} {
		r, ok := read[q]
		if !ok || r.Swing || r.AtLeast || r.AtMost || own[n] {
			continue
		}
		spread, i := q.Info().Scale.Spread, q.Place()
		gaps[n] = Gap{spread*(k.sc.In(q, r.Value)-mean[i]) - taught[n], spread * math.Max(sd[i], 1e-3)}
	}
	return gaps, nil
}
