package diagnose

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/nets"
)

// This very car inside its kind. Over cars of one kind the score of a reading (how many
// standard deviations it stands from the kind, each visit in its own weather) is taken
// as the sum of what stays with the car and what is drawn anew on every visit, both
// normal; their variances are counted on simulated cars met twice (Kept). After n
// visits what stays is then known as in any hierarchical normal model: the mean score is
// drawn towards the kind by the share of its variance that stays.

// notTheSameFrom is the probability of wrong visits from which the answer says that they
// do not look like the same sound car. It is what one or two in a hundred right visits are
// beyond (DEVELOPERS.md, known limits); of those it is said of, half or a little less are
// wrong, as one visit in ten is before anything is read (sim.DrawPair). Judgement: somebody
// who looks at the car's name once in vain loses less than somebody who measures it by
// another car.
const notTheSameFrom = 0.22

// ownBand is where this car stands inside its kind today, if sound: scores.
type ownBand struct {
	n        []float64 // visits in which it was read, by place in remembered
	mean, sd []float64
	needles  normal2
	scores   [][]float64 // of each visit, NaN for what was not read
}

// own works it out; ok is false without earlier visits.
func (k *setting) own() (o ownBand, ok bool) {
	visits, err := k.earlier()
	if err != nil || len(visits) == 0 {
		return o, false
	}
	kept := &k.m.nets.MemoryMade.Kept
	o = ownBand{make([]float64, len(nets.Remembered)), make([]float64, len(nets.Remembered)), make([]float64, len(nets.Remembered)), normal2{}, nil}
	for i := range visits {
		o.scores = append(o.scores, k.m.nets.Scores(&visits[i], &k.s))
		for j, z := range o.scores[i] {
			if !math.IsNaN(z) {
				o.mean[j] += z
				o.n[j]++
			}
		}
	}
	for j := range nets.Remembered {
		o.mean[j] /= math.Max(o.n[j], 1)
	}
	o.needles = needlesToday(kept, o.mean, o.n, k.healthy.Rho)
	for j := range nets.Remembered {
		if j < 2 {
			o.mean[j], o.sd[j] = o.needles.mean[j], o.needles.sd[j]
			continue
		}
		share, variance := foretold(kept, j, o.n[j])
		o.mean[j] *= share
		o.sd[j] = math.Sqrt(math.Max(variance, leastOwn))
	}
	return o, true
}

// foretold is what n visits say of the score of quantity j on another: the share of their
// mean that is to be expected again, and the variance round it.
func foretold(k *nets.Kept, j int, n float64) (share, variance float64) {
	if n > 0 {
		share = k.Shared[j] / (k.Shared[j] + (k.Variance[j]-k.Shared[j])/n)
	}
	return share, k.Variance[j] - share*k.Shared[j]
}

// apart tells by which visit, if by any, a car met more than once looks like two: it is above
// nought where one visit is too much likelier another car's of the kind than this one's.
// All are of sound cars, or are said to be, so that no fault of today is in the way.
//
// The quantities are taken as independent, which they are not: one thermometer moves all of
// a visit. So what must be exceeded grows with their number.
func apart(k *nets.Kept, scores [][]float64) float64 {
	worst := math.Inf(-1)
	for i := range scores {
		sum, read := 0.0, 0.0
		for j, z := range scores[i] {
			mean, n := 0.0, 0.0
			for other, of := range scores {
				if other != i && !math.IsNaN(of[j]) {
					mean, n = mean+of[j], n+1
				}
			}
			if math.IsNaN(z) || n == 0 {
				continue
			}
			share, variance := foretold(k, j, n)
			off := z - share*mean/n
			sum += (off*off/variance + math.Log(variance) - z*z/k.Variance[j] - math.Log(k.Variance[j])) / 2
			read++
		}
		if read > 0 {
			worst = math.Max(worst, sum-apartAlways-apartEach*read)
		}
	}
	if tried := len(scores); tried > 2 { // of two, either is as far from the other
		worst -= math.Log(float64(tried))
	}
	return worst
}

// What ln of the odds must exceed, by how many quantities were read twice: one right car in
// a hundred does. Read off 13,000 simulated cars met two or three times, with 2, 3, 5 and 8
// quantities.
const apartAlways, apartEach = 1.5, 0.45

// leastOwn is the least share of the kind's variance that is left to one car: no ruler
// is exact. Judgement.
const leastOwn = 0.05

// needlesToday is the distribution of both needles' scores today given their mean scores in n
// visits. Before any visit it is the kind's: variance one, correlation rho. With S what
// two visits share and V the variance of one,
//
//	mean = S (S + (V−S)/n)⁻¹ z,  covariance = [1 ρ; ρ 1] − S (S + (V−S)/n)⁻¹ S
func needlesToday(k *nets.Kept, z, n []float64, rho float64) normal2 {
	s := [3]float64{k.Shared[0], k.CrossShared, k.Shared[1]} // xx, xy, yy
	v := [3]float64{k.Variance[0], k.Cross, k.Variance[1]}
	const never = 1e-6 // visits for a needle that was not read
	nx, ny := math.Max(n[0], never), math.Max(n[1], never)
	a := [3]float64{s[0] + (v[0]-s[0])/nx, s[1] + (v[1]-s[1])/math.Sqrt(nx*ny), s[2] + (v[2]-s[2])/ny}
	if n[0] == 0 || n[1] == 0 { // what both needles share of one visit's error needs both
		a[1] = s[1]
	}
	det := a[0]*a[2] - a[1]*a[1]
	// gain = S A⁻¹
	g := [2][2]float64{
		{(s[0]*a[2] - s[1]*a[1]) / det, (s[1]*a[0] - s[0]*a[1]) / det},
		{(s[1]*a[2] - s[2]*a[1]) / det, (s[2]*a[0] - s[1]*a[1]) / det},
	}
	var out normal2
	out.mean = [2]float64{g[0][0]*z[0] + g[0][1]*z[1], g[1][0]*z[0] + g[1][1]*z[1]}
	xx := math.Max(1-g[0][0]*s[0]-g[0][1]*s[1], leastOwn)
	yy := math.Max(1-g[1][0]*s[1]-g[1][1]*s[2], leastOwn)
	xy := rho - g[0][0]*s[1] - g[0][1]*s[2]
	out.sd = [2]float64{math.Sqrt(xx), math.Sqrt(yy)}
	out.rho = math.Max(math.Min(xy/(out.sd[0]*out.sd[1]), 0.95), -0.95)
	return out
}

// recollection is the report on the earlier visits.
func (a *Inference) recollection() *Memory {
	if a.mem == nil {
		return nil
	}
	w := &Memory{Visits: len(a.c.Earlier), Months: a.mem.Months, Wrong: a.mem.wrong, NotTheSame: a.mem.wrong >= notTheSameFrom, Alone: ranking(a.mem.alone)}
	own, ok := a.own()
	if !ok {
		return w
	}
	w.NotTheSame = w.NotTheSame || apart(&a.m.nets.MemoryMade.Kept, own.scores) > 0
	for j, q := range nets.Remembered {
		if own.n[j] == 0 {
			continue
		}
		m := Remembered{Quantity: q}
		latest := math.Inf(1)
		for i := range a.c.Earlier {
			v := &a.c.Earlier[i]
			if r, ok := v.Readings.Steadied()[q]; ok && v.Months < latest {
				latest, m.Then, m.Visit = v.Months, r.Value, i
			}
		}
		var levels [len(nets.BandLevels)]float64
		for i, z := range nets.BandScores {
			score := own.mean[j] + z*own.sd[j]
			var x float64
			switch q {
			case car.Low:
				x = nets.QuantileOf(a.healthy.Low[:], score)
			case car.High:
				x = nets.QuantileOf(a.healthy.High[:], score)
			default:
				x = a.mean[q.Place()] + score*a.sd[q.Place()]
			}
			levels[i] = x + a.shift.Of(q)
		}
		m.Expected = bandOf(q, levels, a.sc)
		if r, ok := a.read[q]; ok {
			m.Now, m.Read = r.Value, true
			m.Place = car.Interval{Lo: m.Expected.P05, Hi: m.Expected.P95}.Place(r.Ends())
		}
		w.Readings = append(w.Readings, m)
	}
	return w
}
