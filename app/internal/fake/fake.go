// Package fake is a stand-in for the model, for tests of the page and for
// looking at it. Its answers have the form of the model's and none of its truth:
// every number in it is invented.
package fake

import (
	"math"
	"sort"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// Engine answers with invented numbers. Fail and Panic make it misbehave.
type Engine struct {
	Fail  error
	Panic bool
	Asked int // how often it was
}

// shift is where a condition moves the two needles, relative to healthy.
var shifts = map[car.ConditionID][2]float64{
	car.Healthy: {1, 1}, car.Undercharge: {.72, .74}, car.Overcharge: {1.1, 1.25}, car.Air: {1.15, 1.3},
	car.CondenserAirflow: {1.3, 1.5}, car.EvaporatorAirflow: {.85, .8}, car.Restriction: {.5, .85},
	car.ValveClosed: {.5, .8}, car.ValveOpen: {1.35, .95}, car.WeakCompressor: {1.7, .68},
	car.Slipping: {1.4, .8}, car.StuckMinimum: {1.6, .7}, car.StuckMaximum: {.7, 1.1},
	car.SwitchRange: {.8, .95}, car.SuctionBlocked: {.4, .75}, car.Moisture: {.4, .8},
	car.WrongRefrigerant: {1.2, 1.4}, car.Empty: {.05, .05}, car.NotRunning: {2.6, .45},
	car.Gauge: {3, 3}, car.NoneOfThese: {2, 2},
}

func medians(ambient float64) (low, high float64) {
	c := ambient - 273.15
	return 1e5 + 4.2e3*c, 3.5e5 + 3.9e4*c
}

// Answer ranks conditions by distance from an invented centre.
func (e *Engine) Answer(c car.Case) (diagnose.Report, error) {
	e.Asked++
	if e.Panic {
		panic("fake: told to")
	}
	if e.Fail != nil {
		return diagnose.Report{}, e.Fail
	}
	ml, mh := medians(c.Weather.Ambient)
	low, high := c.Readings[car.Low].Value, c.Readings[car.High].Value
	var r diagnose.Report
	sum := 0.0
	for id, s := range shifts {
		x, y := math.Log(max(low, 2e4)/(ml*s[0]))/.17, math.Log(max(high, 5e4)/(mh*s[1]))/.13
		p := math.Exp(-(x*x+y*y)/2) + 2e-3
		if id == car.Healthy {
			p *= 2
		}
		r.Ranking = append(r.Ranking, diagnose.Ranked{ID: id, Probability: p})
		sum += p
	}
	for i := range r.Ranking {
		r.Ranking[i].Probability /= sum
	}
	sort.Slice(r.Ranking, func(i, j int) bool {
		a, b := r.Ranking[i], r.Ranking[j]
		return a.Probability > b.Probability || a.Probability == b.Probability && a.ID < b.ID
	})
	r.Verdict = verdict(r.Ranking[0].Probability)
	r.Group = group(low/ml, high/mh)
	r.Evidence = evidence(c, ml, mh, r.Ranking[0].ID)
	if high < low {
		r.Verdict = diagnose.Doubtful
		r.Questions = []refrig.Warning{{Code: "hoses_swapped", Args: map[string]float64{"low": low, "high": high}}}
	}
	if !c.Weather.HumidityKnown {
		r.Warnings = append(r.Warnings, refrig.Warning{Code: "humidity_assumed", Args: map[string]float64{"humidity": c.Weather.Humidity}})
	}
	r.Refs = refrig.RefKeys()
	return r, nil
}

// Next offers four measurements.
func (e *Engine) Next(c car.Case) ([]diagnose.Next, error) {
	r, err := e.Answer(c)
	e.Asked--
	if err != nil {
		return nil, err
	}
	return next(c, r.Ranking), nil
}

func verdict(p float64) diagnose.Verdict {
	switch {
	case p > .6:
		return diagnose.Named
	case p > .35:
		return diagnose.Leaning
	}
	return diagnose.CannotTell
}

func group(l, h float64) diagnose.Group {
	low, high := side(l), side(h)
	switch {
	case low < 0 && high < 0:
		return diagnose.GroupBothLow
	case low > 0 && high > 0:
		return diagnose.GroupBothHigh
	case low > 0 && high < 0:
		return diagnose.GroupLowHighHighLow
	case low < 0 && high > 0:
		return diagnose.GroupLowLowHighHigh
	case low < 0:
		return diagnose.GroupLowOnly
	case low > 0:
		return diagnose.GroupHighOnly
	case high < 0:
		return diagnose.GroupBothLow
	case high > 0:
		return diagnose.GroupBothHigh
	}
	return diagnose.GroupNormal
}

func side(x float64) int {
	if x < .86 {
		return -1
	}
	if x > 1.16 {
		return 1
	}
	return 0
}

func evidence(c car.Case, ml, mh float64, lead car.ConditionID) []diagnose.Evidence {
	var out []diagnose.Evidence
	for q, rd := range c.Readings {
		ev := diagnose.Evidence{Quantity: q, Reading: rd, AgainstHealthy: .8, AgainstNext: .3, Favours: lead}
		m := 0.0
		switch q {
		case car.Low:
			m = ml
		case car.High:
			m = mh
		}
		if m > 0 {
			ev.HasExpected, ev.Median, ev.Expected = true, m, car.Interval{Lo: m * .86, Hi: m * 1.16}
			ev.Place = side(rd.Value / m)
			ev.AgainstHealthy = math.Abs(rd.Value/m-1)*8 - .3
		}
		out = append(out, ev)
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Quantity > out[j].Quantity })
	return out
}

func next(c car.Case, ranking []diagnose.Ranked) []diagnose.Next {
	all := []diagnose.Next{
		{Quantity: car.DischargeLine, Gain: .4, Minutes: 3, Hazard: "hot_parts", Outcomes: []diagnose.Outcome{
			{Hi: 338, OpenLo: true, Chance: .3, Leader: car.Overcharge, LeaderChance: .4},
			{Lo: 338, Hi: 358, Chance: .45, Leader: ranking[0].ID, LeaderChance: .6},
			{Lo: 358, OpenHi: true, Chance: .25, Leader: car.Undercharge, LeaderChance: .7}}},
		{Quantity: car.SuctionLine, Gain: .23, Minutes: 3, Hazard: "fans_belts", Outcomes: []diagnose.Outcome{
			{Hi: 283, OpenLo: true, Chance: .5, Leader: ranking[0].ID, LeaderChance: .5},
			{Lo: 283, OpenHi: true, Chance: .5, Leader: car.Undercharge, LeaderChance: .6}}},
		{Quantity: car.Vent, Gain: .1, Minutes: 2},
		{Quantity: car.Resting, Gain: .2, Minutes: 60},
	}
	var out []diagnose.Next
	for _, n := range all {
		if _, made := c.Readings[n.Quantity]; !made {
			out = append(out, n)
		}
	}
	return out
}

// Plane draws ellipses and straight drifts.
func (e *Engine) Plane(c car.Case, ids []car.ConditionID) (diagnose.Plane, error) {
	ml, mh := medians(c.Weather.Ambient)
	p := diagnose.Plane{Centre: [2]float64{ml, mh}}
	for _, g := range []struct{ level, k float64 }{{.9, 2.1}, {.5, 1.1}} {
		r := diagnose.Region{Level: g.level}
		for i := range 48 {
			a := 2 * math.Pi * float64(i) / 48
			x, y := .08*g.k*math.Cos(a), .07*g.k*math.Sin(a)
			r.Outline = append(r.Outline, [2]float64{ml * (1 + x), mh * (1 + y + .5*x)})
		}
		p.Regions = append(p.Regions, r)
	}
	for _, id := range ids {
		s := shifts[id]
		d := diagnose.Drift{Condition: id}
		for i := range 6 {
			t := float64(i) / 5
			d.Points = append(d.Points, diagnose.DriftPoint{Severity: t,
				Low: ml * (1 + (s[0]-1)*1.4*t), High: mh * (1 + (s[1]-1)*1.4*t*(1.3-.3*t))})
		}
		p.Drifts = append(p.Drifts, d)
	}
	return p, nil
}

// WeatherBands widens the medians by fixed shares.
func (e *Engine) WeatherBands(_ car.Case, ambients []float64) ([]diagnose.WeatherBand, error) {
	var out []diagnose.WeatherBand
	for _, t := range ambients {
		ml, mh := medians(t)
		b := func(m float64) diagnose.Band {
			return diagnose.Band{P05: m * .85, P25: m * .94, P50: m, P75: m * 1.06, P95: m * 1.16}
		}
		out = append(out, diagnose.WeatherBand{Ambient: t, Low: b(ml), High: b(mh)})
	}
	return out, nil
}
