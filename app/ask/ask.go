package ask

import (
	"fmt"
	"reflect"
	"sync"
	"sync/atomic"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/refrig/diagnose"
)

// Model is the diagnosis, loaded when it is first asked. Every place asks it, and
// the solver of Explore, through [Questions]: one question at a time, and a panic
// below becomes an error of the question.
type Model struct {
	load   func() (*diagnose.Model, error)
	rest   time.Duration // between the answer on screen and what follows: restBeforePlan
	before func() error  // ahead of every question; nil but in tests

	mu      sync.Mutex
	is      *diagnose.Model
	lessons diagnose.Lessons // in force
	own     *diagnose.Model  // with them, nil until it is asked
}

// New returns a model that load loads.
func New(load func() (*diagnose.Model, error)) *Model {
	return &Model{load: load, rest: restBeforePlan}
}

// Hurry is for tests: nothing rests, and before is called ahead of every question.
func (m *Model) Hurry(before func() error) { m.rest, m.before = 0, before }

// Questions is a series of questions to the model of which only the newest matters:
// what is left of an older one is dropped.
type Questions struct {
	model *Model
	own   bool         // the model takes what this shop's jobs teach
	last  atomic.Int64 // number of the newest
}

// Questions returns a new series of questions.
func (m *Model) Questions() *Questions { return &Questions{model: m} }

// Own makes them questions to the model with what this shop's jobs teach: for what stands
// beside the answer.
func (q *Questions) Own() *Questions { q.own = true; return q }

// Work asks the model and delivers what it says. deliver hands a result to the page,
// where it runs as an event, gives the browser and other questions a turn, and
// reports whether the question is still the newest.
type Work func(m *diagnose.Model, deliver func(func(app.Context)) bool) error

// breath gives the browser a turn between two pieces of work. Go runs every
// ready goroutine before it returns to the browser, so only a sleep does.
const breath = time.Millisecond

// restBeforePlan is time for a slow phone to bring an answer to the screen, and less
// than anyone waits for (judgement). A key that comes within it saves the work.
const restBeforePlan = 50 * time.Millisecond

// Ask works between events: one piece of work after the other, with a breath before
// each. failed is called instead of what would have followed. ctx is that of an
// element that stays on screen.
func (q *Questions) Ask(ctx app.Context, failed func(app.Context, error), works ...Work) {
	q.follow(ctx, q.last.Add(1), breath, failed, works)
}

// AskAtOnce does the first piece within the event that asks, if the model is loaded:
// an answer takes a few milliseconds, less than drawing the page a second time. What
// takes longer follows once the answer is on screen. It reports whether the first
// piece came, or its failure; otherwise all of it comes as by [Questions.Ask].
func (q *Questions) AskAtOnce(ctx app.Context, failed func(app.Context, error), first Work, then ...Work) bool {
	n := q.last.Add(1)
	if !q.model.ready() { // loading takes long enough to be seen: let the page be drawn first
		q.follow(ctx, n, breath, failed, append([]Work{first}, then...))
		return false
	}
	var came []func(app.Context)
	err := q.model.guarded(q.own, func(m *diagnose.Model) error {
		return first(m, func(f func(app.Context)) bool { came = append(came, f); return true })
	})
	for _, f := range came {
		f(ctx)
	}
	switch {
	case err != nil:
		failed(ctx, err)
	case len(then) > 0:
		ctx.Defer(func(ctx app.Context) { q.follow(ctx, n, q.model.rest, failed, then) })
	}
	return true
}

// Warm loads the model while nobody waits for it, so that the first answer comes with
// the key that asks for it. What goes wrong is said when something is asked.
func (q *Questions) Warm(ctx app.Context) {
	nothing := func(*diagnose.Model, func(func(app.Context)) bool) error { return nil }
	q.follow(ctx, q.last.Add(1), breath, func(app.Context, error) {}, []Work{nothing})
}

// Now works within the event: for what a hand on a dial waits for.
func (q *Questions) Now(work func(*diagnose.Model) error) error { return q.model.guarded(q.own, work) }

// Cancel makes every question asked so far an old one.
func (q *Questions) Cancel() { q.last.Add(1) }

// follow does the works of question n between events.
func (q *Questions) follow(ctx app.Context, n int64, rest time.Duration, failed func(app.Context, error), works []Work) {
	newest := func() bool { return q.last.Load() == n }
	dispatch := func(f func(app.Context)) {
		ctx.Dispatch(func(ctx app.Context) {
			if newest() {
				f(ctx)
			}
		})
	}
	ctx.Async(func() {
		for _, work := range works {
			time.Sleep(rest)
			rest = breath
			if !newest() {
				return
			}
			err := q.model.guarded(q.own, func(m *diagnose.Model) error {
				return work(m, func(f func(app.Context)) bool {
					dispatch(f)
					q.model.mu.Unlock()
					time.Sleep(breath)
					q.model.mu.Lock()
					return newest()
				})
			})
			if err != nil {
				dispatch(func(ctx app.Context) { failed(ctx, err) })
				return
			}
		}
	})
}

// guarded waits for the model, loads it the first time, and does the work. own is the
// model with the lessons in force.
func (m *Model) guarded(own bool, work func(*diagnose.Model) error) (err error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	defer func() {
		if broken := recover(); broken != nil {
			err = fmt.Errorf("ask: the model stopped: %v", broken)
		}
	}()
	if m.is == nil {
		if m.is, err = m.load(); err != nil {
			return err
		}
	}
	if m.before != nil {
		if err := m.before(); err != nil {
			return err
		}
	}
	if !own {
		return work(m.is)
	}
	if m.own == nil {
		if m.own, err = m.is.With(m.lessons); err != nil {
			return err
		}
	}
	return work(m.own)
}

// Learn puts lessons in force, and reports whether they are others than before.
func (m *Model) Learn(l diagnose.Lessons) bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	if reflect.DeepEqual(m.lessons, l) {
		return false
	}
	m.lessons, m.own = l, nil
	return true
}

// ready tells whether the model is loaded and has nothing else to do.
func (m *Model) ready() bool {
	if !m.mu.TryLock() {
		return false
	}
	defer m.mu.Unlock()
	return m.is != nil
}
