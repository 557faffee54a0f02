package repair

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/page"
)

// list is the list of jobs on this device and what was last done with it.
type list struct {
	jobs       []job.Job
	unreadable []string
	looked     bool
	query      string

	undo    func() error    // brings back the job deleted last
	deleted string          // its id
	said    string          // what became of the last action
	link    string          // shown with its code, "" while hidden
	printed map[string]bool // the steps that were open before printing; nil while nothing is printed
	listens bool
}

// record is the end of the job: notes, who did it, keeping, handing on, the others.
func (c *stepCard) record() []app.UI {
	s, w := c.s, c.s.Words
	d := &s.list
	if !d.looked {
		s.look()
	}
	button := func(id, class string, do func()) app.UI {
		return app.Button().ID("record-"+id).Type("button").Class(class).Text(w.T("job.record."+id)).
			OnClick(func(app.Context, app.Event) { do() }, app.EventScope(id))
	}
	return []app.UI{
		app.Div().Class("grid2").Body(
			app.Div().Class("field").Body(app.Label().For("shop").Text(w.T("job.shop.name")),
				s.line("shop", &s.Job.Shop, maxTitle, ""), app.P().Class("hint").Text(w.T("job.shop.how"))),
			app.Div().Class("field").Body(app.Label().For("notes-text").Text(w.T("job.notes.name")),
				s.area("notes-text", &s.Job.Notes, 3, maxNotes, ""), app.P().Class("hint").Text(w.T("job.notes.how"))),
		),
		app.Div().Class("row").Body(
			app.A().ID("to-tell").Class("btn main").Href(page.Href("/tell")).Text(w.T("job.record.to_tell")),
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

// look reads the list from the device again.
func (s *Place) look() {
	s.list.jobs, s.list.unreadable = s.Jobs()
	s.list.looked = true
	s.rev++
}

func (c *stepCard) jobList() app.UI {
	s, w := c.s, c.s.Words
	d := &s.list
	found := job.Find(d.jobs, d.query)
	if len(found) == 0 && len(d.unreadable) == 0 {
		return app.P().ID("jobs").Class("soft").Text(w.T("job.record.none"))
	}
	var items []app.UI
	for _, j := range found {
		if j.ID == s.Job.ID {
			j = s.Job // as it is now, not as it was kept last
		}
		items = append(items, c.jobItem(j))
	}
	for _, id := range d.unreadable {
		items = append(items, app.Li().DataSet("job", id).Body(
			app.P().Text(w.T("job.record.unreadable")),
			c.jobButton("delete", id, func() { s.deleteJob(id) })))
	}
	return app.Ul().ID("jobs").Class("jobs").Body(items...)
}

func (c *stepCard) jobItem(j job.Job) app.UI {
	s, w := c.s, c.s.Words
	title := j.Title
	if title == "" {
		title = w.T("job.record.untitled")
	}
	li := app.Li().DataSet("job", j.ID)
	if j.ID == s.Job.ID {
		li.Attr("aria-current", "true")
	}
	return li.Body(
		app.Div().Body(
			app.Strong().Text(title),
			app.P().Class("hint").Text(w.T("job.record.about", "date", j.Updated.Local().Format(time.DateOnly), "needles", s.Glance(j), "n", len(j.Repair.Done), "of", len(job.Steps))),
		),
		app.Div().Class("row").Body(
			c.jobButton("open", j.ID, func() { s.openJob(j.ID) }),
			c.jobButton("duplicate", j.ID, func() { s.duplicateJob(j.ID) }),
			c.jobButton("delete", j.ID, func() { s.deleteJob(j.ID) }),
		),
	)
}

func (c *stepCard) jobButton(what, id string, do func()) app.UI {
	return app.Button().Type("button").Class("btn").DataSet("do", what).Text(c.s.Words.T("job.record."+what)).
		OnClick(func(app.Context, app.Event) { do() }, app.EventScope(what, id))
}

func (s *Place) openJob(id string) {
	s.Save()
	j, warnings, err := s.Store().Load(id)
	if err != nil {
		s.status(page.JoinSentences(s.Voice().Error(err)))
		return
	}
	kept := s.Keeps()
	s.Open(j)
	s.status(s.Words.T("job.record.opened"))
	if kept {
		s.list.said += " " + s.Words.T("shell.banner.had_before")
	}
	for _, w := range warnings {
		s.list.said += " " + page.JoinSentences(s.Voice().Warning(w))
	}
}

func (s *Place) newJobHere() {
	j := job.New(time.Now(), s.Job.Units)
	j.Shop = s.Job.Shop
	s.Lend(j)
	s.status(s.Words.T("job.record.began"))
	s.Then(func() { page.ShowTop("job-title") }) // the step that held the button has folded
}

func (s *Place) duplicateJob(id string) {
	s.Save()
	j, err := s.Store().Duplicate(id, time.Now())
	if err != nil {
		s.status(page.JoinSentences(s.Voice().Error(err)))
	} else {
		s.status(s.Words.T("job.record.duplicated"))
	}
	if j.ID != "" {
		s.Open(j)
	}
}

// deleteJob takes a job off the device; the one at hand leaves an empty one.
func (s *Place) deleteJob(id string) {
	s.Save()
	undo, err := s.Store().Delete(id)
	if err != nil {
		s.status(page.JoinSentences(s.Voice().Error(err)))
		return
	}
	d := &s.list
	d.undo, d.deleted, d.said = undo, id, ""
	if id == s.Job.ID {
		s.newJobHere()
		s.ForgetUndo() // its way back is the undo of the list
		d.said = ""
		s.open = map[string]bool{stepRecord: true}
	}
	s.look()
}

func (s *Place) undoDelete() {
	d := &s.list
	err := d.undo()
	d.undo = nil
	if err != nil {
		s.status(page.JoinSentences(s.Voice().Error(err)))
		return
	}
	s.look()
	s.status(s.Words.T("job.record.undone"))
}

func (s *Place) status(text string) {
	s.list.said = text
	s.rev++
}

// printJob opens every step, because paper cannot be tapped, and closes them again.
func (s *Place) printJob() {
	d := &s.list
	d.printed = s.open
	s.open = map[string]bool{}
	for _, code := range jobSteps {
		s.open[code] = true
	}
	if !d.listens {
		d.listens = true
		s.Listen("afterprint", func() {
			if d.printed != nil {
				s.open, d.printed = d.printed, nil
				s.rev++
			}
		})
	}
	s.rev++
	// A turn later the steps are on the page.
	s.Ctx.After(50*time.Millisecond, func(app.Context) { app.Window().Call("print") })
}
