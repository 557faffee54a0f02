package readings

import (
	"time"

	"twoneedles/app/page"
)

// announcement is what a screen reader is told of the answer. An answer comes with
// every keystroke; only the one that typing rests on is read out, and of it one
// sentence.
type announcement struct {
	text string
	due  int // number of the last answer
}

// restBeforeAnnounced is longer than the pause between two digits (judgement).
const restBeforeAnnounced = time.Second

// announceSoon reads out the state of the answer once it has rested.
func (s *Place) announceSoon() {
	s.announced.due++
	n := s.announced.due
	s.Later(restBeforeAnnounced, func() {
		if s.announced.due != n {
			return
		}
		if text := s.inOneSentence(); text != s.announced.text {
			s.announced.text = text
			s.announceRev++
		}
	})
}

func (s *Place) inOneSentence() string {
	switch a := s.Answer(); a.State {
	case page.Answered, page.Resting:
		return s.Said().InFull(s.Words)
	case page.Invalid:
		return s.unusable()
	case page.Failed:
		return a.Failure.What
	}
	return ""
}

// unusable says which of the numbers that are needed cannot be used.
func (s *Place) unusable() string {
	var names []string
	for _, id := range s.Answer().Invalid {
		names = append(names, s.Words.T("readings."+string(id)))
	}
	return s.Words.T("readings.invalid.title", "n", len(names), "list", s.Words.List(names))
}
