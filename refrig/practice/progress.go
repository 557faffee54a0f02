package practice

import (
	"encoding/json"
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
)

// Progress is what a student has practised, by condition. It is kept on the
// device as JSON.
type Progress struct {
	Version    int                         `json:"version"`
	Conditions map[car.ConditionID]*Tally  `json:"conditions"`
	Levels     map[Level]*Tally            `json:"levels"`
	Done       int                         `json:"done"`   // puzzles answered
	Points     float64                     `json:"points"` // sum over them
	Minutes    float64                     `json:"minutes"`
	Confused   map[car.ConditionID]Mistake `json:"confused"` // the last mistake on each condition
}

// Tally counts the puzzles of one condition or level.
type Tally struct {
	Seen  int `json:"seen"`
	Right int `json:"right"`
	// Lapse is how much the condition is confused of late, 0…1: each puzzle
	// halves what was before.
	Lapse float64 `json:"lapse"`
}

// Mistake is what was answered in place of a condition.
type Mistake struct {
	Said  car.ConditionID `json:"said"`
	Times int             `json:"times"`
}

const progressVersion = 1

// NewProgress returns the progress of a beginner.
func NewProgress() *Progress {
	return &Progress{Version: progressVersion, Conditions: map[car.ConditionID]*Tally{},
		Levels: map[Level]*Tally{}, Confused: map[car.ConditionID]Mistake{}}
}

// Record takes note of a mark. A confusion has two sides: the condition that was
// there and, half as much, the one that was named.
func (p *Progress) Record(l Level, k Mark) {
	right := k.Correct()
	p.Done++
	p.Points += k.Points
	p.Minutes += k.Minutes
	p.level(l).count(right)
	p.condition(k.Want).count(right)
	if right || k.Answer.CannotTell() {
		return
	}
	t := p.condition(k.Answer.Condition)
	t.Lapse = math.Max(t.Lapse, 0.5)
	m := p.Confused[k.Want]
	if m.Said != k.Answer.Condition {
		m = Mistake{Said: k.Answer.Condition}
	}
	m.Times++
	p.Confused[k.Want] = m
}

func (t *Tally) count(right bool) {
	t.Seen++
	t.Lapse /= 2
	if right {
		t.Right++
	} else {
		t.Lapse += 0.5
	}
}

func (p *Progress) condition(id car.ConditionID) *Tally { return at(p.Conditions, id) }
func (p *Progress) level(l Level) *Tally                { return at(p.Levels, l) }

func at[K comparable](m map[K]*Tally, k K) *Tally {
	if m[k] == nil {
		m[k] = &Tally{}
	}
	return m[k]
}

// Weight is how much more often a condition is set than a beginner meets it: 1,
// and up to 5 for one that was confused each time of late. judgement
func (p *Progress) Weight(id car.ConditionID) float64 {
	if t := p.Conditions[id]; t != nil {
		return 1 + 4*t.Lapse
	}
	return 1
}

// searched bounds how many numbers Next looks through: the rarest condition is
// one in fifty.
const searched = 2000

// Next chooses the number of the next puzzle: a condition by its weight, and a
// number whose puzzle has it. from makes the choice; the page takes it from the
// clock.
func (p *Progress) Next(l Level, from uint64) int {
	r := fleet.NewRand(from)
	want := l.cause(r, p.Weight)
	seed := 1 + r.IntN(MaxSeed)
	for range searched {
		if Cause(seed, l) == want {
			return seed
		}
		seed = 1 + seed%MaxSeed
	}
	return seed
}

// Restore reads progress that was kept. What makes no sense is left out; text
// that is no progress at all gives a beginner's.
func Restore(text string) *Progress {
	p := NewProgress()
	var in Progress
	if json.Unmarshal([]byte(text), &in) != nil || in.Version != progressVersion {
		return p
	}
	known := map[car.ConditionID]bool{}
	for _, id := range car.Conditions() {
		known[id] = true
	}
	for id, t := range in.Conditions {
		if known[id] && t.sane() {
			p.Conditions[id] = t
		}
	}
	for _, l := range Levels {
		if t := in.Levels[l]; t.sane() {
			p.Levels[l] = t
			p.Done += t.Seen
		}
	}
	for id, m := range in.Confused {
		if known[id] && known[m.Said] && m.Times > 0 {
			p.Confused[id] = m
		}
	}
	// Averages are shown, so the sums must fit the count.
	if worst := float64(p.Done) * 200; math.Abs(in.Points) <= worst {
		p.Points = in.Points
	}
	if in.Minutes >= 0 && in.Minutes < 1e6 {
		p.Minutes = in.Minutes
	}
	return p
}

func (t *Tally) sane() bool {
	return t != nil && t.Seen >= 0 && t.Right >= 0 && t.Right <= t.Seen && t.Seen < 1e6 && t.Lapse >= 0 && t.Lapse <= 1
}

// Text writes the progress as Restore reads it.
func (p *Progress) Text() string {
	b, err := json.Marshal(p)
	if err != nil {
		panic("practice: " + err.Error()) // numbers and texts
	}
	return string(b)
}
