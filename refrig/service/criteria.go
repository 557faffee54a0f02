package service

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/stat"
)

// Criterion is a published way to judge a hold test. They differ a hundredfold: a
// test that passes one says little about another.
type Criterion struct {
	Rule            // Pa: passes if the rise within Within is at most Hi
	Within  float64 // s
	Ceiling bool    // the limit is an absolute pressure, not a rise
}

// Criteria returns the published and customary criteria, the strictest first. The
// customary one names no time; the ten minutes are those of an R-12 Army manual that
// names no number ([USArmy280]).
func Criteria() []Criterion {
	return []Criterion{
		{Rule{"customary_microns", 1000 * micron, 1000 * micron, CommonPractice, ""}, 10 * minute, true},
		{Rule{"army_5mmhg_1min", 5 * mmHg, 5 * mmHg, Published, "USArmy4210"}, 1 * minute, false},
		{Rule{"army_2inhg_5min", 2 * inHg, 2 * inHg, Published, "USArmy296"}, 5 * minute, false},
		{Rule{"sae_75mmhg_20min", 75 * mmHg, 75 * mmHg, Published, "SAEJ2788"}, 20 * minute, false},
	}
}

// CriterionCheck is how one criterion turns out.
type CriterionCheck struct {
	Criterion Criterion
	// Outcome is "passes", "fails", "unclear" (within the error of the readings) or
	// "not_covered" (the test was shorter than the criterion asks).
	Outcome  string
	Measured float64 // Pa, rise or pressure at the criterion's time
}

// checkCriteria reads the rise off the points themselves, by straight lines between
// them: a criterion knows no model.
func checkCriteria(s series, atm float64) []CriterionCheck {
	var out []CriterionCheck
	for _, c := range Criteria() {
		end := s.t[len(s.t)-1]
		covered := end >= c.Within
		p := s.between(min(c.Within, end))
		doubt := 2 * s.sigma // one reading, 95 %
		if !c.Ceiling {
			p -= s.p[0]
			doubt *= math.Sqrt2 // the difference of two
		}
		check := CriterionCheck{c, "unclear", p}
		switch {
		case p-doubt > c.Hi:
			check.Outcome = "fails" // however long the test was
		case !covered:
			check.Outcome = "not_covered"
		case p+doubt <= c.Hi:
			check.Outcome = "passes"
		}
		out = append(out, check)
	}
	return out
}

// between returns the pressure at t by straight lines between the readings, Pa.
func (s series) between(t float64) float64 {
	i := sort.SearchFloat64s(s.t, t)
	if i == 0 {
		return s.p[0]
	}
	if i == len(s.t) {
		return s.p[i-1]
	}
	x := (t - s.t[i-1]) / (s.t[i] - s.t[i-1])
	return s.p[i-1] + x*(s.p[i]-s.p[i-1])
}

// slope returns the slope of the straight line through all points, Pa/s.
func slope(s series) float64 {
	_, r := stat.LinearRegression(s.t, s.p, nil, false)
	return r
}
