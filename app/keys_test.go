package app

import (
	"net/url"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/pagetest"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
)

// A letter acts unless somebody switched letters off; what is typed with Ctrl is the
// browser's, apart from undo and redo, which stay.
func TestKeysCanBeSwitchedOff(t *testing.T) {
	var in *rooms
	b := pagetest.New(t, job.Memory{}, func(pg *page.Page) func() app.Composer {
		in = newRooms(pg)
		return func() app.Composer { return &root{Place: places[0].id, in: in} }
	})
	acts := func(key string, ctrl, shift bool) bool { return in.keyDoes(key, ctrl, shift) != nil }
	for _, on := range []bool{true, false, true} {
		in.letLettersAct(on)
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
	b.Page.Ctx.Dispatch(func(ctx app.Context) {
		ctx.Page().ReplaceURL(&url.URL{Path: "/tell", Fragment: b.Page.Job.LinkSheet()})
		b.Page.Arrive(ctx)
	})
	if b.Do(func() {}); !b.Page.Guest() || acts("N", false, false) || !acts("Z", true, false) {
		t.Error("a guest has only the sheet")
	}
	words := present.English()
	for _, l := range letters {
		if !words.Has("shell.keys." + l.id) {
			t.Errorf("%s is not in the list", l.key)
		}
	}
}
