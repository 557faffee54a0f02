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
// A job says from how many jobs its answer had learnt (job.Job.Learnt), so that whoever has
// another answer later or elsewhere is told why.
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

	hand bool // the job at hand was edited since it came to hand

	jobs   map[string]taught // what each job teaches, by id
	others int               // what was written when they were looked over last,
	at     string            // and the job at hand then
	round  int               // of looking over; a newer one ends an older one
}

// chosen is what somebody chose, in whichever window; the rest of what is kept each window
// works out for itself, as each has another job at hand.
type chosen struct {
	Off   bool      `json:"off,omitempty"`
	Since time.Time `json:"since,omitzero"` // jobs of before are forgotten
}

// keptLessons is what the device keeps, so that the first answer has it.
type keptLessons struct {
	chosen
	Of      string           `json:"of"`   // the jobs it was learnt from, as they were then
	Jobs    int              `json:"jobs"` // of them could teach, enough or not
	Lessons diagnose.Lessons `json:"lessons"`
	Told    learn.Told       `json:"told"`
}

// taught is what one job teaches, if anything.
type taught struct {
	updated, at time.Time
	lesson      learn.Lesson
	ok          bool
}

// storedLessons are what the device keeps, if that is sound. They were computed here,
// and are again once the jobs are looked over.
func (s *Page) storedLessons() (k keptLessons, ok bool) {
	text, ok, _ := s.device.Get(keyLearnt)
	ok = ok && json.Unmarshal([]byte(text), &k) == nil && k.Lessons.Check() == nil
	return k, ok
}

// recallLessons takes them in, and later what is chosen in another window.
func (s *Page) recallLessons() {
	if k, ok := s.storedLessons(); ok {
		s.learnt.keptLessons = k
	}
	app.Window().Call("addEventListener", "storage", app.FuncOf(func(_ app.Value, args []app.Value) any {
		if args[0].Get("key").String() == keyLearnt {
			s.Ctx.Dispatch(func(app.Context) { s.setLessons(func(*keptLessons) {}) })
		}
		return nil
	}))
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
	told := map[time.Time]bool{} // a job that was copied, as two windows or a file may, tells it once
	for _, e := range list {
		if t := l.jobs[e.ID]; t.ok && !told[t.at] && (l.Since.IsZero() || t.at.After(l.Since)) {
			told[t.at] = true
			lessons = append(lessons, t.lesson)
		}
	}
	var all diagnose.Lessons
	var said learn.Told
	if err := s.Questions().Now(func(m *diagnose.Model) (err error) {
		all = learn.Together(m, lessons)
		said, err = learn.Tell(m, all)
		return err
	}); err != nil {
		return
	}
	s.setLessons(func(k *keptLessons) { k.Of, k.Jobs, k.Lessons, k.Told = of, len(lessons), all, said })
}

// setLessons changes what was learnt here or what was chosen, upon what another window may
// have chosen meanwhile.
func (s *Page) setLessons(change func(*keptLessons)) {
	l := &s.learnt
	k := l.keptLessons
	if there, ok := s.storedLessons(); ok {
		k.chosen = there.chosen
	}
	change(&k)
	if reflect.DeepEqual(k, l.keptLessons) {
		return
	}
	if !k.Since.Equal(l.Since) {
		l.at = "" // look them over
	}
	l.keptLessons = k
	KeepJSON(s.device, keyLearnt, k)
	s.recompute()
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
func (l *Learnt) Use(on bool) { l.s.setLessons(func(k *keptLessons) { k.Off = !on }) }

// Forget makes the jobs of before teach no more, or all of them teach again.
func (l *Learnt) Forget(on bool) {
	l.s.setLessons(func(k *keptLessons) {
		k.Since = time.Time{}
		if on {
			k.Since = time.Now().UTC().Truncate(time.Second)
		}
	})
}

// taken is from how many jobs was learnt what the answer takes, 0 if it takes nothing.
func (l *Learnt) taken() int {
	if in := l.s.inForce(); in.Moves() {
		return in.Jobs
	}
	return 0
}

// edited notes it in the job at hand.
func (l *Learnt) edited() { l.s.Job.Learnt, l.hand = l.taken(), true }

// then says where the job at hand was last answered with another number of jobs learnt
// from, there or earlier, "" where it was not. An invented one was answered nowhere.
func (l *Learnt) then() string {
	w, j := l.s.Words, &l.s.Job
	switch {
	case l.hand || j.Example != "" || j.Learnt == l.taken():
		return ""
	case j.Learnt == 0:
		return w.T("learnt.then_none")
	}
	return w.T("learnt.then", "n", j.Learnt)
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
		what = append(what, w.T(key, "condition", s.Words.InText(t.Fault), "is", t.Is, "was", t.Was))
	}
	if len(what) == 0 {
		what = []string{w.T("learnt.nothing")}
	}
	return w.T("learnt.says", "n", l.Lessons.Jobs, "what", strings.Join(what, "; "))
}

// Line says below the answer what was learnt here, with the tap that leaves it out, and
// what the job had of it before.
func (l *Learnt) Line() app.UI {
	text, then := l.Says(), l.then()
	switch {
	case !l.Lessons.Moves() && then == "":
		return nil
	case !l.Lessons.Moves():
		return app.P().ID("learnt").Class("hint").Text(then)
	case l.Off:
		text = l.s.Words.T("learnt.off", "n", l.Lessons.Jobs)
	}
	return app.Div().ID("learnt").Class("row").Body(app.P().Class("hint").Text(strings.TrimSpace(text+" "+then)), l.toggle("learnt-switch", "btn quiet"))
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
		app.Div().Class("row").Hidden(l.Lessons.Jobs == 0 && l.Since.IsZero() && !l.Off).Body(
			l.toggle("record-learnt-switch", "btn"),
			Button("record-forget", "btn", w.T(forget), func() { l.Forget(l.Since.IsZero()) }),
		),
		app.P().Class("hint").Text(w.T("learnt.how")),
	)
}

func (l *Learnt) toggle(id, class string) app.UI {
	key := "learnt.leave"
	if l.Off {
		key = "learnt.use"
	}
	return Button(id, class, l.s.Words.T(key), func() { l.Use(l.Off) })
}
