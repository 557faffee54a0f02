package explore

import (
	"strings"
	"testing"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/refrig/practice"
	"twoneedles/refrig/unit"
)

// An answer of the model names every number it promises: no placeholder is left
// in any question, on either kind of units.
func TestAnswersOfTheModelAreComplete(t *testing.T) {
	s := page.New(nil, job.Memory{})
	for _, u := range []unit.Units{unit.US(), unit.Metric()} {
		s.Job.Units = u
		p := &view{s: s}
		for _, q := range practice.Questions {
			var told []armAnswer
			for _, a := range practice.NewSettings().Arms(q) {
				moves, err := p.rig.Watch(a)
				told = append(told, armAnswer{a, moves, err})
			}
			if text := s.Words.Text("explore.ask."+string(q)+".answer", p.answerArgs(told)); strings.ContainsAny(text, "⟨⟩") {
				t.Errorf("%s: %s", q, text)
			}
		}
	}
}

// The trail forgets its beginning, not its end, and does not grow at rest.
func TestTrail(t *testing.T) {
	var trail [][2]float64
	for i := range 3 * trailLength {
		at := [2]float64{200e3 + 2e3*float64(i), 1500e3}
		trail = follow(follow(trail, at), at)
	}
	if trail[0][0] != 200e3+2e3*float64(2*trailLength) {
		t.Errorf("the trail begins at %v", trail[0])
	}
	if len(trail) != trailLength || trail[trailLength-1][0] != 200e3+2e3*float64(3*trailLength-1) {
		t.Errorf("%d places, the last %v", len(trail), trail[len(trail)-1])
	}
}
