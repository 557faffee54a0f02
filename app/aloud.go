package app

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// aloud is what a screen reader is told of the answer. An answer comes with
// every keystroke; only the one that typing rests on is read out, and of it one
// sentence.
type aloud struct {
	text string
	rest time.Duration // how long typing must rest
	due  int           // number of the last answer
}

// restBeforeAloud is longer than the pause between two digits (judgement).
const restBeforeAloud = time.Second

// readAloudSoon reads out the state of the answer once it has rested.
func (s *session) readAloudSoon() {
	s.aloud.due++
	n := s.aloud.due
	s.ctx.After(s.aloud.rest, func(app.Context) {
		if s.aloud.due != n {
			return
		}
		if text := s.inOneSentence(); text != s.aloud.text {
			s.aloud.text = text
			s.aloudRev++
		}
	})
}

func (s *session) inOneSentence() string {
	switch s.answer.state {
	case answered:
		return s.forTechnician(s.answer.report)
	case invalid:
		return s.words.T("readings.invalid.title")
	case failed:
		return s.answer.failure.What
	}
	return ""
}
