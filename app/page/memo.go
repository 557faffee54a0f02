package page

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// Memo is a part of a page that is drawn again only when what it shows has changed, or
// when something happened inside it: half of the page stays as it is while one types,
// and building it only to find that out takes longer than the answer. of is all that it
// shows, lang aside; no map or slice in it may be changed later in its place. draw is the
// one of the first drawing, so it looks at the session and at nothing that was there only
// once.
func Memo(lang string, of any, draw func() app.UI) app.UI {
	return &memo{Lang: lang, Of: of, draw: draw}
}

// memo has what go-app compares in exported fields. It sets no other, and a function is
// never equal to another: exported, draw would make every memo a changed one.
type memo struct {
	app.Compo
	Lang string
	Of   any

	draw func() app.UI
}

func (m *memo) Render() app.UI { return m.draw() }
