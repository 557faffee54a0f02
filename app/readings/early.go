package readings

import (
	"encoding/json"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/unit"
)

// keyFirst is where the first fields are noted for the next start, whose page shows them
// before the program has come: see static/boot.js.
const keyFirst = "twoneedles.first"

// first is what stands there, to the letter. It is only looked at: the program brings what
// is kept, and of these fields it takes what was typed.
type first struct {
	Texts    map[present.FieldID]string `json:"texts"`
	Units    [2]unit.Unit               `json:"units"` // of pressure and temperature
	Blank    bool                       `json:"blank"`
	About    string                     `json:"about"`    // the line above
	Invented bool                       `json:"invented"` // typing over one drops the others
}

// noteFirst notes the first fields, or, where other fields stand there (engine off, a
// needle that swings), that there are none to show.
func (s *Place) noteFirst() {
	if s.Guest() { // somebody else's
		return
	}
	about, _ := s.about()
	f := first{map[present.FieldID]string{}, [2]unit.Unit{s.Job.Units.For(unit.GaugePressure), s.Job.Units.For(unit.Temperature)},
		s.Job.Blank(), about, s.Job.Example != ""}
	plain := s.Job.Before.Engine != job.EngineOff
	for _, id := range page.FirstFields {
		f.Texts[id] = s.Typed(page.TextOf(id))
	}
	for _, r := range s.Job.Before.Readings {
		plain = plain && !r.Swing
	}
	text, err := json.Marshal(f)
	if err != nil || !plain {
		text = []byte("{}")
	}
	if string(text) == s.first {
		return
	}
	s.first = string(text)
	_ = s.Device().Set(keyFirst, s.first) // a full store costs the sight of them, not the numbers
}
