package app

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/page"
	"twoneedles/refrig/diagnose"
)

// Run registers the routes and, in the browser, starts the page; it never
// returns there. Elsewhere it returns at once.
func Run() {
	in := newRooms(page.New(page.ShellWords(), diagnose.Load, browser.Storage()))
	for _, p := range places {
		app.Route(p.path, func() app.Composer { return &root{Place: p.id, in: in} })
	}
	// An address that leads nowhere, mistyped or of an older version, says so and shows
	// the first place. go-app's own answer is a bare "404" without a way back.
	app.RouteWithRegexp("", func() app.Composer { return &root{Place: places[0].id, Lost: true, in: in} })
	app.RunWhenOnBrowser()
}

// root is the page around every place: header, navigation, banner, foot. Every
// route makes a root, so that go-app updates the one on screen instead of
// replacing it: only Place and Lost are copied and the rooms stay.
type root struct {
	app.Compo
	Place string // id of the place shown
	Lost  bool   // the address leads nowhere

	in      *rooms
	visited bool // a first arrival leaves focus and scroll to the browser
}

// OnMount starts the page in the browser.
func (r *root) OnMount(ctx app.Context) { r.in.start(ctx) }

// OnPreRender starts it in tests, where go-app never mounts.
func (r *root) OnPreRender(ctx app.Context) { r.in.start(ctx) }

// OnNav runs after every change of the address, the first included.
func (r *root) OnNav(ctx app.Context) {
	r.in.page.SetTitle(r.Place)
	if r.Lost {
		r.in.page.Say(r.in.page.Words.T("shell.banner.lost"))
	}
	r.in.page.Arrive(ctx)
	if entry := ctx.Page().URL().Fragment; r.Place == "sources" && strings.HasPrefix(entry, "ref-") {
		ctx.Defer(func(app.Context) { browser.Reveal(entry) })
	} else if r.visited {
		back := r.in.page.TakePopped()
		ctx.Defer(func(app.Context) { browser.EnterPlace(back) })
	}
	r.visited = true
}

// OnAppUpdate is called when a newer version waits to be switched to.
func (r *root) OnAppUpdate(app.Context) { r.in.page.UpdateWaits() }

func (r *root) Render() app.UI {
	in, w, here := r.in, r.in.page.Words, placeByID(r.Place)
	guest := in.page.Guest()
	return app.Div().Class("shell").DataSet("place", r.Place).Body(
		app.A().Class("skip").Href("#main").Text(w.T("shell.skip")).OnClick(skip),
		app.Header().Class("top").Body(
			app.If(!guest, func() app.UI {
				return app.A().Class("brand").Href(page.Href("/")).Body(app.Raw(mark), app.Span().Text(w.T("shell.name")))
			}).Else(func() app.UI {
				return app.Span().Class("brand").Body(app.Raw(mark), app.Span().Text(w.T("shell.name")))
			}),
			app.If(!guest, func() app.UI {
				return &jobBar{Lang: w.Lang(), Title: in.jobName(), Back: in.page.CanStepBack(), Forward: in.page.CanStepForward(), Here: r.Place == "jobs", in: in}
			}),
			app.If(!guest, func() app.UI { return &nav{Lang: w.Lang(), Place: r.Place, in: in} }),
			&themeButton{Lang: w.Lang(), in: in},
		),
		&banner{Lang: w.Lang(), Rev: in.page.NoticeRev(), in: in},
		app.Main().ID("main").TabIndex(-1).Class("page", here.class).Body(here.view(in)),
		&foot{Lang: w.Lang(), Notice: in.page.NoticeRev(), Rev: in.rev, in: in},
	)
}

// nav leads to the places.
type nav struct {
	app.Compo
	Lang  string
	Place string // id of the place shown

	in *rooms
}

func (n *nav) Render() app.UI {
	w := n.in.page.Words
	var items []app.UI
	for _, p := range places {
		if aside[p.id] != "" {
			continue
		}
		a := app.A().ID("nav-" + p.id).Href(page.Href(p.path)).Text(w.T("shell.place." + p.id))
		switch n.Place {
		case p.id:
			a.Attr("aria-current", "page")
		default:
			if aside[n.Place] == p.id {
				a.Attr("aria-current", "true")
			}
		}
		items = append(items, app.Li().Body(a))
	}
	return app.Nav().Class("places").Aria("label", w.T("shell.places")).Body(app.Ul().Body(items...))
}

// skip moves the focus itself: the browser's own jump would write "#main" into
// the address, where a shared job lives.
func skip(_ app.Context, e app.Event) {
	e.PreventDefault()
	e.StopImmediatePropagation()
	browser.Focus("main")
}

// mark is the sign of the tool: one dial, two needles.
const mark = `<svg viewBox="0 0 28 28" aria-hidden="true"><g fill="none" stroke="currentColor" stroke-linecap="round">` +
	`<path d="M4.5 20.5a11 11 0 1 1 19 0" stroke-width="2"/>` +
	`<path d="M14 17 7.5 11M14 17l4-9.5" stroke-width="2.5"/></g><circle cx="14" cy="17" r="2.6" fill="currentColor"/></svg>`
