package diagnose

import (
	"math"
	"sort"

	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/nets"
)

// Nodes and weights of Gauss–Hermite quadrature with three points for a standard
// normal variable.
var (
	nodes   = [3]float64{-math.Sqrt(3), 0, math.Sqrt(3)}
	weights = [3]float64{1. / 6, 2. / 3, 1. / 6}
)

const (
	serious      = 0.04 // conditions less likely than this do not steer a measurement
	mostSerious  = 5
	leastGain    = 0.01 // bit; less is not worth a walk round the car
	leastCycling = 0.1  // scaled: one engagement in three minutes
	shown        = 4    // measurements that get their outcomes worked out
)

// candidates are the readings that can still be taken and are worth proposing.
func (a *Inference) candidates() []car.Quantity {
	read := func(q car.Quantity) bool {
		_, ok := a.c.Readings[q]
		return ok
	}
	var out []car.Quantity
	for _, q := range quantities {
		k := q.Info()
		switch {
		case read(q), k.Twin != "" && read(k.Twin):
		case k.Offered, k.With != "" && read(k.With):
			out = append(out, q)
		}
	}
	return out
}

// Next ranks the measurements not made yet by expected information per minute: the drop of
// the posterior's entropy, averaged over what the reading may be under each
// condition still in question.
//
//	gain = H(p) − Σ_c p_c Σ_k w_k H(p | y = μ_c + z_k σ_c)
func (a *Inference) Next() []Next {
	live, means, sds := a.forecast()
	out := a.gains(live, means, sds)
	sort.SliceStable(out, func(i, j int) bool {
		return out[i].Gain/out[i].effort() > out[j].Gain/out[j].effort()
	})
	for i := range out {
		if i < shown {
			out[i].Outcomes = a.outcomes(out[i].Quantity, live, means, sds)
		}
	}
	return out
}

// forecast returns the conditions in question and what every reading would be
// under each.
func (a *Inference) forecast() (live []int, means, sds [][]float64) {
	live = a.live()
	means, sds = make([][]float64, len(live)), make([][]float64, len(live))
	for i, c := range live {
		means[i], sds[i] = a.m.nets.PredictUnder(a.x, conditions[c], &a.s)
	}
	return live, means, sds
}

// gains works out the expected gain of every candidate.
func (a *Inference) gains(live []int, means, sds [][]float64) []Next {
	total := 0.0
	for _, c := range live {
		total += a.p[c]
	}
	h0 := entropy(a.p)
	var out []Next
	for _, q := range a.candidates() {
		k := q.Place()
		after := 0.0
		for i, c := range live {
			for n, z := range nodes {
				p := a.given(q, means[i][k]+z*sds[i][k], i, means)
				after += a.p[c] / total * weights[n] * entropy(p)
			}
		}
		if gain := h0 - after; gain > leastGain {
			info := q.Info()
			out = append(out, Next{Quantity: q, Gain: gain, Minutes: info.Minutes, Hazard: info.Hazard})
		}
	}
	return out
}

// effort is the time a measurement is charged with. The minutes to fetch a tool
// and read the answer again are the same for all; without them a useless glance
// would beat a telling measurement. judgement
func (n Next) effort() float64 { return n.Minutes + 4 }

// live returns the conditions still in question, most likely first.
func (a *Inference) live() []int {
	order := make([]int, len(a.p))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool { return a.p[order[i]] > a.p[order[j]] })
	n := 1
	for n < mostSerious && a.p[order[n]] > serious {
		n++
	}
	return order[:n]
}

// readWith lists what the same look reads beside a quantity.
var readWith = func() map[car.Quantity][]car.Quantity {
	m := map[car.Quantity][]car.Quantity{}
	for _, q := range quantities {
		if k := q.Info(); k.With != "" {
			m[k.With] = append(m[k.With], q)
		}
	}
	return m
}()

// given is the posterior if q read the scaled value y. One look may read another
// quantity too; that is then taken at its mean under the same condition.
func (a *Inference) given(q car.Quantity, y float64, under int, means [][]float64) []float64 {
	a.vary()
	set := func(q car.Quantity, y float64) {
		b := nets.Blocks[q]
		if q == car.Cycling && y < leastCycling { // a clutch cycles or it does not; there is nothing in between
			y = 0
		}
		v := float32(nets.Squash(y))
		a.set(b.At+nets.AtFlag, 1)
		a.set(b.At+nets.AtValue, v)
		a.set(b.At+nets.AtStanding, nets.Standing(v, a.mean[q.Place()], a.sd[q.Place()]))
		if q == car.Cycling && y > 0 {
			a.set(b.At+nets.AtCycles, 1)
		}
	}
	set(q, y)
	for _, other := range readWith[q] {
		if _, read := a.c.Readings[other]; !read {
			set(other, means[under][other.Place()])
		}
	}
	return a.probed()
}

func entropy(p []float64) float64 {
	h := 0.0
	for _, v := range p {
		if v > 0 {
			h -= v * math.Log2(v)
		}
	}
	return h
}

const scanPoints = 13

// outcomes divides what q may read into ranges with one leader each.
func (a *Inference) outcomes(q car.Quantity, live []int, means, sds [][]float64) []Outcome {
	k := q.Place()
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range live {
		lo = math.Min(lo, means[i][k]-1.7*sds[i][k])
		hi = math.Max(hi, means[i][k]+1.7*sds[i][k])
	}
	step := (hi - lo) / (scanPoints - 1)
	chance := func(from, to float64) float64 { // of the mixture over the live conditions
		s, t := 0.0, 0.0
		for i, c := range live {
			s += a.p[c] * (normal((to-means[i][k])/sds[i][k]) - normal((from-means[i][k])/sds[i][k]))
			t += a.p[c]
		}
		return s / t
	}
	var out []Outcome
	for i := range scanPoints {
		y := lo + float64(i)*step
		nearest := 0 // the condition whose expected reading is nearest, for a reading that comes in pairs
		for j := range live {
			if math.Abs(y-means[j][k])/sds[j][k] < math.Abs(y-means[nearest][k])/sds[nearest][k] {
				nearest = j
			}
		}
		p := a.given(q, y, nearest, means)
		best := 0
		for j := range p {
			if p[j] > p[best] {
				best = j
			}
		}
		w := chance(y-step/2, y+step/2)
		id := conditions[best]
		if n := len(out); n > 0 && out[n-1].Leader == id {
			o := &out[n-1]
			o.LeaderChance = (o.LeaderChance*o.Chance + p[best]*w) / math.Max(o.Chance+w, 1e-12)
			o.Chance += w
			o.Hi = y + step/2
			continue
		}
		out = append(out, Outcome{Lo: y - step/2, Hi: y + step/2, Chance: w, Leader: id, LeaderChance: p[best]})
	}
	kept := out[:0]
	for _, o := range out {
		if o.Chance > 0.03 {
			kept = append(kept, o)
		}
	}
	for i := range kept {
		if i > 0 { // ranges meet half way over one that was too unlikely to keep
			mid := (kept[i-1].Hi + kept[i].Lo) / 2
			kept[i-1].Hi, kept[i].Lo = mid, mid
		}
	}
	by := a.shift.Of(q)
	for i := range kept {
		kept[i].Lo, kept[i].Hi = a.sc.Out(q, kept[i].Lo+by), a.sc.Out(q, kept[i].Hi+by)
		kept[i].OpenLo, kept[i].OpenHi = i == 0, i == len(kept)-1
	}
	return kept
}

func normal(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
