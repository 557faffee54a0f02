package page

import (
	"encoding/json"
	"fmt"
	"hash/crc32"
	"math"
	"reflect"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/learn"
	"twoneedles/refrig/unit"
)

// What this shop's own jobs teach (package learn). The answer to the readings before a
// repair takes it, with what is drawn beside that; nothing else does:
//
//   - the proof of a repair, because the cars it calls sound are what the bands are moved
//     by: taking its own word, it would let them drift;
//   - our record, because no job can judge what it has taught itself;
//   - Practice, Explore and whoever is sent a job, so that a link says the same everywhere.
//
// The job at hand never teaches: its own answer would change as its cause is confirmed,
// and every key would change what was learnt. So jobs are looked over only when another
// comes to hand or one that is not was written, a few at a time between the events.

// keyLearnt is where what was learnt is kept, and whether it is used.
const keyLearnt = "twoneedles.learnt"

// Judgement: time for the first answer and for the tap that opened a job to be seen; a
// piece of work that no key notices, and what is left to others before the next; and how
// many jobs teach, the latest: a shop's gauges and cars change, and more of them say
// little new. A job takes one to two milliseconds in a browser, nearly all of it to read
// what is kept (BenchmarkTeaches), once while the page is open.
const (
	restBeforeLearning = 300 * time.Millisecond
	learnPiece         = 8 * time.Millisecond
	restBetweenPieces  = 24 * time.Millisecond
	mostTaught         = 1000
)

// Learnt is what the page knows of it.
type Learnt struct {
	s *Page
	keptLessons
	rev int // grows with the lessons in force

	jobs   map[string]taught // what each job teaches, by id
	others int               // what was written when they were looked over last,
	at     string            // and the job at hand then
	round  int               // of looking over; a newer one ends an older one
}

// keptLessons is what the device keeps, so that the first answer has it.
type keptLessons struct {
	Off     bool             `json:"off,omitempty"`
	Since   time.Time        `json:"since,omitzero"` // jobs of before are forgotten
	Of      string           `json:"of"`             // the jobs it was learnt from, as they were then
	Jobs    int              `json:"jobs"`           // of them could teach, enough or not
	Lessons diagnose.Lessons `json:"lessons"`
	Told    learn.Told       `json:"told"`
}

// taught is what one job teaches, if anything.
type taught struct {
	updated, at time.Time
	lesson      learn.Lesson
	ok          bool
}

// recallLessons takes in what the device keeps; what it is, it was computed here, and is
// computed again once the jobs are looked over.
func (s *Page) recallLessons() {
	text, ok, _ := s.device.Get(keyLearnt)
	var k keptLessons
	if ok && json.Unmarshal([]byte(text), &k) == nil && k.Lessons.Check() == nil {
		s.learnt.keptLessons = k
	}
}

func (s *Page) keepLessons() {
	text, err := json.Marshal(s.learnt.keptLessons)
	if err == nil {
		_ = s.device.Set(keyLearnt, string(text)) // a full store costs the memory of it
	}
}

// inForce is what the answer takes.
func (s *Page) inForce() diagnose.Lessons {
	if s.learnt.Off || s.guest {
		return diagnose.Lessons{}
	}
	return s.learnt.Lessons
}

// Learnt is what was learnt here. It has one method of the page, and not many: each of
// those is written again for every place.
func (s *Page) Learnt() *Learnt { return &s.learnt }

// Rev grows when other lessons are in force.
func (l *Learnt) Rev() int { return l.rev }

// lookOver looks the jobs over, if others than at hand may have changed.
func (s *Page) lookOver() {
	l := &s.learnt
	if l.others == s.saver.others+1 && l.at == s.Job.ID {
		return
	}
	l.others, l.at = s.saver.others+1, s.Job.ID
	delete(l.jobs, s.Job.ID) // it may be edited from now on
	l.round++
	round := l.round
	s.Later(restBeforeLearning, func() {
		if round != l.round {
			return
		}
		var list []job.Entry
		all, _ := s.Entries()
		for _, e := range all {
			if len(list) < mostTaught && e.ID != l.at && (e.Cause != "" || e.SoundThen || e.SoundAt) {
				list = append(list, e)
			}
		}
		if of := s.nameOf(list); of != l.Of {
			s.learnFrom(round, of, list, 0)
		}
	})
}

// nameOf names what would be learnt from a list of jobs, "" if nothing would.
func (s *Page) nameOf(list []job.Entry) string {
	if len(list) == 0 {
		return ""
	}
	sum := crc32.NewIEEE()
	fmt.Fprint(sum, diagnose.FitID(), s.learnt.Since.Unix())
	for _, e := range list {
		fmt.Fprint(sum, e.ID, e.Updated.Unix())
	}
	return fmt.Sprintf("%08x", sum.Sum32())
}

// learnFrom reads what is new of the list from place i on, and goes on after a rest.
func (s *Page) learnFrom(round int, of string, list []job.Entry, i int) {
	l := &s.learnt
	if round != l.round {
		return
	}
	if l.jobs == nil {
		l.jobs = map[string]taught{}
	}
	for until := time.Now().Add(learnPiece); i < len(list); i++ {
		e := list[i]
		if known, ok := l.jobs[e.ID]; ok && known.updated.Equal(e.Updated) {
			continue
		}
		if time.Now().After(until) {
			s.Later(restBetweenPieces, func() { s.learnFrom(round, of, list, i) })
			return
		}
		t, err := s.taughtBy(e)
		if err != nil { // the model failed: the answer says so
			return
		}
		l.jobs[e.ID] = t
	}
	var lessons []learn.Lesson
	for _, e := range list {
		if t := l.jobs[e.ID]; t.ok && (l.Since.IsZero() || t.at.After(l.Since)) {
			lessons = append(lessons, t.lesson)
		}
	}
	k := l.keptLessons
	k.Of, k.Jobs = of, len(lessons)
	if err := s.Questions().Now(func(m *diagnose.Model) (err error) {
		k.Lessons = learn.Together(m, lessons)
		k.Told, err = learn.Tell(m, k.Lessons)
		return err
	}); err != nil {
		return
	}
	s.setLessons(k)
}

// setLessons puts what was learnt, or whether it is used, in place of what was.
func (s *Page) setLessons(k keptLessons) {
	if reflect.DeepEqual(k, s.learnt.keptLessons) {
		return
	}
	s.learnt.keptLessons = k
	s.keepLessons()
	s.Recompute()
}

// taughtBy reads what a job teaches; one that cannot be read teaches nothing.
func (s *Page) taughtBy(e job.Entry) (taught, error) {
	t := taught{updated: e.Updated}
	j, err := s.saver.store.Look(e.ID)
	if err != nil {
		return t, nil
	}
	var readings []learn.Job
	for _, k := range j.Teaches() {
		t.at = k.At
		readings = append(readings, learn.Job{Case: k.Of, Found: k.Found, After: k.After})
	}
	if len(readings) == 0 {
		return t, nil
	}
	err = s.Questions().Now(func(m *diagnose.Model) error {
		t.lesson, t.ok = learn.Of(m, readings...)
		return nil
	})
	return t, err
}

// Use puts what was learnt into the answers, or leaves it out.
func (l *Learnt) Use(on bool) {
	k := l.keptLessons
	k.Off = !on
	l.s.setLessons(k)
}

// Forget makes the jobs of before teach no more, or all of them teach again.
func (l *Learnt) Forget(on bool) {
	k := l.keptLessons
	k.Since = time.Time{}
	if on {
		k.Since = time.Now().UTC().Truncate(time.Second)
	}
	l.at = "" // look them over
	l.s.setLessons(k)
}

// Says is what was learnt here in a sentence, "" if nothing was.
func (l *Learnt) Says() string {
	if l.Lessons.Jobs == 0 {
		return ""
	}
	s := l.s
	w, v := s.Words, s.Voice()
	var what []string
	say := func(key string, was [2]float64, kind unit.Kind) {
		lower, upper := math.Min(was[0], was[1]), math.Max(was[0], was[1])
		by := strings.TrimPrefix(v.Difference(lower, upper, kind), "+")
		if by == v.Difference(lower, lower, kind) {
			return
		}
		if was[1] > was[0] {
			key += "_up"
		} else {
			key += "_down"
		}
		what = append(what, w.T(key, "by", by))
	}
	say("learnt.low", l.Told.Low, unit.GaugePressure)
	say("learnt.high", l.Told.High, unit.GaugePressure)
	say("learnt.vent", l.Told.Vent, unit.Temperature)
	if t := l.Told; t.Fault != "" { // the one that changed most; the answer knows the others
		key := "learnt.more"
		if t.Is > t.Was {
			key = "learnt.rarer"
		}
		what = append(what, w.T(key, "condition", s.InText(t.Fault), "is", t.Is, "was", t.Was))
	}
	if len(what) == 0 {
		what = []string{w.T("learnt.nothing")}
	}
	return w.T("learnt.says", "n", l.Lessons.Jobs, "what", strings.Join(what, "; "))
}

// Line says below the answer what was learnt here, with the tap that leaves it out.
func (l *Learnt) Line() app.UI {
	if !l.Lessons.Moves() {
		return nil
	}
	text := l.Says()
	if l.Off {
		text = l.s.Words.T("learnt.off", "n", l.Lessons.Jobs)
	}
	return app.Div().ID("learnt").Class("row").Body(app.P().Class("hint").Text(text), l.toggle("learnt-switch", "btn quiet"))
}

// Part says the same in our record, with what makes it forget.
func (l *Learnt) Part() app.UI {
	w := l.s.Words
	text := l.Says()
	if text == "" {
		text = w.T("learnt.few", "n", l.Jobs, "least", learn.LeastJobs)
	}
	if l.Off {
		text += " " + w.T("learnt.is_off")
	}
	forget := "learnt.forget"
	if !l.Since.IsZero() {
		text += " " + w.T("learnt.forgotten", "date", w.Day(l.Since.Local()))
		forget = "learnt.recall"
	}
	return app.Section().ID("record-learnt").Class("tight").Body(
		app.H3().Text(w.T("learnt.title")),
		app.P().ID("record-learnt-says").Aria("live", "polite").Text(text),
		app.Div().Class("row").Hidden(l.Jobs == 0 && l.Since.IsZero() && !l.Off).Body(
			l.toggle("record-learnt-switch", "btn"),
			app.Button().ID("record-forget").Type("button").Class("btn").Text(w.T(forget)).
				OnClick(func(app.Context, app.Event) { l.Forget(l.Since.IsZero()) }),
		),
		app.P().Class("hint").Text(w.T("learnt.how")),
	)
}

func (l *Learnt) toggle(id, class string) app.UI {
	key := "learnt.leave"
	if l.Off {
		key = "learnt.use"
	}
	return app.Button().ID(id).Type("button").Class(class).Text(l.s.Words.T(key)).
		OnClick(func(app.Context, app.Event) { l.Use(l.Off) }, app.EventScope(id))
}
