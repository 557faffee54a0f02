package page

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// Memo is a part of a page that is drawn again only when what it shows has
// changed, or when something happened inside it: half of the page stays as it is
// while one types, and building it only to find that out takes longer than the
// answer. Of is all that it shows, for go-app to compare; no map or slice in it may
// be changed later in its place.
type Memo struct {
	app.Compo
	Lang string
	Of   any

	// Draw is the one of the first drawing, so it looks at the session and at nothing
	// that was there only once.
	Draw func() app.UI
}

func (m *Memo) Render() app.UI { return m.Draw() }
