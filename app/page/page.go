package page

import (
	"reflect"
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/ask"
	"twoneedles/app/claim"
	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// Page is what the places share while the page is open: the job at hand, its
// answers, the notice above. It is changed on the event goroutine only.
//
// What a place shows has a revision that grows with it: JobRev, Answer().Rev and so
// on. A panel carries those of what it shows as exported fields, so that go-app draws
// it again when one of them changed and at no other time.
type Page struct {
	Words *present.Words // of the language that is spoken: see Speak
	Job   job.Job        // to be changed at will: call Edited afterwards
	Ctx   app.Context    // of the root, which is always on screen

	jobRev    int
	before    visit
	after     visit
	previous  *job.Job // the job that was here before it was replaced, for undo
	example   job.Job  // the invented car at hand, if it is one
	tried     job.Job  // the same with what was added to it so far
	owned     bool     // the job at hand took the place of an invented one as somebody typed over it
	units     unitMemory
	typedUnit map[Text]typedUnit

	model      *ask.Model
	saver      saver
	history    history
	visits     carVisits
	learnt     Learnt
	device     job.Storage
	stay       Stay
	started    bool
	popped     bool
	sheetIn    string // the language of sheetWords, or the one that is on its way
	sheetWords *present.Words
	own        *present.Words // of the device, while somebody is shown a job in another language
	place      string         // the id of the one that is shown
	guest      bool           // the job at hand is only shown: see guest.go
	hurried    bool           // only in tests

	notice    Notice
	noticeRev int

	onEdited, onReplaced, onSync, onPlan []func()
}

// visit is the car as it was found once, before or after the repair: what was typed
// read as a case, and what the model said to it.
type visit struct {
	of       car.Case
	problems map[present.FieldID][]present.Problem
	answer   Answer
	ask      *ask.Questions
	readAt   int // the revision of the job that was read
}

// State says what can be shown in place of an answer.
type State int

// The states of an answer.
const (
	Missing  State = iota // a needle or the outside temperature is not there
	Invalid               // one of the three cannot be used
	Loading               // the first answer is on its way
	Answered              // report and plane are those of the case, or of the one before until its own come
	Failed                // the model failed
	Resting               // the engine is off: what the needles say is no question for the model
)

// Answer is what the model said about a visit.
type Answer struct {
	State   State
	Planned bool // Report.Next is that of the case; before, of the one before
	Missing []present.FieldID
	Invalid []present.FieldID // numbers that cannot be used
	Of      car.Case          // the case that was answered
	Report  diagnose.Report
	Plane   diagnose.Plane
	Bands   []diagnose.WeatherBand // of a visit after the repair, across the weather of ventAmbients
	Failure present.Message

	Rev     int // grows with every answer
	PlanRev int // grows with the next measurement, which comes after its answer
}

// New returns a page that speaks the words, keeps its jobs on the device and loads the
// model when it is first asked.
func New(words *present.Words, load func() (*diagnose.Model, error), device job.Storage) *Page {
	m := ask.New(load)
	s := &Page{
		Words:     words,
		Job:       job.New(time.Now(), unit.US()),
		device:    device,
		saver:     saver{store: job.NewStore(device)},
		typedUnit: map[Text]typedUnit{},
		model:     m,
		before:    visit{ask: m.Questions().Own()},
		after:     visit{ask: m.Questions()}, // see Learnt
	}
	s.learnt.s = s
	return s
}

// Questions returns a new series of questions to the model.
func (s *Page) Questions() *ask.Questions { return s.model.Questions() }

// JobRev grows with every change of the job.
func (s *Page) JobRev() int { return s.jobRev }

// Case is the visit before the repair as the model sees it.
func (s *Page) Case() car.Case { return s.before.of }

// Answer is what the model said about the visit before the repair.
func (s *Page) Answer() *Answer { return &s.before.answer }

// After is what the model says about the visit after the repair. That is read when it
// is shown, and asked about when it has changed since.
func (s *Page) After() *Answer {
	if s.after.readAt != s.jobRev {
		s.readAfter()
	}
	return &s.after.answer
}

// OnEdited calls f after every change of the job, and OnReplaced after another job
// has taken its place. OnSync calls f when texts on screen may differ from the job,
// and OnPlan when the answer, its next measurement included, has come or is known
// not to. They are called for as long as the page is open.
func (s *Page) OnEdited(f func())   { s.onEdited = append(s.onEdited, f) }
func (s *Page) OnReplaced(f func()) { s.onReplaced = append(s.onReplaced, f) }
func (s *Page) OnSync(f func())     { s.onSync = append(s.onSync, f) }
func (s *Page) OnPlan(f func())     { s.onPlan = append(s.onPlan, f) }

func call(list []func()) {
	for _, f := range list {
		f()
	}
}

// Start restores the job that was at hand and listens to the window. It does so
// once, when the root comes on screen, and tells whether it was now.
func (s *Page) Start(ctx app.Context) bool {
	if s.started {
		return false
	}
	s.started, s.Ctx = true, ctx
	s.Job.Units = firstUnits()
	s.Job = s.restore()
	s.hold()
	s.history.start(s.Job)
	s.recallLessons()
	s.Listen("twoneedles:update", s.UpdateWaits)
	s.UpdateWaits()
	s.missedLanguage()
	s.listenDevice()
	s.Listen("pagehide", s.Save)
	s.Listen("visibilitychange", func() {
		if app.Window().Get("document").Get("visibilityState").String() == "hidden" {
			s.Save()
		}
	})
	s.listenPop()
	s.recompute()
	s.takeTyped()
	if s.before.answer.State != Loading {
		s.Questions().Warm(ctx)
	}
	return true
}

// Listen calls f on the event goroutine whenever the window hears event. The
// listeners live as long as the page and are never removed.
func (s *Page) Listen(event string, f func()) {
	app.Window().Call("addEventListener", event, app.FuncOf(func(app.Value, []app.Value) any {
		s.Ctx.Dispatch(func(app.Context) { f() })
		return nil
	}))
}

// listenPop remembers that an arrival came from the back or forward button. The
// listener captures, so it runs before go-app's own.
func (s *Page) listenPop() {
	app.Window().Call("addEventListener", "popstate", app.FuncOf(func(app.Value, []app.Value) any {
		s.popped = true
		return nil
	}), true)
}

// TakePopped tells once whether the last arrival came from the back or forward
// button.
func (s *Page) TakePopped() bool {
	was := s.popped
	s.popped = false
	return was
}

// Then calls f once the page is drawn. It waits in the root's name: a button that was
// tapped may be gone by then, and with it what it had deferred.
func (s *Page) Then(f func()) { s.Ctx.Defer(func(app.Context) { f() }) }

// Later calls f on the event goroutine after a while.
func (s *Page) Later(d time.Duration, f func()) {
	if s.hurried {
		d = 0
	}
	s.Ctx.After(d, func(app.Context) { f() })
}

// Hurry is for tests: nothing waits for a hand to rest, and before is called ahead of
// every question to the model. What it returns, or its panic, is that of the question.
func (s *Page) Hurry(before func() error) {
	s.hurried = true
	s.model.Hurry(before)
}

// Voice speaks the page's language in the job's units.
func (s *Page) Voice() present.Voice { return present.Voice{Words: s.Words, Units: s.Job.Units} }

// Edited is called after every change of the job. Whoever types over an invented
// number has a car of his own.
func (s *Page) Edited() {
	if s.Job.Example != "" {
		s.takeOver()
	}
	s.edited()
}

// Tried is [Page.Edited] where the invented car at hand stays one, as when its point
// is moved over a picture.
func (s *Page) Tried() {
	s.hold()
	s.edited()
}

func (s *Page) edited() {
	s.saver.lent = ""
	s.Job.Updated = time.Now().UTC().Truncate(time.Second)
	s.learnt.edited()
	s.history.note(s.Job)
	s.saveNow()
	s.recompute()
}

// Replace takes another job to hand. The units are the person's and stay.
func (s *Page) Replace(j job.Job) {
	s.Job = s.titled(j.WithUnits(s.Job.Units))
	s.hold()
	s.owned, s.learnt.hand = false, false
	s.units = nil
	s.history.start(s.Job)
	s.before.answer = Answer{Rev: s.before.answer.Rev, PlanRev: s.before.answer.PlanRev}
	s.recompute()
	call(s.onReplaced)
	s.SyncInputs()
}

// set puts an answer in place of the one that is there.
func (v *visit) set(a Answer) {
	a.Rev, a.PlanRev = v.answer.Rev+1, v.answer.PlanRev
	if a.State != Answered && a.State != Loading || v.answer.State != Answered && a.State == Answered {
		a.PlanRev++
	}
	v.answer = a
}

// read takes in what the job says of the visit. It returns whether the model can be
// asked, and which inputs are missing or cannot be used.
func (v *visit) read(rev int, c car.Case, problems []present.Problem) (state State, gone, bad []present.FieldID) {
	v.readAt, v.of = rev, c
	v.problems = map[present.FieldID][]present.Problem{}
	for _, p := range problems {
		v.problems[p.Field] = append(v.problems[p.Field], p)
	}
	state = Answered
	for _, id := range needed {
		for _, p := range v.problems[id] {
			switch {
			case p.Level == present.Missing:
				gone = append(gone, id)
			case p.Level == present.Refused && !v.hasValue(id):
				state, bad = Invalid, append(bad, id)
			}
		}
	}
	if len(gone) > 0 && state == Answered {
		state = Missing
	}
	return state, gone, bad
}

// needed are the inputs without which there is no answer.
var needed = []present.FieldID{present.FieldID(car.Low), present.FieldID(car.High), present.Ambient}

// hasValue tells whether the case holds a number for the input although a part
// of it was refused, as one end of a swing may be.
func (v *visit) hasValue(id present.FieldID) bool {
	if id == present.Ambient {
		return v.of.Weather.Ambient > 0
	}
	_, ok := v.of.Readings[car.Quantity(id)]
	return ok
}

// recompute reads the job again and asks the model, unless a needed number is
// missing or refused.
func (s *Page) recompute() {
	s.jobRev++
	s.lookOver()
	if s.model.Learn(s.inForce()) {
		s.learnt.rev++
	}
	v := &s.before
	c, problems := s.withTable().Case()
	c.Earlier = s.rulers()
	state, gone, bad := v.read(s.jobRev, c, problems)
	call(s.onEdited)
	if err := s.Job.Refused(); err != nil { // said before anything is coupled, hence before anything is read
		v.ask.Cancel()
		s.answerFailed(s.Ctx, err)
		return
	}
	if s.Job.Before.Engine == job.EngineOff {
		state = Resting
	}
	if state != Answered {
		v.ask.Cancel()
		v.set(Answer{State: state, Missing: gone, Invalid: slices.Compact(bad)})
		s.settled()
		return
	}
	// An answer that is there stays as it is until the new one comes: it is not
	// drawn again for being out of date.
	if v.answer.State != Answered {
		v.set(Answer{State: Loading})
	}
	var a *diagnose.Inference
	// In the root's name: go-app drops what comes back to an element that is gone,
	// as a tapped example is.
	atOnce := v.ask.AskAtOnce(s.Ctx, s.answerFailed,
		func(m *diagnose.Model, deliver func(func(app.Context)) bool) (err error) {
			if a, err = m.Ask(c); err != nil {
				return err
			}
			report := a.Answer()
			plane := a.Plane(Leaders(report)) // with it: an answer beside the picture of the reading before is a lie
			deliver(func(app.Context) { s.answerCame(c, report, plane) })
			return nil
		},
		// About ten times as long as the answer.
		func(_ *diagnose.Model, deliver func(func(app.Context)) bool) error {
			var next []diagnose.Next
			if !claim.ChargeIsOut(c.Readings) {
				next = a.Next()
			}
			deliver(func(app.Context) { s.planCame(next) })
			return nil
		})
	if !atOnce {
		browser.SetMark(busy, true)
	}
}

func (s *Page) answerCame(c car.Case, r diagnose.Report, p diagnose.Plane) {
	if !claim.ChargeIsOut(c.Readings) {
		for _, n := range s.before.answer.Report.Next { // until the new plan comes
			if _, made := c.Readings[n.Quantity]; !made {
				r.Next = append(r.Next, n)
			}
		}
	}
	s.before.set(Answer{State: Answered, Of: c, Report: r, Plane: p})
	browser.SetMark(busy, false)
	browser.SetMark(planning, true)
}

func (s *Page) planCame(next []diagnose.Next) {
	a := &s.before.answer
	a.Report.Next, a.Planned = next, true
	a.PlanRev++
	s.settled()
}

func (s *Page) answerFailed(_ app.Context, err error) {
	s.before.set(Answer{State: Failed, Failure: s.Voice().Error(err)})
	s.settled()
}

// settled is called when nothing more is on its way. The marks go once that is drawn:
// whoever waits for them to go, as a test does, then sees what they waited for.
func (s *Page) settled() {
	call(s.onPlan)
	rev := s.jobRev
	s.Then(func() {
		if s.jobRev == rev { // else the job was edited meanwhile, and the marks are that edit's
			browser.SetMark(busy, false)
			browser.SetMark(planning, false)
		}
	})
}

// ventAmbients are the days for which the vent of a sound car is drawn, K: 15 to 45 °C.
var ventAmbients = []float64{288.15, 293.15, 298.15, 303.15, 308.15, 313.15, 318.15}

// readAfter reads the visit after the repair and asks the model about it. Before
// both needles were read there is nothing to ask.
func (s *Page) readAfter() {
	v, was := &s.after, s.after.of
	c, all := s.withTable().CaseAfter()
	var problems []present.Problem
	for _, p := range all {
		if p.After {
			problems = append(problems, p)
		}
	}
	state, gone, _ := v.read(s.jobRev, c, problems)
	if err := s.Job.Refused(); err != nil {
		v.ask.Cancel()
		v.set(Answer{State: Failed, Failure: s.Voice().Error(err)})
		return
	}
	if state != Answered {
		v.ask.Cancel()
		v.set(Answer{State: Missing, Missing: gone})
		return
	}
	if (v.answer.State == Answered || v.answer.State == Loading) && reflect.DeepEqual(c, was) {
		return
	}
	if v.answer.State != Answered {
		v.set(Answer{State: Loading})
	}
	v.ask.AskAtOnce(s.Ctx, func(_ app.Context, err error) { v.set(Answer{State: Failed, Failure: s.Voice().Error(err)}) },
		func(m *diagnose.Model, deliver func(func(app.Context)) bool) error {
			a, err := m.Ask(c)
			if err != nil {
				return err
			}
			report := a.Answer()
			plane := a.Plane(Leaders(report))
			bands, err := m.WeatherBands(c, ventAmbients)
			if err != nil {
				return err
			}
			deliver(func(app.Context) { v.set(Answer{State: Answered, Of: c, Report: report, Plane: plane, Bands: bands}) })
			return nil
		})
}
