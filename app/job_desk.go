package app

import (
	"reflect"
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// desk is what the Job place keeps in the session beside the job itself: which
// steps are open, the answer to the visit after the repair, the list of jobs.
type desk struct {
	open     map[string]bool // steps that are open; nil until the place was seen
	compute  computer        // for the visit after the repair; the other one is busy with the first
	after    answer
	asked    car.Case // the case that after answers or will answer
	problems map[present.FieldID][]present.Problem

	shelf shelf
}

// recomputeAfter reads the visit after the repair and asks the model about it.
// Before anything was read there is nothing to ask.
func (s *session) recomputeAfter(ctx app.Context) {
	d := &s.desk
	c, problems := s.job.CaseAfter()
	d.problems = map[present.FieldID][]present.Problem{}
	var gone []present.FieldID
	for _, p := range problems {
		if !p.After {
			continue
		}
		d.problems[p.Field] = append(d.problems[p.Field], p)
		if p.Level == present.Missing && slices.Contains(needed, p.Field) {
			gone = append(gone, p.Field)
		}
	}
	_, low := c.Readings[car.Low]
	_, high := c.Readings[car.High]
	if !low || !high || c.Weather.Ambient == 0 {
		d.compute.cancel()
		d.after, d.asked = answer{state: missing, missing: gone}, car.Case{}
		return
	}
	if reflect.DeepEqual(c, d.asked) && d.after.state != missing {
		return
	}
	d.asked = c
	if d.after.state != answered {
		d.after = answer{state: loading}
	}
	d.compute.ask(ctx, request{
		Case: c,
		Answered: func(_ app.Context, c car.Case, r diagnose.Report, p diagnose.Plane) {
			d.after = answer{state: answered, of: c, report: r, plane: p}
			s.rev++
		},
		Failed: func(_ app.Context, err error) {
			d.after = answer{state: failed, failure: s.voice().Error(err)}
			s.rev++
		},
	})
}

// isOpen tells whether a step is open: at first the one that is to be done next.
func (s *session) isOpen(step string) bool {
	if s.desk.open == nil {
		s.desk.open = map[string]bool{s.nextStep(): true}
	}
	return s.desk.open[step]
}

// nextStep is the first step of the work that is not ticked off; before all of
// them comes the check at rest, as long as neither it nor anything else was done.
func (s *session) nextStep() string {
	if len(s.job.Repair.Done) == 0 && !s.isMade(car.Resting) {
		return "resting"
	}
	for _, code := range jobSteps {
		if slices.Contains(job.Steps, code) && !s.isDone(code) {
			return code
		}
	}
	return stepRecord
}

func (s *session) isDone(step string) bool { return slices.Contains(s.job.Repair.Done, step) }

// tick marks a step as done or not; what is done folds away and the next opens.
func (s *session) tick(ctx app.Context, step string) {
	if s.isDone(step) {
		s.job.Repair.Done = without(s.job.Repair.Done, step)
		s.edited(ctx)
		return
	}
	s.job.Repair.Done = inOrder(job.Steps, append(s.job.Repair.Done, step))
	next := s.nextStep()
	s.desk.open[step], s.desk.open[next] = false, true
	s.edited(ctx)
	ctx.Defer(func(app.Context) { bringUp("step-" + next) })
}

// toggle adds an item to a list of the job or takes it out; the list keeps the
// order of its menu.
func (s *session) toggle(ctx app.Context, list *[]string, menu []string, item string) {
	if slices.Contains(*list, item) {
		*list = without(*list, item)
	} else {
		*list = inOrder(menu, append(*list, item))
	}
	s.edited(ctx)
	s.syncSlots(ctx)
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

// bringUp puts the focus on a step's heading and the heading under the top edge.
func bringUp(id string) {
	if el := app.Window().GetElementByID(id); el.Truthy() {
		el.Call("focus", map[string]any{"preventScroll": true})
		el.Call("scrollIntoView", map[string]any{"block": "start"})
	}
}
