package app

import (
	"errors"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
)

// saveDelay is how long typing must rest before the job is written.
const saveDelay = 300 * time.Millisecond

// keeper writes the job on the bench to the device.
type keeper struct {
	store  *job.Store
	delay  time.Duration // saveDelay, but in tests
	due    int           // number of the last change that waits to be written
	dirty  bool          // there is something to write
	failed string        // code of the failure the user was told of, "" if none
	// lent is the id of a job that was only put on the bench, as an example or
	// empty, and not changed since: it is kept so that reloading finds it, and
	// dropped when another takes its place, so that the list of jobs stays free of it.
	lent string
}

// saveSoon writes the job once typing has rested. Hiding the page does not wait
// for it: see start.
func (s *session) saveSoon(ctx app.Context) {
	s.keeper.dirty = true
	s.keeper.due++
	n := s.keeper.due
	s.ctx.After(s.keeper.delay, func(ctx app.Context) {
		if s.keeper.due == n {
			s.save(ctx)
		}
	})
}

// save writes the job now, if it was changed. A failure is said once; work goes
// on in memory and every later save tries again.
func (s *session) save(app.Context) {
	k := &s.keeper
	if !k.dirty {
		return
	}
	err := k.store.Save(s.job)
	var code string
	var failure *job.Error
	if errors.As(err, &failure) {
		code = failure.What
	}
	if code == job.StoreChanged { // another window has it; ours becomes a copy
		var copied job.Job
		if copied, err = k.store.SaveCopy(s.job); err == nil {
			s.job.ID = copied.ID
		}
		s.say(notice{text: joinSentences(s.voice().Error(failure))})
		code = ""
	}
	if err == nil {
		err = k.store.SetCurrent(s.job.ID)
		k.dirty = err != nil
	}
	if err == nil {
		k.failed = ""
		return
	}
	if code == "" {
		code = "current"
	}
	if k.failed != code {
		k.failed = code
		s.say(notice{kind: "unsaved", text: joinSentences(s.voice().Error(err))})
	}
}

// restore returns the job that was on the bench when the page was closed, or an
// invented car on a first visit.
func (s *session) restore(app.Context) job.Job {
	j, warnings, ok := s.keeper.store.Current()
	if !ok {
		return firstExample()
	}
	for _, w := range warnings {
		s.say(notice{text: joinSentences(s.voice().Warning(w))})
	}
	return j
}

// put sets another job on the bench and keeps the one that was there for undo.
func (s *session) put(ctx app.Context, j job.Job) {
	s.save(ctx)
	s.dropLent()
	before := s.job.Clone()
	s.replace(ctx, j)
	s.before = &before
}

// lend puts a job on the bench that is nobody's yet.
func (s *session) lend(ctx app.Context, j job.Job) {
	s.put(ctx, j)
	s.keeper.dirty = true
	s.save(ctx)
	s.keeper.lent = j.ID
}

// dropLent takes the job on the bench off the device if it was only lent.
func (s *session) dropLent() {
	if s.keeper.lent != "" && s.keeper.lent == s.job.ID {
		// Where nothing could be kept there is nothing to drop.
		_, _ = s.keeper.store.Delete(s.job.ID)
	}
	s.keeper.lent = ""
}

// undo brings back the job that was on the bench before the last put.
func (s *session) undo(ctx app.Context) {
	if s.before == nil {
		return
	}
	s.dropLent()
	j := *s.before
	s.before = nil
	s.replace(ctx, j)
	s.keeper.dirty = true
	s.save(ctx)
}
