package page

import (
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// around is a component with one memo in it.
type around struct {
	app.Compo
	Of    int
	Other int

	drawn *int
}

func (a *around) Render() app.UI {
	return app.Div().Body(Memo("en", a.Of, func() app.UI { *a.drawn++; return app.P() }))
}

func TestMemoIsDrawnWhenWhatItShowsChanges(t *testing.T) {
	engine := app.NewTestEngine()
	drawn := 0
	draw := func(of, other int) {
		if err := engine.Load(&around{Of: of, Other: other, drawn: &drawn}); err != nil {
			t.Fatal(err)
		}
		engine.ConsumeAll()
	}
	for i, c := range []struct{ of, other, drawn int }{{1, 1, 1}, {1, 2, 1}, {1, 3, 1}, {2, 3, 2}, {2, 4, 2}} {
		if draw(c.of, c.other); drawn != c.drawn {
			t.Fatalf("drawing %d: the memo was drawn %d times, want %d", i, drawn, c.drawn)
		}
	}
}
