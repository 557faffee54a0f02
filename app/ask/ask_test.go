package ask_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/ask"
	"twoneedles/app/internal/pagetest"
	"twoneedles/app/job"
	"twoneedles/refrig/diagnose"
)

// What was asked first and is no longer wanted is neither worked out nor delivered.
func TestStaleWorkIsDropped(t *testing.T) {
	b := pagetest.New(t, job.Memory{}, nil)
	q := b.Page.Questions()
	var answers, plans, worked []int
	work := func(n int, to *[]int) ask.Work {
		return func(_ *diagnose.Model, deliver func(func(app.Context)) bool) error {
			worked = append(worked, n)
			deliver(func(app.Context) { *to = append(*to, n) })
			return nil
		}
	}
	failed := func(_ app.Context, err error) { t.Error(err) }
	var atOnce []int
	b.Do(func() {
		for n := 1; n <= 3; n++ {
			q.AskAtOnce(b.Page.Ctx, failed, work(n, &answers), work(n, &plans))
		}
		atOnce, worked = answers, nil
	})
	if want := []int{1, 2, 3}; !slices.Equal(atOnce, want) {
		t.Errorf("answers %v within the event, want %v", atOnce, want)
	}
	if want := []int{3}; !slices.Equal(plans, want) || !slices.Equal(worked, want) {
		t.Errorf("plans %v of those worked out, %v, want the newest alone", plans, worked)
	}
	plans, worked = nil, nil
	b.Do(func() {
		q.Ask(b.Page.Ctx, failed, work(4, &plans))
		q.Ask(b.Page.Ctx, failed, work(5, &plans), work(6, &plans))
	})
	if want := []int{5, 6}; !slices.Equal(plans, want) || !slices.Equal(worked, want) {
		t.Errorf("%v of those worked out, %v, want the newest question's", plans, worked)
	}
	plans = nil
	b.Do(func() {
		q.Ask(b.Page.Ctx, failed, work(7, &plans))
		q.Cancel()
	})
	if plans != nil {
		t.Error("a cancelled question was answered")
	}
}

// Work that delivers in steps learns in between that it is no longer wanted.
func TestLongWorkIsToldWhenItIsStale(t *testing.T) {
	b := pagetest.New(t, job.Memory{}, nil)
	q := b.Page.Questions()
	steps, wanted := 0, true
	b.Do(func() {
		q.Ask(b.Page.Ctx, nil, func(_ *diagnose.Model, deliver func(func(app.Context)) bool) error {
			for wanted && steps < 100 {
				if steps++; steps == 3 {
					q.Cancel()
				}
				wanted = deliver(func(app.Context) {})
			}
			return nil
		})
	})
	if steps != 3 || wanted {
		t.Errorf("it went on for %d steps, want 3", steps)
	}
}

// A failure, or a panic, ends the question it belongs to and no other.
func TestFailureEndsItsQuestion(t *testing.T) {
	b := pagetest.New(t, job.Memory{}, nil)
	q := b.Page.Questions()
	for what, fail := range map[string]func(*diagnose.Model) error{
		"an error": func(*diagnose.Model) error { return errors.New("told to") },
		"a panic":  func(*diagnose.Model) error { panic("told to") },
	} {
		var got error
		after := false
		b.Do(func() {
			q.Ask(b.Page.Ctx, func(_ app.Context, err error) { got = err },
				func(m *diagnose.Model, _ func(func(app.Context)) bool) error { return fail(m) },
				func(*diagnose.Model, func(func(app.Context)) bool) error { after = true; return nil })
		})
		if got == nil || !strings.Contains(got.Error(), "told to") || after {
			t.Errorf("%s: failed with %v, went on: %v", what, got, after)
		}
		if err := q.Now(fail); err == nil || !strings.Contains(err.Error(), "told to") {
			t.Errorf("%s within the event is %v", what, err)
		}
	}
	if err := q.Now(func(m *diagnose.Model) error { return nil }); err != nil {
		t.Errorf("the next question fails with %v", err)
	}
}
