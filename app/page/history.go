package page

import (
	"time"

	"twoneedles/app/job"
)

// mostSteps is how many edits can be taken back: more than anyone remembers (judgement).
const mostSteps = 100

// history is the job at hand before its last edits. Keys typed one after the other into
// the same field are one step.
type history struct {
	past, future []job.Job
	now          job.Job
	field        string // that was edited last, "" after a step back or forth
}

// start forgets everything: another job is at hand.
func (h *history) start(j job.Job) { *h = history{now: j.Clone()} }

// note takes in what the job has become.
func (h *history) note(j job.Job) {
	field := job.Difference(h.now, j)
	if field == "" {
		return
	}
	if field != h.field || len(h.past) == 0 {
		h.past = append(h.past, h.now)
		if len(h.past) > mostSteps {
			h.past = h.past[1:]
		}
	}
	h.field, h.future, h.now = field, nil, j.Clone()
}

// step moves one state from one list to the other.
func (h *history) step(from, to *[]job.Job) (job.Job, bool) {
	n := len(*from)
	if n == 0 {
		return job.Job{}, false
	}
	*to = append(*to, h.now)
	h.now, *from, h.field = (*from)[n-1], (*from)[:n-1], ""
	return h.now.Clone(), true
}

// CanStepBack and CanStepForward tell whether an edit can be undone, or done again.
func (s *Page) CanStepBack() bool { return len(s.history.past) > 0 }

// CanStepForward tells whether an edit that was undone can be done again.
func (s *Page) CanStepForward() bool { return len(s.history.future) > 0 }

// StepBack takes back the last edit of the job at hand; StepForward makes it again.
func (s *Page) StepBack() { s.stepped(s.history.step(&s.history.past, &s.history.future)) }

// StepForward makes the edit again that was taken back last.
func (s *Page) StepForward() { s.stepped(s.history.step(&s.history.future, &s.history.past)) }

func (s *Page) stepped(j job.Job, ok bool) {
	if !ok {
		return
	}
	s.Job, s.units, s.saver.lent = j, nil, ""
	s.Job.Updated = time.Now().UTC().Truncate(time.Second)
	s.learnt.edited()
	s.saveNow()
	s.recompute()
	s.SyncInputs()
}
