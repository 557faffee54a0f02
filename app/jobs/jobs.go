package jobs

import (
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/page"
)

// Place is the page with what the list keeps while one is elsewhere.
type Place struct {
	*page.Page

	query  string
	most   int          // entries shown
	undo   func() error // brings back the job deleted last
	said   string       // what became of the last action
	closed string       // id of a job that was to be opened and cannot be read
	rev    int
	looked int // the revision of the list that was read
	list   []job.Entry
	bad    []string // ids of jobs that cannot be read
	record record
}

// atOnce is how many entries are shown at first, and more of them at each tap: a list of
// thousands would take longer to draw than to search, and these few take most of its time.
const atOnce = 20

// New returns the place.
func New(pg *page.Page) *Place { return &Place{Page: pg, most: atOnce} }

// View draws the place.
func (s *Place) View() app.Composer {
	return &view{Lang: s.Lang(), Job: s.JobRev(), Stored: s.StoredRev(), Rev: s.rev, s: s}
}

type view struct {
	app.Compo
	Lang             string
	Job, Stored, Rev int // revisions of what it shows

	s *Place
}

func (v *view) Render() app.UI {
	s, w := v.s, v.s.Words
	s.look()
	return app.Div().Class("stack").Body(
		app.Section().Class("card tight").Body(
			app.H1().ID("title").TabIndex(-1).Text(w.T("shell.place.jobs")),
			app.Div().Class("row").Body(
				app.A().ID("jobs-new").Class("btn main").Href(page.Href("/")).Text(w.T("job.record.new")).
					OnClick(func(app.Context, app.Event) { s.begin() }),
				app.Label().Class("btn file").For("import").Text(w.T("jobs.import")),
				app.Input().ID("import").Class("sr").Type("file").Accept(".json,application/json").OnChange(s.importFile),
			),
			app.P().ID("jobs-said").Role("status").Class("small").Text(s.said),
			app.If(s.closed != "", func() app.UI { return v.raw(s.closed) }),
			app.If(s.undo != nil, func() app.UI {
				return app.Div().Class("msg row").Body(app.P().Text(w.T("job.record.deleted")),
					v.button("jobs-undo", "job.record.undo", s.undoDelete))
			}),
			app.Div().Class("field").Body(
				app.Label().For("search").Text(w.T("job.record.search")),
				app.Div().Class("entry plain").Body(app.Input().ID("search").Type("search").AutoComplete(false).Value(s.query).
					OnInput(page.Typing(func(text string) {
						s.query, s.most = text, atOnce
						s.rev++
					}))),
				app.P().Class("hint").Text(w.T("jobs.search_how")),
			),
			v.entries(),
		),
		app.Section().Class("card tight").Body(
			app.H2().Text(w.T("jobs.files")),
			app.Div().Class("row").Body(
				v.button("jobs-backup", "jobs.backup", func() { s.Backup(); s.status(w.T("job.record.exported")) }),
				v.button("jobs-csv", "jobs.csv", s.exportCSV),
			),
			app.P().Class("hint").Text(w.T("jobs.backup_holds")),
			v.stay(),
		),
		v.recordPart(),
	)
}

func (v *view) button(id, key string, do func()) app.UI {
	return page.Button(id, "btn", v.s.Words.T(key), do)
}

// stay says whether the browser may delete the jobs, once there are some.
func (v *view) stay() app.UI {
	s := v.s
	if s.look(); s.Stay() == page.StayUnknown || len(s.list) == 0 {
		return app.P().ID("jobs-stay")
	}
	return app.Div().ID("jobs-stay").Class("row").Body(
		app.P().Class("hint").Text(s.Words.T("jobs.stay."+string(s.Stay()))),
		app.If(s.Stay() == page.StayAsk, func() app.UI {
			return v.button("jobs-stay-ask", "jobs.stay_ask", func() { s.AskToStay(); s.rev++ })
		}),
	)
}

// look reads the list if it may have changed.
func (s *Place) look() {
	if now := s.StoredRev() + 1; s.looked != now {
		s.list, s.bad = s.Entries()
		s.looked = now
	}
}

func (v *view) entries() app.UI {
	s, w := v.s, v.s.Words
	all := s.list
	if i := indexOf(all, s.Job.ID); i >= 0 && s.Keeps() {
		all[i] = s.Job.Entry() // as it is now, not as it was kept last
	}
	found := job.Find(all, s.query)
	if len(found) == 0 && len(s.bad) == 0 {
		key := "jobs.none_found"
		if len(all) == 0 {
			key = "job.record.none"
		}
		return app.P().ID("jobs").Class("soft").Text(w.T(key))
	}
	var items []app.UI
	for _, e := range found[:min(len(found), s.most)] {
		items = append(items, v.item(e))
	}
	for _, id := range s.bad {
		items = append(items, app.Li().DataSet("job", id).Body(
			app.P().Text(w.T("job.record.unreadable")), v.raw(id), v.do("delete", "", func() { s.delete(id) }, id)))
	}
	return app.Div().Class("tight").Body(
		app.P().ID("jobs-count").Class("hint").Role("status").Text(w.T("jobs.count", "n", len(found))),
		app.Ul().ID("jobs").Class("jobs").Body(items...),
		app.If(len(found) > s.most, func() app.UI {
			return v.button("jobs-more", "jobs.more", func() { s.most += atOnce; s.rev++ })
		}),
	)
}

// raw hands out what is kept of a job that cannot be read.
func (v *view) raw(id string) app.UI {
	s := v.s
	return app.Button().Type("button").Class("btn").DataSet("do", "raw").Text(s.Words.T("jobs.raw")).
		OnClick(func(app.Context, app.Event) {
			text, ending, err := s.Store().Raw(id)
			if err != nil {
				s.status(s.Voice().Error(err).Sentences())
				return
			}
			browser.Download(s.Ctx, browser.FileName("", ending), "text/plain;charset=utf-8", text)
			s.status(s.Words.T("job.record.exported"))
		}, app.EventScope("raw", id))
}

func indexOf(list []job.Entry, id string) int {
	return slices.IndexFunc(list, func(e job.Entry) bool { return e.ID == id })
}

func (v *view) item(e job.Entry) app.UI {
	s, w := v.s, v.s.Words
	title := e.Name()
	if title == "" {
		title = w.T("job.record.untitled")
	}
	here := e.ID == s.Job.ID
	li := app.Li().DataSet("job", e.ID)
	if here {
		li.Attr("aria-current", "true")
	}
	about := w.T("job.record.about", "date", w.Day(e.Updated.Local()),
		"needles", s.Needles(e.Low, e.High, e.Pressure), "n", e.Steps, "of", len(job.Steps))
	if e.Plate != "" && e.Plate != title {
		about = e.Plate + " · " + about
	}
	return li.Body(
		app.Div().Body(
			app.Strong().Text(title),
			app.If(here, func() app.UI { return app.Span().Class("here").Text(w.T("jobs.here")) }),
			app.P().Class("hint").Text(about),
		),
		app.Div().Class("row").Body(
			app.A().Class("btn").DataSet("do", "open").Href(page.Href("/job")).Aria("label", w.T("jobs.open_label", "title", title)).
				Text(w.T("job.record.open")).OnClick(func(_ app.Context, ev app.Event) {
				if !s.open(e.ID) {
					ev.PreventDefault()
					ev.StopImmediatePropagation()
				}
			}, app.EventScope(e.ID)),
			v.do("duplicate", title, func() { s.duplicate(e.ID) }, e.ID),
			v.do("delete", title, func() { s.delete(e.ID) }, e.ID),
		),
	)
}

func (v *view) do(what, title string, do func(), id string) app.UI {
	w := v.s.Words
	return app.Button().Type("button").Class("btn").DataSet("do", what).
		Aria("label", w.T("jobs."+what+"_label", "title", title)).Text(w.T("job.record."+what)).
		OnClick(func(app.Context, app.Event) { do() }, app.EventScope(what, id))
}

// open takes a job to hand; one that cannot be read stays where it is.
func (s *Place) open(id string) bool {
	if id == s.Job.ID {
		return true
	}
	s.Save()
	j, warnings, err := s.Store().Load(id)
	if err != nil {
		s.status(s.Voice().Error(err).Sentences())
		if job.IsUnreadable(err) {
			s.closed = id
		}
		return false
	}
	s.Open(j)
	said := ""
	for _, w := range warnings {
		said += " " + s.Voice().Warning(w).Sentences()
	}
	s.Say(said)
	s.status("")
	return true
}

// begin takes an empty job to hand; the shop and who works there stay.
func (s *Place) begin() {
	s.NewJob()
	s.status("")
}

func (s *Place) duplicate(id string) {
	s.Save()
	j, err := s.Store().Duplicate(id, time.Now())
	if err != nil {
		s.status(s.Voice().Error(err).Sentences())
	} else {
		s.status(s.Words.T("job.record.duplicated"))
	}
	if j.ID != "" {
		s.Open(j)
	}
}

// delete takes a job off the device; the one at hand leaves an empty one.
func (s *Place) delete(id string) {
	s.Save()
	undo, err := s.Store().Delete(id)
	if err != nil {
		s.status(s.Voice().Error(err).Sentences())
		return
	}
	if id == s.Job.ID {
		s.NewJob()
		s.ForgetUndo() // its way back is the undo of the list
	}
	s.status("")
	s.undo = undo
	s.Then(func() { browser.Focus("jobs-undo") })
}

func (s *Place) undoDelete() {
	err := s.undo()
	s.undo = nil
	if err != nil {
		s.status(s.Voice().Error(err).Sentences())
		return
	}
	s.status(s.Words.T("job.record.undone"))
}

// status says what became of an action; what it did to the list is read again.
func (s *Place) status(text string) {
	s.said, s.closed = text, ""
	s.undo = nil
	s.StoredAnew()
	s.looked = 0
	s.rev++
}
