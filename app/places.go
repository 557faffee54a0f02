package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/explore"
	"twoneedles/app/jobs"
	"twoneedles/app/learn"
	"twoneedles/app/lookup"
	"twoneedles/app/page"
	"twoneedles/app/practice"
	"twoneedles/app/readings"
	"twoneedles/app/repair"
)

// rooms are the page, the places that keep something while one is elsewhere, and the
// frame around them.
type rooms struct {
	page     *page.Page
	readings *readings.Place
	repair   *repair.Place
	jobs     *jobs.Place

	rev int // grows when what the frame shows has changed, the job and the notice aside
}

func newRooms(pg *page.Page) *rooms {
	return &rooms{page: pg, readings: readings.New(pg), repair: repair.New(pg), jobs: jobs.New(pg)}
}

// start starts the page and listens to the keys, once.
func (in *rooms) start(ctx app.Context) {
	if !in.page.Start(ctx) {
		return
	}
	in.listenKeys()
	again := func() { in.rev++ }
	in.page.Listen("twoneedles:offline", again)
	in.page.Listen("twoneedles:install", again)
}

// place is a route. Words for it are shell.place.<id>.
type place struct {
	path  string
	id    string
	class string // extra class of <main>
	view  func(*rooms) app.Composer
}

// places in the order of the work. To add one, write a package of its own and add a
// line here.
var places = []place{
	{"/", "readings", "wide", func(in *rooms) app.Composer { return in.readings.View() }},
	{"/job", "job", "", func(in *rooms) app.Composer { return in.repair.Work() }},
	{"/jobs", "jobs", "", func(in *rooms) app.Composer { return in.jobs.View() }},
	{"/tell", "tell", "", func(in *rooms) app.Composer { return in.repair.Customer() }},
	{"/practice", "practice", "wide", func(in *rooms) app.Composer { return practice.View(in.page) }},
	{"/explore", "explore", "wide", func(in *rooms) app.Composer { return explore.View(in.page) }},
	{"/learn", "learn", "", func(in *rooms) app.Composer { return learn.View(in.page) }},
	{"/sources", "sources", "", func(in *rooms) app.Composer { return learn.Sources(in.page) }},
	{"/saturation", "saturation", "", func(in *rooms) app.Composer { return lookup.View(in.page) }},
}

// aside are places that are reached from another place and have no room in the
// navigation; that other place is marked there meanwhile.
var aside = map[string]string{"saturation": "readings", "jobs": "job", "sources": "learn"}

// placeByID returns the place with the id; an unknown id is a slip in the code.
func placeByID(id string) place {
	for _, p := range places {
		if p.id == id {
			return p
		}
	}
	panic("app: no place " + id)
}
