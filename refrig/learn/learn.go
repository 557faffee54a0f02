package learn

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// What a shop's jobs are weighed against. Judgement: the surveys behind the odds differ
// from each other by a factor of two, which is what a hundred jobs' worth of Dirichlet
// counts spread by; workshops' gauges and cars move a needle by a few kelvins.
const (
	PriorJobs = 100.0 // the survey's odds count as much as this many jobs
	OffsetSd  = 2.0   // K of saturation temperature
	SharpSd   = 0.2   // of ln of the sharpness
	LeastJobs = 50    // nothing is learnt from fewer: with 20 the answers grew a little worse (TestLearningHelps)

	// LeastGain is by how much, in nats over all jobs, odds and sharpness must have
	// answered the jobs better than none, each job left out of what it is judged by.
	LeastGain = 3.0
)

// Learn learns from confirmed jobs; from too few it learns nothing, and never fails.
// Jobs come as [Reader.Read] gives them; one that m refuses teaches nothing.
func Learn(m *diagnose.Model, jobs []Job) diagnose.Lessons {
	var l diagnose.Lessons
	if len(jobs) < LeastJobs {
		return l
	}
	l.Jobs = len(jobs)
	l.Low, l.High = offsets(m, jobs)
	moved, err := m.With(l)
	if err != nil {
		return diagnose.Lessons{}
	}
	found, answers := answered(moved, jobs)
	if len(found) < LeastJobs {
		return l
	}
	nothing := gain(found, answers, nil, 1)
	share := m.Shares()
	best := nothing + LeastGain
	for sharp := diagnose.LeastSharp; sharp < diagnose.MostSharp+0.01; sharp += 0.05 {
		sharp := math.Round(100*sharp) / 100
		for _, with := range [][]float64{nil, share} {
			d := math.Log(sharp) / SharpSd
			if g := gain(found, answers, with, sharp) - d*d/2; g > best {
				best, l.Sharp, l.Odds = g, sharp, nil
				if with != nil {
					l.Odds = odds(share, counts(found), float64(len(found)), -1)
				}
			}
		}
	}
	return l
}

// answered is what m says of the jobs before their repair, and what was found.
func answered(m *diagnose.Model, jobs []Job) (found []int, answers [][]float64) {
	for i := range jobs {
		if jobs[i].After {
			continue
		}
		r, err := m.Rank(jobs[i].Case)
		if err != nil {
			continue
		}
		p := make([]float64, len(r.Ranking))
		for _, k := range r.Ranking {
			p[car.Index(k.ID)] = k.Probability
		}
		found, answers = append(found, car.Index(jobs[i].Found)), append(answers, p)
	}
	return found, answers
}

// gain is the sum of ln of the chance that what was found is given, each job left out of
// the counts it is judged by; share is nil for the odds as they are.
func gain(found []int, answers [][]float64, share []float64, sharp float64) float64 {
	count := counts(found)
	sum := 0.0
	for i, k := range found {
		l := diagnose.Lessons{Sharp: sharp}
		if share != nil {
			l.Odds = odds(share, count, float64(len(found)), k)
		}
		p := append([]float64(nil), answers[i]...)
		l.Apply(p)
		sum += math.Log(math.Max(p[k], leastChance))
	}
	return sum
}

func counts(found []int) []float64 {
	out := make([]float64, len(car.Conditions()))
	for _, k := range found {
		out[k]++
	}
	return out
}

// odds are the factors on the odds of each condition: the mean of the Dirichlet
// posterior over the share the model starts from. One job with condition without is left
// out of the n counted, none if it is negative.
func odds(share, count []float64, n float64, without int) []float64 {
	out := make([]float64, len(share))
	if without >= 0 {
		n--
	}
	for i, p := range share {
		k := count[i]
		if i == without {
			k--
		}
		f := (PriorJobs*p + k) / (PriorJobs + n) / p
		out[i] = math.Min(math.Max(f, 1/diagnose.MostOdds), diagnose.MostOdds)
	}
	return out
}

// offsets are where needles of sound cars stand above what is expected of their kind, K:
// the mean of the normal posterior.
//
//	offset | cars = Σ d/s² / (1/τ² + Σ 1/s²), d the deviation of a car, s its kind's spread
func offsets(m *diagnose.Model, jobs []Job) (low, high float64) {
	var sum, weight [2]float64
	for i := range jobs {
		if jobs[i].Found != car.Healthy {
			continue
		}
		l, h, err := m.Gaps(jobs[i].Case)
		if err != nil {
			continue
		}
		for side, d := range [2]diagnose.Gap{l, h} {
			if !d.Known {
				continue
			}
			// A reading far outside its kind is held to three spreads: one gauge left
			// closed may not move a shop.
			by := math.Min(math.Max(d.By, -3*d.Sd), 3*d.Sd)
			sum[side] += by / (d.Sd * d.Sd)
			weight[side] += 1 / (d.Sd * d.Sd)
		}
	}
	at := func(side int) float64 {
		x := sum[side] / (1/(OffsetSd*OffsetSd) + weight[side])
		return math.Min(math.Max(x, -diagnose.MostMoved), diagnose.MostMoved)
	}
	return at(0), at(1)
}
