package app

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/present"
)

// saveDelay is how long typing must rest before the job is written.
const saveDelay = 300 * time.Millisecond

// keeper writes the job on the bench to the device.
type keeper struct {
	due    int  // number of the last change that waits to be written
	dirty  bool // there is something to write
	failed bool // the user was told that nothing can be kept
}

func (s *session) saveSoon(ctx app.Context) {
	s.keeper.dirty = true
	s.keeper.due++
	n := s.keeper.due
	s.ctx.After(saveDelay, func(ctx app.Context) {
		if s.keeper.due == n {
			s.save(ctx)
		}
	})
}

func (s *session) save(ctx app.Context) {
	if !s.keeper.dirty {
		return
	}
}

func (s *session) restore(ctx app.Context) job.Job { return job.New(time.Now(), present.USUnits) }
