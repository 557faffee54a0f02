package app

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// session is what the places share while the page is open: the job on the
// bench, its answer, the notice above the page. It is changed on the event
// goroutine only. Every change raises rev, which the places carry as an exported
// field, so that go-app draws again what depends on it and nothing else.
type session struct {
	words   *present.Words
	compute computer
	keeper  keeper
	ctx     app.Context // of the root, which is always on screen
	started bool
	popped  bool

	job      job.Job
	before   *job.Job // what was on the bench before it was replaced, for undo
	current  car.Case // the job as the model sees it
	problems map[present.FieldID][]present.Problem
	units    unitMemory

	answer  answer
	aloud   aloud
	weather weather
	desk    desk
	more    bool // the further measurements are unfolded

	notice notice

	// planRev is for what depends on the next measurement, aloudRev for what is
	// read out: both come after the answer.
	rev, answerRev, planRev, aloudRev, noticeRev int
}

// answerState says what can be shown in place of the answer.
type answerState int

const (
	missing  answerState = iota // a needle or the outside temperature is not there
	invalid                     // one of the three cannot be used
	loading                     // the first answer is on its way
	answered                    // report and plane are those of the case, or of the one before until its own come
	failed                      // the model failed
)

// answer is what the model said about the current case.
type answer struct {
	state   answerState
	planned bool // report.Next is that of the case; before, of the one before
	missing []present.FieldID
	of      car.Case // the case that was answered
	report  diagnose.Report
	plane   diagnose.Plane
	failure present.Message
}

// newSession returns a session that keeps its jobs on the device and loads the
// model when it is first asked.
func newSession(load func() (Engine, error), device job.Storage) *session {
	return &session{
		keeper:  keeper{store: job.NewStore(device), delay: saveDelay},
		words:   present.English(),
		compute: computer{load: load, rest: restBeforePlan},
		aloud:   aloud{rest: restBeforeAloud},
		desk:    desk{compute: computer{load: load}},
		job:     job.New(time.Now(), unit.US()),
	}
}

// start restores what was on the bench and listens to the window. It runs once,
// when the root comes on screen.
func (s *session) start(ctx app.Context) {
	if s.started {
		return
	}
	s.started, s.ctx = true, ctx
	s.job = s.restore(ctx)
	s.listenShell(ctx)
	s.listen(ctx, "pagehide", func(ctx app.Context) { s.save(ctx) })
	s.listen(ctx, "visibilitychange", func(ctx app.Context) {
		if app.Window().Get("document").Get("visibilityState").String() == "hidden" {
			s.save(ctx)
		}
	})
	s.listenPop()
	s.recompute(ctx)
}

// listen calls f on the event goroutine whenever the window hears event. The
// listeners live as long as the page and are never removed.
func (s *session) listen(ctx app.Context, event string, f func(app.Context)) {
	app.Window().Call("addEventListener", event, app.FuncOf(func(app.Value, []app.Value) any {
		ctx.Dispatch(f)
		return nil
	}))
}

// listenPop remembers that an arrival came from the back or forward button. The
// listener captures, so it runs before go-app's own.
func (s *session) listenPop() {
	app.Window().Call("addEventListener", "popstate", app.FuncOf(func(app.Value, []app.Value) any {
		s.popped = true
		return nil
	}), true)
}

func (s *session) takePopped() bool {
	was := s.popped
	s.popped = false
	return was
}

// voice speaks the page's language in the job's units.
func (s *session) voice() present.Voice { return present.Voice{Words: s.words, Units: s.job.Units} }

// edited is called after every change of the job.
func (s *session) edited(ctx app.Context) {
	s.keeper.lent = ""
	s.job.Updated = time.Now().UTC().Truncate(time.Second)
	s.saveSoon(ctx)
	s.recompute(ctx)
}

// replace puts another job on the bench.
func (s *session) replace(ctx app.Context, j job.Job) {
	s.job = j
	s.units = nil
	s.answer = answer{}
	s.recompute(ctx)
	s.syncInputs(ctx)
}

// recompute reads the job again and asks the model, unless a needed number is
// missing or refused.
func (s *session) recompute(ctx app.Context) {
	s.rev++
	s.recomputeAfter(s.ctx)
	c, problems := s.job.Case()
	s.current = c
	s.problems = map[present.FieldID][]present.Problem{}
	for _, p := range problems {
		s.problems[p.Field] = append(s.problems[p.Field], p)
	}
	state, gone := s.readiness()
	if state != answered {
		s.compute.cancel()
		s.answer = answer{state: state, missing: gone}
		s.answerRev++
		s.planRev++
		setMark(busy, false)
		setMark(planning, false)
		s.readAloudSoon()
		return
	}
	// An answer that is there stays as it is until the new one comes: it is not
	// drawn again for being out of date.
	if s.answer.state != answered {
		s.answer = answer{state: loading}
		s.answerRev++
	}
	// In the root's name: go-app drops what comes back to an element that is gone,
	// as a tapped example is.
	atOnce := s.compute.ask(s.ctx, request{
		Case:      c,
		Ambients:  s.weather.wanted(c),
		Answered:  s.answerCame,
		Planned:   s.planCame,
		Weathered: s.weatherCame,
		Failed:    s.answerFailed,
	})
	if !atOnce {
		setMark(busy, true)
	}
}

// needed are the inputs without which there is no answer.
var needed = []present.FieldID{present.FieldID(car.Low), present.FieldID(car.High), present.Ambient}

// readiness says whether the model can be asked, and which inputs are missing.
func (s *session) readiness() (answerState, []present.FieldID) {
	state := answered
	var gone []present.FieldID
	for _, id := range needed {
		for _, p := range s.problems[id] {
			switch {
			case p.Level == present.Missing:
				gone = append(gone, id)
			case p.Level == present.Refused && !s.hasValue(id):
				state = invalid
			}
		}
	}
	if len(gone) > 0 && state == answered {
		state = missing
	}
	return state, gone
}

// hasValue tells whether the case holds a number for the input although a part
// of it was refused, as one end of a swing may be.
func (s *session) hasValue(id present.FieldID) bool {
	if id == present.Ambient {
		return s.current.Weather.Ambient > 0
	}
	_, ok := s.current.Readings[car.Quantity(id)]
	return ok
}

func (s *session) answerCame(_ app.Context, c car.Case, r diagnose.Report, p diagnose.Plane) {
	for _, n := range s.answer.report.Next { // until the new plan comes
		if _, made := c.Readings[n.Quantity]; !made {
			r.Next = append(r.Next, n)
		}
	}
	if s.answer.state != answered {
		s.planRev++
	}
	s.answer = answer{state: answered, of: c, report: r, plane: p}
	s.rev++ // the gauges show the healthy band
	s.answerRev++
	setMark(busy, false)
	setMark(planning, true)
}

func (s *session) planCame(_ app.Context, next []diagnose.Next) {
	s.answer.report.Next, s.answer.planned = next, true
	s.planRev++
	setMark(planning, false)
	s.readAloudSoon()
}

func (s *session) answerFailed(_ app.Context, err error) {
	s.answer = answer{state: failed, failure: s.voice().Error(err)}
	setMark(busy, false)
	setMark(planning, false)
	s.readAloudSoon()
	s.rev++
	s.answerRev++
	s.planRev++
}
