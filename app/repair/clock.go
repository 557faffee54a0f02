package repair

import (
	"fmt"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// longestClock is when a clock that was forgotten counts as stopped.
const longestClock = 24 * time.Hour

// runs tells if the clock that was started then runs.
func (s *Place) runs(start time.Time) bool {
	return !start.IsZero() && s.now().Sub(start) < longestClock
}

// clock shows the time since Start and draws itself once a second while it is seen.
// It counts nothing: closed, put away and opened again it is right.
type clock struct {
	app.Compo
	Lang  string
	ID    string
	Start time.Time
	Due   time.Duration // when something is to be done; 0 is never
	Text  string        // what is to be done, and when
	Now   string        // what is to be done now

	now    func() time.Time
	onDue  func() // called once for each Due
	called time.Duration
}

// sinceStart is the time since start in "m:ss", or "h:mm:ss" from an hour on.
func sinceStart(d time.Duration) string {
	s := int(max(0, d).Seconds())
	if s >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
	}
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

// OnMount starts the hand. It stops with the element: go-app drops what comes back to
// one that is gone.
func (c *clock) OnMount(ctx app.Context) { c.tick(ctx) }

func (c *clock) tick(ctx app.Context) {
	if c.due() && c.called != c.Due {
		c.called = c.Due
		c.onDue()
	}
	ctx.After(time.Second, c.tick)
}

func (c *clock) due() bool { return c.Due > 0 && c.now().Sub(c.Start) >= c.Due }

func (c *clock) Render() app.UI {
	text := c.Text
	if c.due() {
		text = c.Now
	}
	return app.Div().ID(c.ID).Class("clock").Body(
		app.Strong().Role("timer").Text(sinceStart(c.now().Sub(c.Start))),
		// Spoken when it changes, which is when something is due.
		app.Span().Role("status").Text(text),
	)
}
