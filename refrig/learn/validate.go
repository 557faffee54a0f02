package learn

import (
	"math"
	"math/rand/v2"
	"sort"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// Score is how the answers stand beside what was found.
type Score struct {
	Jobs       int
	Top1, Top2 Share
	ECE        Share // calibration error of the leader's chance: its mean distance from how often it is right
	Wrong80    Share // of all jobs: a claim of 80 % or more that was wrong
	LogLoss    float64
	Bins       [10]Bin // by the leader's chance
	// The six outcomes, as shares of the sound cars and of the faulty ones. A condition
	// is claimed from one half; a fault is seen when healthy is left under one fifth.
	SoundCorrect, FalseAlarm, SoundOpen  Share // of sound cars: said, accused, left open
	Named, Misnamed, SeenUnnamed, Missed Share // of faulty cars: … Missed are called healthy or left open
	soundJobs, faultyJobs                int
}

// Share is a share with its 90 % interval by drawing the jobs again and again
// (bootstrap), moved so that it lies round the share.
type Share struct{ Is, Lo, Hi float64 }

// Bin is one tenth of the scale of chances.
type Bin struct {
	Jobs          int
	Claimed, True float64
}

const (
	resamples   = 400
	bootSeed    = 17
	interval    = 0.90
	seenAt      = 0.2
	leastChance = 1e-4
)

// outcome is one job, judged.
type outcome struct {
	sound                        bool
	first, second, wrongSure     bool
	claimed, seen, leaderHealthy bool
	chance, loss                 float64
}

// Validate scores m on jobs; cars read after their repair are left out.
func Validate(m *diagnose.Model, jobs []Job) (Score, error) {
	var all []outcome
	for i := range jobs {
		if jobs[i].After {
			continue
		}
		r, err := m.Rank(jobs[i].Case)
		if err != nil {
			return Score{}, err
		}
		o := outcome{sound: jobs[i].Found == car.Healthy, loss: -math.Log2(leastChance)}
		lead := r.Ranking[0]
		o.first, o.chance = lead.ID == jobs[i].Found, lead.Probability
		o.second = o.first || r.Ranking[1].ID == jobs[i].Found
		o.wrongSure = !o.first && lead.Probability >= diagnose.NamedAt
		o.claimed, o.leaderHealthy = lead.Probability >= diagnose.LeaningAt, lead.ID == car.Healthy
		for _, k := range r.Ranking {
			if k.ID == jobs[i].Found {
				o.loss = -math.Log2(math.Max(k.Probability, leastChance))
			}
			if k.ID == car.Healthy {
				o.seen = k.Probability < seenAt
			}
		}
		all = append(all, o)
	}
	s := score(all)
	r := rand.New(rand.NewPCG(bootSeed, 1))
	var drawn [][]float64
	again := make([]outcome, len(all))
	for range resamples {
		for i := range again {
			again[i] = all[r.IntN(len(all))]
		}
		t := score(again)
		var row []float64
		for _, v := range t.shares() {
			row = append(row, v.Is)
		}
		drawn = append(drawn, row)
		if len(all) == 0 {
			break
		}
	}
	for k, v := range s.shares() {
		var col []float64
		for _, row := range drawn {
			col = append(col, row[k])
		}
		sort.Float64s(col)
		// Drawn again, a calibration error is larger by what chance adds to it once more:
		// what the draws have too much on average is taken off.
		much := -v.Is
		for _, x := range col {
			much += x / float64(len(col))
		}
		at := func(p float64) float64 {
			return math.Min(math.Max(col[int(p*float64(len(col)-1)+0.5)]-much, 0), 1)
		}
		v.Lo, v.Hi = at((1-interval)/2), at((1+interval)/2)
	}
	return s, nil
}

func (s *Score) shares() []*Share {
	return []*Share{&s.Top1, &s.Top2, &s.ECE, &s.Wrong80, &s.SoundCorrect, &s.FalseAlarm, &s.SoundOpen, &s.Named, &s.Misnamed, &s.SeenUnnamed, &s.Missed}
}

func score(all []outcome) (s Score) {
	add := func(v *Share, b bool) {
		if b {
			v.Is++
		}
	}
	for _, o := range all {
		s.Jobs++
		add(&s.Top1, o.first)
		add(&s.Top2, o.second)
		add(&s.Wrong80, o.wrongSure)
		s.LogLoss += o.loss
		b := &s.Bins[min(int(10*o.chance), 9)]
		b.Jobs++
		b.Claimed += o.chance
		if o.first {
			b.True++
		}
		if o.sound {
			s.soundJobs++
			add(&s.SoundCorrect, o.claimed && o.leaderHealthy)
			add(&s.FalseAlarm, o.claimed && !o.leaderHealthy || !o.claimed && o.seen)
			add(&s.SoundOpen, !o.claimed && !o.seen)
			continue
		}
		s.faultyJobs++
		add(&s.Named, o.claimed && o.first)
		add(&s.Misnamed, o.claimed && !o.first && !o.leaderHealthy)
		add(&s.SeenUnnamed, !o.claimed && o.seen)
		add(&s.Missed, o.claimed && o.leaderHealthy || !o.claimed && !o.seen)
	}
	n, sound, faulty := math.Max(float64(s.Jobs), 1), math.Max(float64(s.soundJobs), 1), math.Max(float64(s.faultyJobs), 1)
	for _, v := range []*Share{&s.Top1, &s.Top2, &s.Wrong80} {
		v.Is /= n
	}
	s.LogLoss /= n
	for _, v := range []*Share{&s.SoundCorrect, &s.FalseAlarm, &s.SoundOpen} {
		v.Is /= sound
	}
	for _, v := range []*Share{&s.Named, &s.Misnamed, &s.SeenUnnamed, &s.Missed} {
		v.Is /= faulty
	}
	for i := range s.Bins {
		b := &s.Bins[i]
		if b.Jobs > 0 {
			s.ECE.Is += math.Abs(b.Claimed-b.True) / n
			b.Claimed /= float64(b.Jobs)
			b.True /= float64(b.Jobs)
		}
	}
	return s
}
