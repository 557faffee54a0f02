package app

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// Run registers the routes and, in the browser, starts the page; it never
// returns there. Elsewhere it returns at once.
func Run() {
	s := newSession(loadEngine, deviceStorage())
	for _, p := range places {
		app.Route(p.path, func() app.Composer { return &root{Place: p.id, s: s} })
	}
	// An address that leads nowhere, mistyped or of an older version, shows the first
	// place. go-app's own answer is a bare "404" without a way back.
	app.RouteWithRegexp("", func() app.Composer { return &root{Place: places[0].id, s: s} })
	app.RunWhenOnBrowser()
}

// root is the page around every place: header, navigation, banner, foot. Every
// route makes a root, so that go-app updates the one on screen instead of
// replacing it: only Place is copied and the session stays.
type root struct {
	app.Compo
	Place string // id of the place shown

	s       *session
	visited bool // a first arrival leaves focus and scroll to the browser
}

// OnMount starts the session in the browser.
func (r *root) OnMount(ctx app.Context) { r.s.start(ctx) }

// OnPreRender starts it in tests, where go-app never mounts.
func (r *root) OnPreRender(ctx app.Context) { r.s.start(ctx) }

// OnNav runs after every change of the address, the first included.
func (r *root) OnNav(ctx app.Context) {
	w := r.s.words
	setPage(w.Lang(), w.T("shell.title", "place", w.T("shell.place."+r.Place)))
	r.s.arrive(ctx)
	if entry := ctx.Page().URL().Fragment; r.Place == "sources" && strings.HasPrefix(entry, "ref-") {
		ctx.Defer(func(app.Context) { reveal(entry) })
	} else if r.visited {
		back := r.s.takePopped()
		ctx.Defer(func(app.Context) { enterPlace(back) })
	}
	r.visited = true
}

// OnAppUpdate is called when a newer version waits to be switched to.
func (r *root) OnAppUpdate(app.Context) { r.s.updateWaits() }

func (r *root) Render() app.UI {
	w := r.s.words
	here := placeByID(r.Place)
	return app.Div().Class("shell").Body(
		app.A().Class("skip").Href("#main").Text(w.T("shell.skip")).OnClick(skip),
		app.Header().Class("top").Body(
			app.A().Class("brand").Href(href("/")).Body(app.Raw(mark), app.Text(w.T("shell.name"))),
			&nav{Place: r.Place, s: r.s},
			&themeButton{s: r.s},
		),
		&banner{Rev: r.s.noticeRev, s: r.s},
		app.Main().ID("main").TabIndex(-1).Class("page", here.class).Body(here.make(r.s)),
		&foot{Rev: r.s.noticeRev, s: r.s},
	)
}

// nav leads to the places.
type nav struct {
	app.Compo
	Place string // id of the place shown

	s *session
}

func (n *nav) Render() app.UI {
	w := n.s.words
	items := make([]app.UI, len(places))
	for i, p := range places {
		a := app.A().ID("nav-" + p.id).Href(href(p.path)).Text(w.T("shell.place." + p.id))
		if p.id == n.Place {
			a.Attr("aria-current", "page")
		}
		items[i] = app.Li().Body(a)
	}
	return app.Nav().Class("places").Aria("label", w.T("shell.places")).Body(app.Ul().Body(items...))
}

// skip moves the focus itself: the browser's own jump would write "#main" into
// the address, where a shared job lives.
func skip(_ app.Context, e app.Event) {
	e.PreventDefault()
	e.StopImmediatePropagation()
	focus("main")
}

// href returns the relative address of a path: every place is one level deep, so
// that the site works in any folder.
func href(path string) string { return "." + path }

// mark is the sign of the tool: one dial, two needles.
const mark = `<svg viewBox="0 0 28 28" aria-hidden="true"><g fill="none" stroke="currentColor" stroke-linecap="round">` +
	`<path d="M4.5 20.5a11 11 0 1 1 19 0" stroke-width="2"/>` +
	`<path d="M14 17 7.5 11M14 17l4-9.5" stroke-width="2.5"/></g><circle cx="14" cy="17" r="2.6" fill="currentColor"/></svg>`
