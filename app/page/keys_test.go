package page

import (
	"testing"

	"twoneedles/app/job"
	"twoneedles/app/present"
)

// A letter acts unless somebody switched letters off; what is typed with Ctrl is the
// browser's, apart from undo and redo, which stay.
func TestKeysCanBeSwitchedOff(t *testing.T) {
	s := New(present.English(), nil, job.Memory{})
	acts := func(key string, ctrl, shift bool) bool { return s.keyDoes(key, ctrl, shift) != nil }
	for _, on := range []bool{true, false, true} {
		s.letLettersAct(on)
		for _, key := range []string{"1", "9", "N", "J", "F", "?"} {
			if acts(key, false, false) != on {
				t.Errorf("letters act: %v; %s does: %v", on, key, !on)
			}
			if acts(key, true, false) {
				t.Errorf("Ctrl-%s is taken from the browser", key)
			}
		}
		if !acts("Z", true, false) || !acts("Z", true, true) || !acts("Y", true, false) || acts("Z", false, false) {
			t.Error("undo or redo is lost, or a bare Z undoes")
		}
	}
	if s.guest = true; acts("N", false, false) || !acts("Z", true, false) {
		t.Error("a guest has only the sheet")
	}
	words := present.English()
	for _, l := range letters {
		if !words.Has("shell.keys." + l.id) {
			t.Errorf("%s is not in the list", l.key)
		}
	}
}
