// Package app is the page: the only package, with app/cmd/site, that knows go-app.
package app

import goapp "github.com/maxence-charriere/go-app/v10/pkg/app"

// Run registers the routes and, in the browser, starts the page; it never
// returns there. Elsewhere it returns at once.
func Run() {
	goapp.Route("/", func() goapp.Composer { return &page{} })
	goapp.RunWhenOnBrowser()
}

type page struct{ goapp.Compo }

func (p *page) Render() goapp.UI {
	return goapp.Main().Body(goapp.H1().Text("Two Needles"))
}
