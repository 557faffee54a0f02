package app

import (
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
)

// shelf is the list of jobs on this device and what was last done with it.
type shelf struct {
	jobs       []job.Job
	unreadable []string
	looked     bool
	query      string

	undo    func() error // brings back the job deleted last
	deleted string       // its id
	said    string       // what became of the last action
	link    string       // shown with its code, "" while hidden
	folded  map[string]bool
	listens bool
}

// record is the end of the job: notes, who did it, keeping, handing on, the others.
func (c *stepCard) record() []app.UI {
	s, w := c.s, c.s.words
	d := &s.desk.shelf
	if !d.looked {
		s.look()
	}
	button := func(id, class string, do func(app.Context)) app.UI {
		return app.Button().ID("record-"+id).Type("button").Class(class).Text(w.T("job.record."+id)).
			OnClick(func(ctx app.Context, _ app.Event) { do(ctx) }, app.EventScope(id))
	}
	return []app.UI{
		app.Div().Class("grid2").Body(
			app.Div().Class("field").Body(app.Label().For("shop").Text(w.T("job.shop.name")),
				s.line("shop", &s.job.Shop, maxTitle, ""), app.P().Class("hint").Text(w.T("job.shop.how"))),
			app.Div().Class("field").Body(app.Label().For("notes-text").Text(w.T("job.notes.name")),
				s.area("notes-text", &s.job.Notes, 3, maxNotes, ""), app.P().Class("hint").Text(w.T("job.notes.how"))),
		),
		app.Div().Class("row").Body(
			app.A().ID("to-tell").Class("btn main").Href(href("/tell")).Text(w.T("job.record.to_tell")),
			button("print", "btn", s.printJob),
		),
		app.P().ID("record-said").Role("status").Class("small").Text(d.said),
		app.H3().Text(w.T("job.record.hand_on")),
		app.Div().Class("row").Body(
			button("link", "btn", s.showLink), button("export", "btn", s.exportCurrent), button("csv", "btn", s.exportCSV),
		),
		app.If(d.link != "", c.linkAndCode),
		app.H3().Text(w.T("job.record.jobs")),
		app.Div().Class("row").Body(
			button("new", "btn", s.newJobHere), button("export_all", "btn", s.exportAll),
			app.Label().Class("btn file").For("import").Text(w.T("job.record.import")),
			app.Input().ID("import").Class("sr").Type("file").Accept(".json,application/json").OnChange(s.importFile),
		),
		app.If(d.undo != nil, func() app.UI {
			return app.Div().Class("msg row").Body(app.P().Text(w.T("job.record.deleted")), button("undo", "btn", s.undoDelete))
		}),
		app.Div().Class("field").Body(
			app.Label().For("search").Text(w.T("job.record.search")),
			app.Div().Class("entry plain").Body(app.Input().ID("search").Type("search").AutoComplete(false).Value(d.query).
				OnInput(func(ctx app.Context, _ app.Event) { d.query = ctx.JSSrc().Get("value").String() })),
		),
		c.jobList(),
	}
}

// maxNotes is as much as a job keeps; job.Restore cuts at the same.
const maxNotes = 4000

// look reads the list from the device again. A job that was only lent is nobody's
// yet and not in it.
func (s *session) look() {
	d := &s.desk.shelf
	d.jobs, d.unreadable, _ = s.keeper.store.List() // a denied list is empty; saving says why
	d.jobs = slices.DeleteFunc(d.jobs, func(j job.Job) bool { return j.ID == s.keeper.lent })
	d.looked = true
	s.rev++
}

func (c *stepCard) jobList() app.UI {
	s, w := c.s, c.s.words
	d := &s.desk.shelf
	found := job.Find(d.jobs, d.query)
	if len(found) == 0 && len(d.unreadable) == 0 {
		return app.P().ID("jobs").Class("soft").Text(w.T("job.record.none"))
	}
	var items []app.UI
	for _, j := range found {
		if j.ID == s.job.ID {
			j = s.job // as it is now, not as it was kept last
		}
		items = append(items, c.jobItem(j))
	}
	for _, id := range d.unreadable {
		items = append(items, app.Li().DataSet("job", id).Body(
			app.P().Text(w.T("job.record.unreadable")),
			c.jobButton("delete", id, func(ctx app.Context) { s.deleteJob(ctx, id) })))
	}
	return app.Ul().ID("jobs").Class("jobs").Body(items...)
}

func (c *stepCard) jobItem(j job.Job) app.UI {
	s, w := c.s, c.s.words
	title := j.Title
	if title == "" {
		title = w.T("job.record.untitled")
	}
	li := app.Li().DataSet("job", j.ID)
	if j.ID == s.job.ID {
		li.Attr("aria-current", "true")
	}
	return li.Body(
		app.Div().Body(
			app.Strong().Text(title),
			app.P().Class("hint").Text(w.T("job.record.about", "date", j.Updated.Local().Format(time.DateOnly), "needles", s.glance(j), "n", len(j.Repair.Done))),
		),
		app.Div().Class("row").Body(
			c.jobButton("open", j.ID, func(ctx app.Context) { s.openJob(ctx, j.ID) }),
			c.jobButton("duplicate", j.ID, func(ctx app.Context) { s.duplicateJob(ctx, j.ID) }),
			c.jobButton("delete", j.ID, func(ctx app.Context) { s.deleteJob(ctx, j.ID) }),
		),
	)
}

func (c *stepCard) jobButton(what, id string, do func(app.Context)) app.UI {
	return app.Button().Type("button").Class("btn").DataSet("do", what).Text(c.s.words.T("job.record."+what)).
		OnClick(func(ctx app.Context, _ app.Event) { do(ctx) }, app.EventScope(what, id))
}

// place puts a job on the bench for good: it is what a restart brings back.
func (s *session) place(ctx app.Context, j job.Job) {
	s.put(ctx, j)
	s.desk.open = nil
	s.keeper.dirty = true
	s.save(ctx)
	s.look()
}

func (s *session) openJob(ctx app.Context, id string) {
	s.save(ctx)
	j, warnings, err := s.keeper.store.Load(id)
	if err != nil {
		s.tellShelf(joinSentences(s.voice().Error(err)))
		return
	}
	s.place(ctx, j)
	s.tellShelf(s.words.T("job.record.opened"))
	for _, w := range warnings {
		s.desk.shelf.said += " " + joinSentences(s.voice().Warning(w))
	}
}

func (s *session) newJobHere(ctx app.Context) {
	j := job.New(time.Now(), s.job.Units)
	j.Shop = s.job.Shop
	s.lend(ctx, j)
	s.desk.open = nil
	s.look()
	s.tellShelf(s.words.T("job.record.began"))
}

func (s *session) duplicateJob(ctx app.Context, id string) {
	s.save(ctx)
	j, err := s.keeper.store.Duplicate(id, time.Now())
	if err != nil {
		s.tellShelf(joinSentences(s.voice().Error(err)))
	} else {
		s.tellShelf(s.words.T("job.record.duplicated"))
	}
	if j.ID != "" {
		s.place(ctx, j)
	}
}

// deleteJob takes a job off the device; the one on the bench leaves an empty bench.
func (s *session) deleteJob(ctx app.Context, id string) {
	s.save(ctx)
	undo, err := s.keeper.store.Delete(id)
	if err != nil {
		s.tellShelf(joinSentences(s.voice().Error(err)))
		return
	}
	d := &s.desk.shelf
	d.undo, d.deleted, d.said = undo, id, ""
	if id == s.job.ID {
		s.newJobHere(ctx)
		s.before = nil // its way back is the undo of the list
		d.said = ""
		s.desk.open = map[string]bool{stepRecord: true}
	}
	s.look()
}

func (s *session) undoDelete(ctx app.Context) {
	d := &s.desk.shelf
	err := d.undo()
	d.undo = nil
	if err != nil {
		s.tellShelf(joinSentences(s.voice().Error(err)))
		return
	}
	s.look()
	s.tellShelf(s.words.T("job.record.undone"))
}

func (s *session) tellShelf(text string) {
	s.desk.shelf.said = text
	s.rev++
}

// printJob opens every step, because paper cannot be tapped, and closes them again.
func (s *session) printJob(ctx app.Context) {
	d := &s.desk
	d.shelf.folded = d.open
	d.open = map[string]bool{}
	for _, code := range jobSteps {
		d.open[code] = true
	}
	if !d.shelf.listens {
		d.shelf.listens = true
		s.listen(ctx, "afterprint", func(app.Context) {
			if d.shelf.folded != nil {
				d.open, d.shelf.folded = d.shelf.folded, nil
				s.rev++
			}
		})
	}
	s.rev++
	// A turn later the steps are on the page.
	ctx.After(50*time.Millisecond, func(app.Context) { app.Window().Call("print") })
}
