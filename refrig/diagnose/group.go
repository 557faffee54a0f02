package diagnose

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"sort"
	"strconv"

	"twoneedles/refrig/car"
	"twoneedles/refrig/sim"
)

// group names the pattern of the two needles against the bands.
func group(read car.Readings, low, high Band) Group {
	l, okL := read[car.Low]
	h, okH := read[car.High]
	place := func(r car.Reading, ok bool, b Band) int {
		switch {
		case !ok || r.Swing && r.Lo <= b.P95 && r.Hi >= b.P05:
			return 0 // a needle that was not read cannot stand out
		case r.Value < b.P05:
			return -1
		case r.Value > b.P95:
			return 1
		}
		return 0
	}
	if okL && okH && math.Abs(l.Value-h.Value) < equalBand && !l.Swing {
		return GroupEqual
	}
	switch pl, ph := place(l, okL, low), place(h, okH, high); {
	case pl < 0 && ph > 0:
		return GroupLowLowHighHigh
	case pl > 0 && ph < 0:
		return GroupLowHighHighLow
	case ph < 0:
		return GroupBothLow // low side low or normal, high side low: a receiver holds the low side up [USArmy255]
	case ph > 0:
		return GroupBothHigh
	case pl < 0:
		return GroupLowOnly
	case pl > 0:
		return GroupHighOnly
	}
	return GroupNormal
}

// A condition is a member of a group if at least memberAt of the simulated cars
// with it show the pattern, and clearly more of them than of healthy cars, of which
// one in ten lies outside its band by chance. In a pattern that hardly any car shows
// (low below, high above) memberShare of the condition that shows it most often is
// enough: somebody who meets it needs the names. judgement
const (
	memberAt    = 0.02
	memberShare = 0.1
	memberLift  = 1.6
)

// shares holds, for each group and place in Conditions, the share of simulated
// cars with that condition that show the group's pattern; fitted/groups.csv,
// counted when the networks were made.
type shares map[Group][]float64

func readShares(r io.Reader) (shares, error) {
	c := csv.NewReader(r)
	c.Comment = '#'
	rows, err := c.ReadAll()
	if err != nil {
		return nil, err
	}
	out := shares{}
	for _, row := range rows[1:] {
		i := car.Index(car.ConditionID(row[0]))
		if i < 0 {
			return nil, fmt.Errorf("condition %q is not known", row[0])
		}
		for k, g := range rows[0][1:] {
			v, err := strconv.ParseFloat(row[1+k], 64)
			if err != nil || !(v >= 0 && v <= 1) {
				return nil, fmt.Errorf("share %q of %s", row[1+k], row[0])
			}
			if out[Group(g)] == nil {
				out[Group(g)] = make([]float64, len(conditions))
			}
			out[Group(g)][i] = v
		}
	}
	return out, nil
}

// readAnswers reads answers.csv: a share for each condition, none of them nought.
func readAnswers(r io.Reader) ([]float64, error) {
	c := csv.NewReader(r)
	c.Comment = '#'
	rows, err := c.ReadAll()
	if err != nil {
		return nil, err
	}
	out := make([]float64, len(conditions))
	sum := 0.0
	for _, row := range rows[1:] {
		i := car.Index(car.ConditionID(row[0]))
		v, err := strconv.ParseFloat(row[1], 64)
		if i < 0 || err != nil || !(v > 0 && v <= 1) {
			return nil, fmt.Errorf("share %q of %q", row[1], row[0])
		}
		out[i] = v
		sum += v
	}
	for i := range out {
		if out[i] /= sum; out[i] == 0 {
			return nil, fmt.Errorf("no share of %s", conditions[i])
		}
	}
	return out, nil
}

// Shares are the probabilities of each condition before anything of a car is known, by
// place in car.Conditions: how often it is the right answer among simulated cars, and in
// the files that taught the build. They differ from the prior odds by what is within
// reserve, which counts as healthy.
func (m *Model) Shares() []float64 {
	p := append([]float64(nil), m.answers...)
	odds := Lessons{Odds: m.build.Odds}
	odds.Apply(p)
	return p
}

// groups is every group.
var groups = []Group{GroupNormal, GroupBothLow, GroupBothHigh, GroupLowHighHighLow,
	GroupLowLowHighHigh, GroupLowOnly, GroupHighOnly, GroupEqual}

// Members lists the conditions that put a car of this kind into group g often
// enough to be thought of, by simulation, the likeliest first.
func (m *Model) Members(g Group, spec car.Spec) []car.ConditionID {
	var out []car.ConditionID
	share := m.shares[g]
	if share == nil {
		return nil
	}
	p := sim.PriorOf(spec)
	most := 0.0
	for i, id := range conditions {
		if sim.IsSteady(id) {
			most = math.Max(most, share[i])
		}
	}
	least := math.Min(memberAt, memberShare*most)
	for i, id := range conditions {
		if p[i] == 0 || share[i] < least || id == car.NoneOfThese || id == car.Combination {
			continue
		}
		// "Normal" is no sign of anything, so there is nothing to stand out from.
		if g == GroupNormal || id == car.Healthy || share[i] > memberLift*share[car.Index(car.Healthy)] {
			out = append(out, id)
		}
	}
	sort.SliceStable(out, func(a, b int) bool {
		i, j := car.Index(out[a]), car.Index(out[b])
		return p[i]*share[i] > p[j]*share[j]
	})
	return out
}
