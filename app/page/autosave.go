package page

import (
	"encoding/json"
	"errors"
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
)

// saver writes the job at hand to the device, at every key: that only notes it and
// returns (package keep).
type saver struct {
	store  *job.Store
	dirty  bool // there is something to write
	rev    int  // grows with every write
	others int  // grows when a job that is not at hand was written, or another came to hand
	// Codes of the failures the user was told of, "" if none: to write at all, and to bring
	// what was written to where it lasts.
	failed, refused string
	told            Notice // of the last of them
	// lent is the id of a job that was only shown, as an example or empty, and not
	// changed since: it is kept so that reloading finds it, and dropped when another
	// takes its place, so that the list of jobs stays free of it.
	lent string
}

// Store is where the jobs of this device are kept.
func (s *Page) Store() *job.Store { return s.saver.store }

// Device keeps short texts, as the choice of colours.
func (s *Page) Device() job.Storage { return s.device }

// KeepJSON keeps what a place holds under a key. Where storing is refused, it ends with
// the page.
func KeepJSON(device job.Storage, key string, v any) {
	if text, err := json.Marshal(v); err == nil {
		_ = device.Set(key, string(text))
	}
}

// Unsaved tells that the device refuses to keep the job.
func (s *Page) Unsaved() bool {
	k := s.saver
	return k.failed != "" || k.refused == job.StoreFull || k.refused == job.StoreDenied
}

// Entries lists the user's own jobs on this device, and the ids of those that cannot be
// read. One that was only lent is nobody's yet. A denied list is empty; saving says why.
func (s *Page) Entries() (list []job.Entry, unreadable []string) {
	list, unreadable, _ = s.saver.store.Entries()
	return slices.DeleteFunc(list, func(e job.Entry) bool { return e.ID == s.saver.lent }), unreadable
}

// EveryJob is what is on the device and, whatever became of saving it, what is at hand.
func (s *Page) EveryJob() []job.Job {
	s.Save()
	jobs := []job.Job{s.Job}
	all, _, _ := s.saver.store.List()
	for _, j := range all {
		if j.ID != s.Job.ID && j.ID != s.saver.lent {
			jobs = append(jobs, j)
		}
	}
	return jobs
}

// SaveOther writes a job that is not at hand.
func (s *Page) SaveOther(j job.Job) error {
	if _, _, err := s.saver.store.Load(j.ID); err != nil { // what is there now is known
		return err
	}
	s.saver.stored()
	if err := s.saver.store.Save(j); err != nil {
		return err
	}
	s.recompute() // an earlier visit of this car may be another ruler now
	return nil
}

// stored says that jobs which are not at hand may have changed.
func (k *saver) stored() {
	k.rev++
	k.others++
}

// Save writes the job now, if it was changed. A failure is said once; work goes
// on in memory and every later save tries again.
func (s *Page) Save() {
	k := &s.saver
	if !k.dirty {
		return
	}
	k.rev++
	err := k.store.Save(s.Job)
	var code string
	var failure *job.Error
	if errors.As(err, &failure) {
		code = failure.What
	}
	if code == job.StoreChanged { // another window has it; ours becomes a copy
		var copied job.Job
		if copied, err = k.store.SaveCopy(s.Job); err == nil {
			s.Job.ID = copied.ID
			k.others++
		}
		s.Say(s.Voice().Error(failure).Sentences())
		code = ""
	}
	if err == nil {
		err = k.store.SetCurrent(s.Job.ID)
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
		if k.refused != code { // else it was said as it happened
			s.refused("unsaved", err)
		}
	}
}

// saveNow writes the job although it was not changed.
func (s *Page) saveNow() {
	s.saver.dirty = true
	s.Save()
}

// restore returns the job that was at hand when the page was closed, or an empty one
// on a first visit.
func (s *Page) restore() job.Job {
	j, warnings, ok := s.saver.store.Current()
	if !ok {
		if _, bad := s.saver.store.Unreadable(); bad {
			s.Say(s.Words.T("shell.banner.unreadable"))
		}
		return job.New(time.Now(), s.Job.Units)
	}
	for _, w := range warnings {
		s.Say(s.Voice().Warning(w).Sentences())
	}
	return s.titled(j) // it may have been stored in another language
}

// Open takes one of the user's jobs to hand: it is what a restart brings back.
func (s *Page) Open(j job.Job) {
	s.swap(j)
	s.saveNow()
}

// arrived is a job of a link, which tells no times, as one that begins here and now.
func arrived(j job.Job) job.Job {
	j.Created = time.Now().UTC().Truncate(time.Second)
	if j.Updated.IsZero() {
		j.Updated = j.Created
	}
	return j
}

// Lend shows a job that is nobody's yet.
func (s *Page) Lend(j job.Job) {
	s.Open(j)
	s.saver.lent = j.ID
}

// NewJob takes an empty job to hand; the shop and who works there stay.
func (s *Page) NewJob() {
	j := job.New(time.Now(), s.Job.Units)
	j.Shop, j.Technician = s.Job.Shop, s.Job.Technician
	s.Lend(j)
}

// StoredRev grows with every change of what is kept.
func (s *Page) StoredRev() int { return s.saver.rev }

// StoredAnew is called when something was written or deleted past the page: visits of the
// car at hand may have come or gone.
func (s *Page) StoredAnew() {
	s.saver.stored()
	s.lookOver()
	if s.Job.OfCar != "" {
		s.recompute()
	}
}

// swap takes another job to hand and keeps the one that was there for undo.
func (s *Page) swap(j job.Job) {
	s.Save()
	s.dropLent()
	before := s.Job.Clone()
	s.Replace(j)
	s.previous = &before
	if before.Blank() { // nothing to bring back
		s.previous = nil
	}
}

// Keeps tells whether the job at hand stays on the list when another takes its place:
// an empty one does not, nor an invented one.
func (s *Page) Keeps() bool {
	return !s.Job.Blank() && (s.saver.lent == "" || s.saver.lent != s.Job.ID)
}

// dropLent takes the job at hand off the device if it was only lent.
func (s *Page) dropLent() {
	if s.saver.lent != "" && s.saver.lent == s.Job.ID {
		// Where nothing could be kept there is nothing to drop.
		_, _ = s.saver.store.Delete(s.Job.ID)
	}
	s.saver.lent = ""
	s.saver.stored()
}

// CanUndo tells whether there is a job to go back to; Undo does.
func (s *Page) CanUndo() bool { return s.previous != nil }

// Undo brings back the job that was at hand before the last one was opened or lent.
func (s *Page) Undo() {
	if s.previous == nil {
		return
	}
	s.dropLent()
	if s.owned { // a few digits typed over an invented number, regretted
		_, _ = s.saver.store.Delete(s.Job.ID)
	}
	j := *s.previous
	s.previous = nil
	s.Replace(j)
	s.saveNow()
	if j.Example != "" {
		s.saver.lent = j.ID
	}
}

// ForgetUndo leaves no way back: the place has its own.
func (s *Page) ForgetUndo() { s.previous = nil }

// showExample is the fragment of an address that opens with an invented car.
const showExample = "example"

// Arrive looks at the address: a fragment may carry a job, or ask for an example. It
// is opened once and taken out of the address, so that going on working and reloading
// keeps the work and not the link.
func (s *Page) Arrive(ctx app.Context) {
	if s.arriveAsGuest(ctx) {
		return
	}
	u := ctx.Page().URL()
	fragment := u.Fragment
	if fragment != showExample && !job.IsLink(fragment) {
		return
	}
	u.Fragment = ""
	ctx.Page().ReplaceURL(u)
	if fragment == showExample {
		s.Lend(s.FirstExample())
		return
	}
	j, warnings, err := job.OpenLink(fragment)
	if err != nil {
		s.Say(s.Voice().Error(err).Sentences())
		return
	}
	text := s.Words.T("shell.banner.link_opened")
	if s.Keeps() {
		text += " " + s.Words.T("shell.banner.had_before")
	}
	s.Open(arrived(j))
	for _, w := range warnings {
		text += " " + s.Voice().Warning(w).Sentences()
	}
	s.Say(text)
}
