package page

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/keep"
)

// watcher is the page as it hears of the device that keeps its jobs: what other windows
// do to them, and where keeping fails.
type watcher struct{ *Page }

// Stay says whether the browser will keep the jobs when the device runs out of room.
type Stay string

// What can be known of it. The browser is asked once, in answer to a tap: some ask the
// person in turn.
const (
	StayUnknown Stay = ""    // it cannot be asked
	StayAsk     Stay = "ask" // it has not been asked
	StayYes     Stay = "yes" // it has promised
	StayNo      Stay = "no"  // it has not
	keyAsked         = "twoneedles.asked"
)

// Stay says whether the jobs may be deleted for want of room.
func (s *Page) Stay() Stay { return s.stay }

// AskToStay asks the browser to keep them.
func (s *Page) AskToStay() {
	_ = s.device.Set(keyAsked, "1") // where that fails it may be asked again
	s.stay = StayNo
	s.askStay("persist", StayNo)
}

// askStay calls one of the two methods of the browser's storage manager.
func (s *Page) askStay(method string, otherwise Stay) {
	manager := app.Window().Get("navigator").Get("storage")
	if !manager.Truthy() || !manager.Get(method).Truthy() {
		return // not on plain http
	}
	set := func(yes bool) {
		s.Ctx.Dispatch(func(app.Context) {
			s.stay = otherwise
			if yes {
				s.stay = StayYes
			}
			s.saver.rev++ // the list says it
		})
	}
	browser.Await(browser.Call(manager, method), func(v app.Value) { set(v.Bool()) }, func(app.Value) { set(false) })
}

func (s *Page) listenDevice() {
	if !app.IsServer {
		otherwise := StayAsk
		if _, asked, _ := s.device.Get(keyAsked); asked {
			otherwise = StayNo
		}
		s.askStay("persisted", otherwise)
	}
	if d, ok := s.device.(*keep.Device); ok {
		d.Follow(func(f func()) { s.Ctx.Dispatch(func(app.Context) { f() }) }, watcher{s})
	}
}

// Changed shows what another window wrote. The job at hand follows it, as all that was
// typed here is kept at once.
func (w watcher) Changed(key string) {
	s := w.Page
	if key == job.KeyCurrent { // each window has its own
		return
	}
	s.saver.stored()
	if key != job.KeyPrefix+s.Job.ID || s.guest {
		return
	}
	// One that was deleted there stays at hand here, and is kept again when it is edited.
	if j, _, err := s.saver.store.Load(s.Job.ID); err == nil && job.Difference(j.WithUnits(s.Job.Units), s.Job) != "" {
		s.saver.lent = ""
		s.Replace(j)
	}
}

// Lost keeps the job at hand as a copy. Of the others this window types nothing.
func (w watcher) Lost(key, _ string) bool {
	s := w.Page
	s.saver.stored()
	if key != job.KeyPrefix+s.Job.ID {
		return false
	}
	s.saveNow()
	return true
}

// Copied implements [keep.Watcher].
func (w watcher) Copied(n int) {
	w.Say(w.Voice().Error(&job.Error{What: job.StoreCopied, Args: map[string]any{"n": n}}).Sentences())
}

// Trouble says once what the database refuses.
func (w watcher) Trouble(err *job.Error) {
	s := w.Page
	if err == nil {
		s.saver.refused = ""
		s.Save() // what was refused
		if s.notice == s.saver.told && !s.Unsaved() {
			s.Say("")
		}
		return
	}
	if s.saver.refused == err.What {
		return
	}
	s.saver.refused = err.What
	kind := "unsaved"
	if err.What == job.StoreSpare {
		kind = "everything"
	}
	s.refused(kind, err)
}

// refused says what the device refuses; it is taken back when the device takes it.
func (s *Page) refused(kind string, err error) {
	s.saver.told = Notice{kind, s.Voice().Error(err).Sentences()}
	s.say(s.saver.told)
}

// Cleared keeps the job at hand again, and says that the others are not kept any more.
func (w watcher) Cleared(keys []string) {
	s := w.Page
	others := len(keys)
	for _, key := range keys {
		if key == job.KeyCurrent || key == job.KeyPrefix+s.Job.ID {
			others--
		}
	}
	if !s.guest {
		s.saveNow()
	}
	if others > 0 {
		s.say(Notice{"cleared", s.Voice().Error(&job.Error{What: job.StoreCleared, Args: map[string]any{"n": others}}).Sentences()})
	}
}

// KeepAgain keeps the others too, after [watcher.Cleared].
func (s *Page) KeepAgain() {
	if d, ok := s.device.(*keep.Device); ok {
		d.KeepAgain()
	}
	s.Say("")
}
