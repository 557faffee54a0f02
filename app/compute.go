package app

import (
	"fmt"
	"sync"
	"sync/atomic"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// Engine is what the page asks of the model. *diagnose.Model is one.
type Engine interface {
	Answer(car.Case) (diagnose.Report, error)
	Next(car.Case) ([]diagnose.Next, error)
	Plane(car.Case, []car.ConditionID) (diagnose.Plane, error)
	WeatherBands(car.Case, []float64) ([]diagnose.WeatherBand, error)
}

// computer is the only caller of the model. Requests are numbered; an answer
// that is no longer the newest is dropped. The answer itself takes the model a few
// milliseconds, less than drawing the page a second time, and is worked out within
// the event that asks for it; what takes longer follows in pieces between events,
// once the answer is on screen. A panic of the model becomes an error of its
// request.
type computer struct {
	load func() (Engine, error)
	rest time.Duration // between the answer and what follows: restBeforePlan

	last atomic.Int64 // number of the newest request
	mu   sync.Mutex   // the model answers one request at a time
	eng  Engine
}

// breath gives the browser a turn between two pieces of work. Go runs every
// ready goroutine before it returns to the browser, so only a sleep does.
const breath = time.Millisecond

// restBeforePlan is time for a slow phone to bring an answer to the screen, and less
// than anyone waits for (judgement). A key that comes within it saves the work.
const restBeforePlan = 50 * time.Millisecond

// request is a case with what is wanted beside its diagnosis. The functions are
// called on the event goroutine, in this order, and only while the request is
// the newest; after Failed none follows. Answered may be called before ask returns.
type request struct {
	Case      car.Case
	Ambients  []float64 // K; empty: no weather bands
	Answered  func(app.Context, car.Case, diagnose.Report, diagnose.Plane)
	Planned   func(app.Context, []diagnose.Next) // nil: the next measurement is not wanted
	Weathered func(app.Context, car.Case, []diagnose.WeatherBand)
	Failed    func(app.Context, error)
}

// piece is one part of a request. It returns how its result is delivered, nil
// where it has none.
type piece func(request) (deliver func(app.Context), err error)

// ask starts a request and makes every older one stale. It reports whether the
// answer came at once, or its failure; otherwise the model has to be loaded first.
// The context is that of an element that stays on screen.
func (c *computer) ask(ctx app.Context, r request) (atOnce bool) {
	n := c.last.Add(1)
	fresh := func() bool { return c.last.Load() == n }
	if !c.ready() { // loading takes long enough to be seen: let the page be drawn first
		ctx.Async(func() {
			time.Sleep(breath)
			c.follow(ctx, r, fresh, c.answer, c.plan, c.weather)
		})
		return false
	}
	deliver, err := c.turn(r, fresh, c.answer)
	if err != nil {
		r.Failed(ctx, err)
		return true
	}
	deliver(ctx)
	ctx.Defer(func(app.Context) { // now the page has the answer
		ctx.Async(func() {
			time.Sleep(c.rest)
			c.follow(ctx, r, fresh, c.plan, c.weather)
		})
	})
	return true
}

// follow works the pieces out one after the other, with a breath between, and
// delivers each as an event.
func (c *computer) follow(ctx app.Context, r request, fresh func() bool, pieces ...piece) {
	for i, p := range pieces {
		if i > 0 {
			time.Sleep(breath)
		}
		deliver, err := c.turn(r, fresh, p)
		if err != nil {
			deliver = func(ctx app.Context) { r.Failed(ctx, err) }
		}
		if deliver != nil {
			ctx.Dispatch(func(ctx app.Context) {
				if fresh() {
					deliver(ctx)
				}
			})
		}
		if err != nil {
			return
		}
	}
}

// turn waits for the model and works a piece out, unless the request is stale by
// then.
func (c *computer) turn(r request, fresh func() bool, p piece) (deliver func(app.Context), err error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if !fresh() {
		return nil, nil
	}
	defer func() {
		if broken := recover(); broken != nil {
			deliver, err = nil, fmt.Errorf("app: the model stopped: %v", broken)
		}
	}()
	return p(r)
}

// ready tells whether the model is loaded and has nothing else to do.
func (c *computer) ready() bool {
	if !c.mu.TryLock() {
		return false
	}
	defer c.mu.Unlock()
	return c.eng != nil
}

// cancel makes every request stale.
func (c *computer) cancel() { c.last.Add(1) }

// answer answers the request and draws its plane. They are delivered together:
// an answer beside the picture of the previous reading is a lie.
func (c *computer) answer(r request) (func(app.Context), error) {
	e, err := c.engine()
	if err != nil {
		return nil, err
	}
	report, err := e.Answer(r.Case)
	if err != nil {
		return nil, err
	}
	plane, err := e.Plane(r.Case, leaders(report))
	if err != nil {
		return nil, err
	}
	return func(ctx app.Context) { r.Answered(ctx, r.Case, report, plane) }, nil
}

// plan finds the next measurement. It takes about ten times as long as the answer
// and comes after it.
func (c *computer) plan(r request) (func(app.Context), error) {
	if r.Planned == nil {
		return nil, nil
	}
	e, err := c.engine()
	if err != nil {
		return nil, err
	}
	next, err := e.Next(r.Case)
	if err != nil {
		return nil, err
	}
	return func(ctx app.Context) { r.Planned(ctx, next) }, nil
}

func (c *computer) weather(r request) (func(app.Context), error) {
	if len(r.Ambients) == 0 {
		return nil, nil
	}
	e, err := c.engine()
	if err != nil {
		return nil, err
	}
	bands, err := e.WeatherBands(r.Case, r.Ambients)
	if err != nil {
		return nil, err
	}
	return func(ctx app.Context) { r.Weathered(ctx, r.Case, bands) }, nil
}

// engine loads the model the first time it is needed.
func (c *computer) engine() (Engine, error) {
	if c.eng != nil {
		return c.eng, nil
	}
	e, err := c.load()
	if err != nil {
		return nil, &loadError{err}
	}
	c.eng = e
	return e, nil
}

// loadError says that there is no model at all, not that it failed on a case.
type loadError struct{ err error }

func (e *loadError) Error() string { return e.err.Error() }
func (e *loadError) Unwrap() error { return e.err }

// leaders are the conditions whose drift the plane shows: the likeliest ones
// that are worth a line, healthy being the region itself.
func leaders(r diagnose.Report) []car.ConditionID {
	const most, least = 3, 0.08 // judgement: more lines hide each other
	var ids []car.ConditionID
	for _, c := range r.Ranking {
		if c.ID == car.Healthy || c.ID == car.NoneOfThese {
			continue
		}
		if len(ids) == most || c.Probability < least {
			break
		}
		ids = append(ids, c.ID)
	}
	return ids
}
