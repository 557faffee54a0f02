package app

import (
	"slices"
	"strings"
	"testing"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/practice"
	"twoneedles/refrig/unit"
)

// Codes of package practice and their words, both ways: a new complaint, outcome,
// dial, sign or question has no place to hide, and no words outlive one.
func TestPracticeCodesHaveWordsBothWays(t *testing.T) {
	en := present.English()
	codes := map[string][]string{}
	put := func(prefix, code, suffix string) {
		codes[prefix] = append(codes[prefix], code)
		if key := prefix + code + suffix; !en.Has(key) {
			t.Errorf("no words %s", key)
		}
	}
	for _, c := range practice.Complaints {
		put("practice.complaint.", string(c), "")
	}
	for _, o := range practice.Outcomes {
		put("practice.outcome.", string(o), ".title")
		put("practice.outcome.", string(o), ".text")
	}
	for _, l := range practice.Levels {
		put("practice.level.", levelName(l), ".name")
		put("practice.level.", levelName(l), ".about")
	}
	for i := range practice.Confidences {
		put("practice.sure.", string(rune('1'+i)), "")
	}
	for _, d := range practice.Dials {
		put("explore.dial.", string(d.Dial), "")
	}
	for _, s := range practice.Signs {
		put("explore.sign.", string(s), "")
	}
	put("explore.sign.", "nothing", "")
	for _, q := range practice.Questions {
		put("explore.ask.", string(q), ".question")
		put("explore.ask.", string(q), ".answer")
		for _, a := range practice.NewSettings().Arms(q) {
			put("explore.arm.", a.Kind, "")
		}
	}
	for prefix, known := range codes {
		for _, key := range en.Keys() {
			if rest, ok := strings.CutPrefix(key, prefix); ok {
				if code, _, _ := strings.Cut(rest, "."); !slices.Contains(known, code) {
					t.Errorf("%s: words for a code that is none", key)
				}
			}
		}
	}
}

// An answer of the model names every number it promises: no placeholder is left
// in any question, on either kind of units.
func TestAnswersOfTheModelAreComplete(t *testing.T) {
	s := newSession(nil, job.Memory{})
	for _, u := range []unit.Units{unit.US(), unit.Metric()} {
		s.job.Units = u
		p := &explorePage{s: s}
		for _, q := range practice.Questions {
			var told []armAnswer
			for _, a := range practice.NewSettings().Arms(q) {
				moves, err := p.rig.Watch(a)
				told = append(told, armAnswer{a, moves, err})
			}
			if text := s.words.Text("explore.ask."+string(q)+".answer", s.answerArgs(told)); strings.ContainsAny(text, "⟨⟩") {
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

// What was kept of a drill is restored only if it is one.
func TestDrillIsRestoredNotTrusted(t *testing.T) {
	for text, ok := range map[string]bool{
		`{"level":2,"cases":[7,8],"at":1,"bought":["vent"]}`: true,
		`{"level":2,"cases":[7,8],"at":2}`:                   false,
		`{"level":2,"cases":[7,8],"at":-1}`:                  false,
		`{"level":2,"cases":[0],"at":0}`:                     false,
		`{"level":2,"cases":[],"at":0}`:                      false,
		`{"level":`:                                          false,
		``:                                                   false,
	} {
		var d drill
		if got := d.restore(text); got != ok {
			t.Errorf("%s: %v", text, got)
		}
	}
	var d drill
	if !d.restore(`{"level":99,"cases":[7],"at":0}`) || d.Level != practice.Everyday {
		t.Errorf("an unknown level becomes %d", d.Level)
	}
}
