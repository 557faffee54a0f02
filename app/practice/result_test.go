package practice

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/pagetest"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/practice"
	"twoneedles/refrig/sim"
)

// handedIn is a set of two cases, one answered rightly, one left open.
func handedIn() *result {
	return &result{
		Set: practice.Set{Level: practice.Everyday, Seeds: []int{17, 18}, Edition: practice.Edition()},
		Answers: map[int]answer{
			0: {Said: car.Undercharge, Sure: 0.75, Was: car.Undercharge, Right: true, Points: 61.6, Minutes: 12.4},
			1: {Was: car.Air, Points: -2.6, Minutes: 10.4},
		},
		Name: "Robin", Done: time.Date(2026, 11, 27, 10, 0, 0, 0, time.Local), Release: "2", Build: "abc123",
	}
}

// sheets draws what is handed in and the teacher's sheet.
type sheets struct {
	app.Compo
	p *view
}

func (s *sheets) Render() app.UI {
	body := []app.UI{s.p.resultCard()}
	if s.p.teacher != nil {
		body = append(body, s.p.sheetCard())
	}
	return app.Div().Body(body...)
}

func onSheets(t *testing.T, r *result, sheet *teacherSheet) (*pagetest.Screen, *view) {
	v := &view{result: r, teacher: sheet, store: job.Memory{}}
	return pagetest.New(t, job.Memory{}, func(pg *page.Page) func() app.Composer {
		v.s = pg
		return func() app.Composer { return &sheets{p: v} }
	}), v
}

// What a student hands in says who, which set, every answer with its worth, the sums as a
// person adds them up, and the program that set the cases: on the page and in the text.
func TestResultToHandIn(t *testing.T) {
	s, v := onSheets(t, handedIn(), nil)
	text := v.resultText()
	number := s.Page.Words.T("practice.result.set", "number", handedIn().Set.Number(), "level", "Everyday", "n", 2)
	sum := "Together +59 points in 22 min; 1 of 2 solved." // 62 − 3 and 12 + 10, as they are shown
	for _, want := range []string{number, "2026-11-27", sum, "Version 2, build abc123, cases edition " + practice.Edition()} {
		s.Has("result", want)
		if !strings.Contains(text, want) {
			t.Errorf("the text does not say %q:\n%s", want, text)
		}
	}
	for _, want := range []string{"Name: Robin\n", "Case 17. Said: Not enough refrigerant, about 3 in 4. It was a shortage of refrigerant.", "Case 18. Said: Cannot tell yet. It was air", "Points: +62. Time: 12 min.", "Points: −3. Time: 10 min."} {
		if !strings.Contains(text, want) {
			t.Errorf("the text does not say %q:\n%s", want, text)
		}
	}
	s.Has("result", "It was air")
	if strings.Contains(text, "other cases") {
		t.Errorf("a set of these cases is called foreign:\n%s", text)
	}
	r := handedIn()
	r.Link = "00000000"
	delete(r.Answers, 1)
	_, v = onSheets(t, r, nil)
	if text := v.resultText(); !strings.Contains(text, "other cases (edition 00000000") || !strings.Contains(text, "Case 18. No answer.") {
		t.Errorf("a set of other cases with one left out:\n%s", text)
	}
}

// What was kept is restored only if it is a result, and only as far as it is one.
func TestResultIsRestoredNotTrusted(t *testing.T) {
	b, err := json.Marshal(handedIn())
	if err != nil {
		t.Fatal(err)
	}
	good := string(b)
	if r := restoreResult(good); r == nil || len(r.Answers) != 2 || r.Name != "Robin" || r.Set.Number() != handedIn().Set.Number() {
		t.Errorf("a result comes back as %+v", r)
	}
	for _, text := range []string{"", "{", "null", "{}", strings.Replace(good, "[17,18]", "[17,0]", 1), strings.Replace(good, "[17,18]", "[]", 1)} {
		if r := restoreResult(text); r != nil {
			t.Errorf("%q is taken for a result: %+v", text, r)
		}
	}
	for from, to := range map[string]string{
		`"points":61.6`: `"points":1e9`, `"minutes":12.4`: `"minutes":-1`, `"said":"undercharge"`: `"said":"<b>"`,
		`"was":"undercharge"`: `"was":""`, `"sure":0.75`: `"sure":7`, `"0":{`: `"9":{`,
	} {
		if r := restoreResult(strings.Replace(good, from, to, 1)); r == nil || len(r.Answers) != 1 {
			t.Errorf("%s: %+v", to, r)
		}
	}
	if r := restoreResult(strings.Replace(good, "Robin", strings.Repeat("ä", 500), 1)); r == nil || len([]rune(r.Name)) != maxName {
		t.Errorf("a long name: %+v", r)
	}
}

// Only a class set is recorded, case by case; with its last answer its result is there and
// kept, and the cases that follow are no part of it.
func TestClassSetComesToAResult(t *testing.T) {
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	var v *view
	s := pagetest.New(t, job.Memory{}, func(pg *page.Page) func() app.Composer {
		v = View(pg).(*view)
		return func() app.Composer { return v }
	})
	v.store, v.progress, v.ctx = job.Memory{}, practice.NewProgress(), s.Page.Ctx
	for _, class := range []bool{false, true} {
		v.drill, v.result = drill{Level: practice.Textbook, Cases: []int{17, 18}, Class: class, Edition: "00000000"}, nil
		for i, seed := range v.drill.Cases {
			puzzle, err := practice.Draw(m, seed, practice.Textbook)
			if err != nil {
				t.Fatal(err)
			}
			if i == 1 && v.result != nil {
				t.Error("a result after the first of two cases")
			}
			v.drill.At, v.desk, v.review = i, practice.NewDesk(puzzle), nil
			v.drill.Given = answerGiven{string(practice.Wanted(&puzzle.Truth)), 4}
			s.Do(v.markIt)
			if v.review == nil {
				t.Fatalf("case %d is not marked: %+v", seed, v.failure)
			}
		}
		kept, _, _ := v.store.Get(keyResult)
		if !class {
			if v.result != nil || kept != "" {
				t.Errorf("what was no class set comes to %+v", v.result)
			}
			continue
		}
		if v.result == nil || len(v.result.Answers) != 2 || !v.result.Answers[1].Right || v.result.Link != "00000000" {
			t.Fatalf("the set comes to %+v", v.result)
		}
		if again := restoreResult(kept); again == nil || len(again.Answers) != 2 {
			t.Errorf("kept as %s", kept)
		}
		now, _, _ := v.store.Get(keyDrill)
		var next drill
		if !next.restore(now) || next.Class || len(next.Answers) > 0 {
			t.Errorf("after the set comes %s", now)
		}
	}
}

// The teacher's sheet has for each number what the car shows and what is right.
func TestTeacherSheetHasTheAnswers(t *testing.T) {
	puzzle := &practice.Puzzle{Seed: 17, Case: car.Case{Readings: car.Readings{car.Low: {Value: 2e5}, car.High: {Value: 15e5}}},
		Truth: sim.Truth{Cause: car.CondenserAirflow, Label: car.CondenserAirflow, Severity: 0.9}}
	sheet := &teacherSheet{set: practice.Set{Level: practice.Everyday, Seeds: []int{17}, Edition: practice.Edition()}, cases: []*practice.Puzzle{puzzle}, done: true}
	s, v := onSheets(t, handedIn(), sheet)
	s.Has("teacher", "17")
	s.Has("teacher", s.Page.Voice().Reading(car.High, puzzle.Case.Readings[car.High]))
	s.Has("teacher", v.truthText(puzzle.Truth))
	s.Has("teacher", "(severe)")
	s.Has("teacher", practice.Edition())
	if !strings.Contains(s.Page.Words.T("practice.sheet.open"), "answers") || !strings.Contains(s.Page.Words.T("practice.sheet.about"), "answers") {
		t.Error("the tap does not say what it opens")
	}
}

// What is recorded is what the student said, not what was right.
func TestAnswerIsTheStudents(t *testing.T) {
	k := practice.Mark{Answer: practice.Answer{Condition: car.Air, Confidence: 0.5}, Want: car.Undercharge, Outcome: practice.Wrong, Points: -7, Minutes: 3}
	if a := answerOf(k); a != (answer{Said: car.Air, Sure: 0.5, Was: car.Undercharge, Points: -7, Minutes: 3}) {
		t.Errorf("%+v", a)
	}
}
