package repair

import (
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/refrig/car"
)

// Place is the page with what the repair keeps while one is elsewhere: which steps
// are open, what became of links and files. The customer's sheet is drawn from the same.
type Place struct {
	*page.Page

	open map[string]bool // steps that are open; nil until the place was seen
	list list
	held held

	told    browser.Shared // what became of the link to the customer's sheet
	toldRev int            // grows with it; 0 before

	now     func() time.Time // the clock on the wall; tests turn it
	cleared []job.HoldPoint  // the points of the hold test that were taken away last
	rev     int              // grows with what is here
}

// New returns the place. It listens to the page for as long as that is open.
func New(pg *page.Page) *Place {
	s := &Place{Page: pg, now: time.Now}
	pg.OnReplaced(func() {
		s.open = nil
		s.list.named, s.list.link = false, ""
		s.cleared = nil
		s.toldRev = 0
	})
	pg.OnSync(s.syncLines)
	return s
}

// Work draws the Job place.
func (s *Place) Work() app.Composer {
	return &work{Lang: s.Lang(), Job: s.JobRev(), Answer: s.Answer().Rev, Plan: s.Answer().PlanRev, After: s.After().Rev, Rev: s.rev, s: s}
}

// isOpen tells whether a step is open: at first the one that is to be done next.
func (s *Place) isOpen(step string) bool {
	if s.open == nil {
		s.open = map[string]bool{s.nextStep(): true}
	}
	return s.open[step]
}

// nextStep is the first step of the work that is not ticked off; before all of
// them comes the check at rest, as long as neither it nor anything else was done.
func (s *Place) nextStep() string {
	if s.Job.Shut() {
		return stepRecord
	}
	if len(s.Job.Repair.Done) == 0 && !s.Made(car.Resting) {
		return "resting"
	}
	for _, code := range jobSteps {
		if slices.Contains(job.Steps, code) && !s.isDone(code) {
			return code
		}
	}
	return stepRecord
}

// isDone tells whether a step is ticked off. The check at rest ticks itself once its
// pressure is there: nothing else of it could be left.
func (s *Place) isDone(step string) bool {
	return slices.Contains(s.Job.Repair.Done, step) || step == "resting" && s.Made(car.Resting)
}

// tick marks a step as done or not; what is done folds away and the next opens.
func (s *Place) tick(step string) {
	if step == "resting" {
		s.open[step] = false
		s.show(s.nextStep())
		return
	}
	if s.isDone(step) {
		s.Job.Repair.Done = without(s.Job.Repair.Done, step)
		if step == "prove" {
			s.soundIfProved(false)
		}
		s.Edited()
		return
	}
	s.Job.Repair.Done = inOrder(job.Steps, append(s.Job.Repair.Done, step))
	if step == "prove" {
		s.soundIfProved(true)
	}
	s.isOpen(step)
	s.open[step] = false
	s.Edited()
	s.show(s.nextStep())
}

// toggle adds an item to a list of the job or takes it out; the list keeps the
// order of its menu.
func (s *Place) toggle(list *[]string, menu []string, item string) {
	if slices.Contains(*list, item) {
		*list = without(*list, item)
	} else {
		*list = inOrder(menu, append(*list, item))
	}
	s.Edited()
	s.SyncInputs()
}

func without(list []string, item string) []string {
	return slices.DeleteFunc(slices.Clone(list), func(s string) bool { return s == item })
}

func inOrder(menu, items []string) []string {
	var out []string
	for _, m := range menu {
		if slices.Contains(items, m) {
			out = append(out, m)
		}
	}
	return out
}

// show opens a step and puts it under the top edge.
func (s *Place) show(step string) {
	s.isOpen(step) // the first look decides what is open beside it
	s.open[step] = true
	s.rev++
	s.Then(func() { browser.ShowTop("step-" + step) })
}
