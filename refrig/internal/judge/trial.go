package judge

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/sim"
)

// ReadingSet is what a technician has read when a trial is judged.
type ReadingSet struct {
	Name     string
	Use      []car.Quantity
	Humidity bool // was it measured?
}

// ReadingSets are the sets a trial reports on, each with all of the one before.
func ReadingSets() []ReadingSet {
	steps := []struct {
		name string
		add  []car.Quantity
		rh   bool
	}{
		{"two needles and ambient", []car.Quantity{car.Low, car.High}, false},
		{"+ humidity", nil, true},
		{"+ vent", []car.Quantity{car.Vent}, true},
		{"+ liquid and suction line", []car.Quantity{car.LiquidLine, car.SuctionLine}, true},
		{"+ resting pressure", []car.Quantity{car.Resting}, true},
		{"+ discharge line and cycling", []car.Quantity{car.DischargeLine, car.Cycling}, true},
		{"+ idle and water test", []car.Quantity{car.LowIdle, car.HighIdle, car.WaterTest}, true},
	}
	var out []ReadingSet
	var use []car.Quantity
	for _, s := range steps {
		use = append(append([]car.Quantity(nil), use...), s.add...)
		out = append(out, ReadingSet{s.name, use, s.rh})
	}
	return out
}

// Keep returns c with only the readings of the set, and without label charge and
// size, which a two-needle reading need not know.
func (s ReadingSet) Keep(c car.Case) car.Case {
	c.Readings = s.of(c.Readings)
	c.Weather.HumidityKnown = s.Humidity
	c.Car.LabelCharge, c.Car.Size = 0, car.SizeUnknown
	return c
}

// of are the readings of the set.
func (s ReadingSet) of(read car.Readings) car.Readings {
	kept := car.Readings{}
	for _, q := range s.Use {
		if r, ok := read[q]; ok {
			kept[q] = r
		}
	}
	return kept
}

// Score is the outcome of a trial on one reading set.
type Score struct {
	Set              string
	Cars             int
	Top1, Top2       float64
	Severe1, Severe2 float64 // of faults of severity ≥ 0.4
	LogLoss          float64 // bit
	Brier            float64
	ECE              float64
	Bins             [10]Bin // reliability of the probability of the leader
	Accused          float64 // healthy cars against which a claim of 80 % or more was made
	Buried           float64 // healthy cars whose own chance is below 5 %
	WrongSure        float64 // of all cars: those with a wrong claim of 80 % or more
	Claims           float64 // of the cars whose compressor runs and whose gauges are right: those with such a claim …
	ClaimsRight      float64 // … and how many of these claims are right
	AUC              float64 // healthy against faults of severity ≥ 0.4
	Outcomes         Outcomes
	Confusion        [][]float64 // [truth][answer], mean probability
}

// Bin is one interval of claimed probability.
type Bin struct {
	N             int
	Claimed, True float64 // means
}

// Outcomes are the six rates of Yuill & Braun, as shares: False and the first
// two of sound cars, the rest of faulty cars.
type Outcomes struct {
	SoundCorrect, SoundNoResponse, FalseAlarm                       float64
	Correct, NoResponse, MissedDetection, Misdiagnosis, NoDiagnosis float64
}

// Posterior returns the probabilities that m gives each condition for a case, by
// place in the list of conditions.
func Posterior(m *diagnose.Model) func(car.Case) ([]float64, error) {
	return func(c car.Case) ([]float64, error) {
		r, err := m.Rank(c)
		if err != nil {
			return nil, err
		}
		return byPlace(r.Ranking), nil
	}
}

// byPlace are the probabilities of a ranking by place in the list of conditions.
func byPlace(ranking []diagnose.Ranked) []float64 {
	p := make([]float64, len(ranking))
	for _, k := range ranking {
		p[car.Index(k.ID)] = k.Probability
	}
	return p
}

// Trial scores posterior against the truth of samples with the readings of set.
func Trial(samples []sim.Sample, set ReadingSet, posterior func(car.Case) ([]float64, error)) (Score, error) {
	sc := Score{Set: set.Name}
	nc := len(car.Conditions())
	sc.Confusion = make([][]float64, nc)
	count := make([]float64, nc)
	for i := range sc.Confusion {
		sc.Confusion[i] = make([]float64, nc)
	}
	severe, running := 0.0, 0.0
	var soundScores, faultScores []float64
	for i := range samples {
		s := &samples[i]
		p, err := posterior(set.Keep(s.Case))
		if err != nil {
			return sc, err
		}
		k := car.Index(s.Truth.Answer())
		first, second := twoBest(p)
		sc.Cars++
		hit1, hit2 := b2f(first == k), b2f(first == k || second == k)
		sc.Top1 += hit1
		sc.Top2 += hit2
		if s.Truth.Severity >= 0.4 && k != 0 {
			severe++
			sc.Severe1 += hit1
			sc.Severe2 += hit2
			faultScores = append(faultScores, 1-p[0])
		}
		sc.LogLoss -= math.Log2(math.Max(p[k], 1e-12))
		for j := range p {
			sc.Brier += (p[j] - b2f(j == k)) * (p[j] - b2f(j == k))
			sc.Confusion[k][j] += p[j]
		}
		count[k]++
		b := &sc.Bins[min(int(p[first]*10), 9)]
		b.N++
		b.Claimed += p[first]
		b.True += hit1
		sure := p[first] >= diagnose.NamedAt
		if sure && first != k {
			sc.WrongSure++
		}
		if plain := car.Conditions()[k]; plain != car.Empty && plain != car.NotRunning && plain != car.Gauge && plain != car.NoneOfThese {
			running++
			if sure {
				sc.Claims++
				sc.ClaimsRight += hit1
			}
		}
		if k == 0 {
			soundScores = append(soundScores, 1-p[0])
			sc.Buried += b2f(p[0] < 0.05)
			sc.Accused += b2f(first != 0 && sure)
		}
		sc.Outcomes.count(k, first, p)
	}
	n := float64(sc.Cars)
	for _, v := range []*float64{&sc.Top1, &sc.Top2, &sc.LogLoss, &sc.Brier} {
		*v /= n
	}
	sc.Severe1 /= math.Max(severe, 1)
	sc.Severe2 /= math.Max(severe, 1)
	sound := math.Max(count[0], 1)
	sc.Accused /= sound
	sc.Buried /= sound
	sc.WrongSure /= n
	sc.ClaimsRight /= math.Max(sc.Claims, 1)
	sc.Claims /= math.Max(running, 1)
	sc.Outcomes.share(sound, math.Max(n-sound, 1))
	for i := range sc.Bins {
		b := &sc.Bins[i]
		if b.N > 0 {
			b.Claimed /= float64(b.N)
			b.True /= float64(b.N)
			sc.ECE += math.Abs(b.Claimed-b.True) * float64(b.N) / n
		}
	}
	for i := range sc.Confusion {
		for j := range sc.Confusion[i] {
			sc.Confusion[i][j] /= math.Max(count[i], 1)
		}
	}
	sc.AUC = auc(soundScores, faultScores)
	return sc, nil
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func twoBest(p []float64) (first, second int) {
	first, second = 0, 1
	if p[1] > p[0] {
		first, second = 1, 0
	}
	for i := 2; i < len(p); i++ {
		switch {
		case p[i] > p[first]:
			first, second = i, first
		case p[i] > p[second]:
			second = i
		}
	}
	return first, second
}

// count sorts one answer into the six outcomes. A condition is claimed from a
// probability of one half; a fault counts as seen, if not named, when healthy is
// left with less than one fifth.
func (o *Outcomes) count(truth, first int, p []float64) {
	claimed := p[first] >= diagnose.LeaningAt
	seen := p[0] < 0.2
	if truth == 0 {
		switch {
		case claimed && first == 0:
			o.SoundCorrect++
		case claimed || seen:
			o.FalseAlarm++
		default:
			o.SoundNoResponse++
		}
		return
	}
	switch {
	case claimed && first == truth:
		o.Correct++
	case claimed && first == 0:
		o.MissedDetection++
	case claimed:
		o.Misdiagnosis++
	case seen:
		o.NoDiagnosis++
	default:
		o.NoResponse++
	}
}

func (o *Outcomes) share(sound, faulty float64) {
	for _, v := range []*float64{&o.SoundCorrect, &o.SoundNoResponse, &o.FalseAlarm} {
		*v /= sound
	}
	for _, v := range []*float64{&o.Correct, &o.NoResponse, &o.MissedDetection, &o.Misdiagnosis, &o.NoDiagnosis} {
		*v /= faulty
	}
}

// auc is the probability that a faulty car scores above a sound one.
func auc(sound, faulty []float64) float64 {
	if len(sound) == 0 || len(faulty) == 0 {
		return 0
	}
	wins := 0.0
	for _, f := range faulty {
		for _, s := range sound {
			if f > s {
				wins++
			} else if f == s {
				wins += 0.5
			}
		}
	}
	return wins / float64(len(sound)) / float64(len(faulty))
}

// Comparison is the fitted posterior, brute force, and brute force with a smaller
// library on the same cars.
type Comparison struct {
	Cars    float64
	LogLoss [3]float64 // bit: fitted, full, small
	Top1    [2]float64 // fitted, full
}

// CompareBrute scores the three on samples with the readings of set.
func CompareBrute(m *diagnose.Model, samples []sim.Sample, set ReadingSet, full, small *Brute) (Comparison, error) {
	var k Comparison
	posterior := Posterior(m)
	for i := range samples {
		s := &samples[i]
		if spoilt(&s.Truth) {
			continue
		}
		c := set.Keep(s.Case)
		fitted, err := posterior(c)
		if err != nil {
			return k, err
		}
		truth := car.Index(s.Truth.Answer())
		for j, p := range [3][]float64{spared(fitted), full.Posterior(&c, set.Use), small.Posterior(&c, set.Use)} {
			k.LogLoss[j] -= math.Log2(math.Max(p[truth], 1e-4))
			if first, _ := twoBest(p); j < 2 {
				k.Top1[j] += b2f(first == truth)
			}
		}
		k.Cars++
	}
	for j := range k.LogLoss {
		k.LogLoss[j] /= math.Max(k.Cars, 1)
	}
	for j := range k.Top1 {
		k.Top1[j] /= math.Max(k.Cars, 1)
	}
	return k, nil
}
