package learn

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// What a shop's jobs are weighed against. Judgement: the surveys behind the odds differ
// from each other by a factor of two, which is what a hundred jobs' worth of Dirichlet
// counts spread by; workshops' gauges and cars move a reading by a few kelvins.
const (
	PriorJobs = 100.0 // the survey's odds count as much as this many jobs
	OffsetSd  = 2.0   // K, of saturation temperature for a needle
	SharpSd   = 0.2   // of ln of the sharpness

	// Nothing is learnt from fewer jobs: of twenty, the share of a condition is known to a
	// fifth either way, and where it is learnt at all it has to be far off.
	LeastJobs = 20
	// A condition is held for more frequent from two finds on; one may be chance.
	LeastFound = 2
	// Sound readings of a needle or of the vent before it is moved. Where other things
	// break and stand elsewhere, the two hide each other; needles that are moved while the
	// odds are not yet known make the answers worse (by 0.1 bit with forty jobs of the
	// invented world), and by fifty jobs the odds are.
	LeastSound = 50
	// LeastVent is how far off, in K, the vent must stand. A shop that reads with care
	// shows vents a kelvin colder than those the networks know, which hold thermometers in
	// the sun and doors left open; moving the band by that made the answers worse.
	LeastVent = 1.5

	// By how much, in nats, what is learnt must have foretold the jobs better than what
	// was known before, each job left out of what it is judged by: odds and sharpness; an
	// offset, whose evidence counts its one number already.
	LeastGain  = 3.0
	LeastShift = 1.0
)

// Lesson is what one job teaches.
type Lesson struct {
	Found int               // what was wrong, its place in car.Conditions; negative if nothing was found
	Sound [][3]diagnose.Gap // where low side, high side and vent stood, for each time the car was sound
}

// Of is what one job teaches, given as the readings before and after its repair, or some
// of them. One that m refuses teaches nothing; ok is false where none is left.
func Of(m *diagnose.Model, readings ...Job) (l Lesson, ok bool) {
	l.Found = -1
	for i := range readings {
		j := &readings[i]
		gaps, err := m.Gaps(j.Case)
		if err != nil {
			continue
		}
		ok = true
		if !j.After {
			l.Found = car.Index(j.Found)
		}
		if j.Found == car.Healthy {
			l.Sound = append(l.Sound, gaps)
		}
	}
	return l, ok
}

// Together is what jobs teach: the shop's own odds and where its sound readings stand. Too
// few teach nothing. It takes microseconds a thousand jobs.
func Together(m *diagnose.Model, jobs []Lesson) diagnose.Lessons {
	if len(jobs) < LeastJobs {
		return diagnose.Lessons{}
	}
	l := diagnose.Lessons{Jobs: len(jobs)}
	at := offsets(jobs)
	l.Low, l.High, l.Vent = at[0], at[1], at[2]
	if share, count := m.Shares(), counts(jobs); foretold(share, count) > LeastGain {
		l.Odds = odds(share, count)
	}
	return l
}

// Learn is [Together] for the confirmed jobs of files, and how sharp the answers should be
// besides, for which every job is answered. Jobs come as [Reader.Read] gives them.
func Learn(m *diagnose.Model, jobs []Job) diagnose.Lessons {
	var each []Lesson
	for _, j := range jobs {
		if l, ok := Of(m, j); ok {
			each = append(each, l)
		}
	}
	l := Together(m, each)
	moved, err := m.With(diagnose.Lessons{Low: l.Low, High: l.High, Vent: l.Vent})
	if err != nil || l.Jobs == 0 {
		return diagnose.Lessons{}
	}
	found, answers := answered(moved, jobs)
	var share []float64
	if l.Odds != nil {
		share = m.Shares()
	}
	best := gain(found, answers, share, 1) + LeastGain
	for sharp := diagnose.LeastSharp; sharp < diagnose.MostSharp+0.01; sharp += 0.05 {
		sharp := math.Round(100*sharp) / 100
		d := math.Log(sharp) / SharpSd
		if g := gain(found, answers, share, sharp) - d*d/2; g > best {
			best, l.Sharp = g, sharp
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
// the odds it is judged by; share is nil for the odds as they are.
func gain(found []int, answers [][]float64, share []float64, sharp float64) float64 {
	count := make([]float64, len(car.Conditions()))
	for _, k := range found {
		count[k]++
	}
	sum := 0.0
	for i, k := range found {
		l := diagnose.Lessons{Sharp: sharp}
		if share != nil {
			count[k]--
			l.Odds = odds(share, count)
			count[k]++
		}
		p := append([]float64(nil), answers[i]...)
		l.Apply(p)
		sum += math.Log(math.Max(p[k], leastChance))
	}
	return sum
}

// counts are how often each condition was found.
func counts(jobs []Lesson) []float64 {
	out := make([]float64, len(car.Conditions()))
	for _, l := range jobs {
		if l.Found >= 0 {
			out[l.Found]++
		}
	}
	return out
}

// odds are the factors on the odds of each condition: the mean of the Dirichlet
// posterior over the share the model starts from. What was found once may be chance, and
// is held for no more frequent than before.
func odds(share, count []float64) []float64 {
	n := 0.0
	for _, k := range count {
		n += k
	}
	out := make([]float64, len(share))
	for i, p := range share {
		most := diagnose.MostOdds
		if count[i] < LeastFound {
			most = 1
		}
		f := (PriorJobs*p + count[i]) / (PriorJobs + n) / p
		out[i] = math.Min(math.Max(f, 1/diagnose.MostOdds), most)
	}
	return out
}

// foretold is by how much, in nats, the shop's odds foretell what was found better than
// the shares do, each find from the others.
func foretold(share, count []float64) float64 {
	sum := 0.0
	for i, k := range count {
		if k == 0 {
			continue
		}
		count[i]--
		f := odds(share, count)
		count[i]++
		all := 0.0
		for j, p := range share {
			all += p * f[j]
		}
		sum += k * math.Log(f[i]/all)
	}
	return sum
}

// offsets are where low side, high side and vent of sound cars stand above what is
// expected of their kind, K: the mean of the normal posterior where the readings speak
// against nought, and nought elsewhere. With d the deviation of a car, s its kind's spread
// and τ the spread of shops,
//
//	offset | cars = S / (1/τ² + W),  S = Σ d/s², W = Σ 1/s²
//	ln p(cars) − ln p(cars | offset nought) = (S² / (1/τ² + W) − ln(1 + τ² W)) / 2
func offsets(jobs []Lesson) (at [3]float64) {
	var sum, weight [3]float64
	var n [3]int
	for _, l := range jobs {
		for _, gaps := range l.Sound {
			for i, d := range gaps {
				if d.Sd == 0 {
					continue
				}
				// A reading far outside its kind is held to three spreads: one gauge left
				// closed may not move a shop.
				sum[i] += math.Min(math.Max(d.By, -3*d.Sd), 3*d.Sd) / (d.Sd * d.Sd)
				weight[i] += 1 / (d.Sd * d.Sd)
				n[i]++
			}
		}
	}
	for i := range at {
		mean := sum[i] / (1/(OffsetSd*OffsetSd) + weight[i])
		evidence := (sum[i]*mean - math.Log1p(OffsetSd*OffsetSd*weight[i])) / 2
		if n[i] >= LeastSound && evidence > LeastShift {
			at[i] = math.Min(math.Max(mean, -diagnose.MostMoved), diagnose.MostMoved)
		}
	}
	if math.Abs(at[2]) < LeastVent {
		at[2] = 0
	}
	return at
}
