package repair

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/refrig/car"
)

// list is what was last done with the job.
type list struct {
	said    string          // what became of the last action
	link    string          // shown with its code, "" while hidden
	named   bool            // link and file with the shop, the technician, the plate and the odometer
	printed map[string]bool // the steps that were open before printing; nil while nothing is printed
	listens bool
}

// record is the end of the job: notes, who did it, keeping, handing on, the others.
func (c *stepCard) record() []app.UI {
	s, w := c.s, c.s.Words
	d := &s.list
	button := func(id, class string, do func()) app.UI {
		return page.Button("record-"+id, class, w.T("job.record."+id), do)
	}
	field := func(id string, at *string) app.UI {
		return app.Div().Class("field").Body(app.Label().For(id).Text(w.T("jobs.field."+id)), s.line(id, at, job.MaxTitle, ""))
	}
	return []app.UI{
		app.Div().Class("grid2").Body(
			field("plate", &s.Job.Plate), field("odometer", &s.Job.Odometer), field("technician", &s.Job.Technician), field("shop", &s.Job.Shop)),
		app.P().Class("hint").Text(w.T("jobs.field.how")),
		app.Div().Class("field").Body(app.Label().For("notes-text").Text(w.T("job.notes.name")),
			s.area("notes-text", &s.Job.Notes, 3, maxNotes), app.P().Class("hint").Text(w.T("job.notes.how"))),
		c.foundAtTheCar(),
		c.ofThisCar(),
		app.Div().Class("row").Body(
			app.A().ID("to-tell").Class("btn main").Href(page.Href("/tell")).Text(w.T("job.record.to_tell")),
			app.If(browser.CanPrint(), func() app.UI { return button("print", "btn", s.printJob) }),
		),
		app.P().ID("record-said").Role("status").Class("small").Text(d.said),
		app.H3().Text(w.T("job.record.hand_on")),
		page.Chip("record-named", w.T("jobs.named"), d.named, func() { d.named = !d.named; s.rev++ }),
		app.Div().Class("row").Body(
			button("link", "btn", s.showLink), button("export", "btn", s.exportCurrent), button("csv", "btn", s.exportCSV),
		),
		app.If(d.link != "", c.linkAndCode),
		app.H3().Text(w.T("job.record.jobs")),
		app.Div().Class("row").Body(
			button("new", "btn", s.newJobHere),
			app.A().ID("record-jobs").Class("btn").Href(page.Href("/jobs")).Text(w.T("jobs.all")),
		),
	}
}

// foundAtTheCar confirms the cause, for the record of the device.
func (c *stepCard) foundAtTheCar() app.UI {
	s, w := c.s, c.s.Words
	r := &s.Job.Repair
	is := w.T("jobs.found.none")
	if r.Cause != "" {
		id := car.ConditionID(r.Cause)
		if is = w.T("jobs.found.not_yet", "condition", s.Words.ConditionName(id)); !r.FoundAt.IsZero() {
			is = w.T("jobs.found.is", "condition", s.Words.ConditionName(id), "date", w.Day(r.FoundAt.Local()))
		}
	}
	return app.Div().Class("tight").Body(
		app.H3().Text(w.T("jobs.found.title")),
		app.P().ID("found-is").Text(is),
		app.If(r.Cause != "", func() app.UI {
			return app.Div().Class("row chips").Body(page.Chip("found-confirmed", w.T("jobs.found.confirmed"), !r.FoundAt.IsZero(), c.confirm))
		}),
		app.P().Class("hint").Text(w.T("jobs.found.how")),
	)
}

func (c *stepCard) confirm() {
	at := &c.s.Job.Repair.FoundAt
	if at.IsZero() {
		*at = time.Now().UTC().Truncate(time.Second)
	} else {
		*at = time.Time{}
	}
	c.s.Edited()
}

// maxNotes is as much as a job keeps; job.Restore cuts at the same.
const maxNotes = 4000

func (s *Place) newJobHere() {
	s.NewJob()
	s.status(s.Words.T("job.record.began"))
	s.Then(func() { browser.ShowTop("job-title") }) // the step that held the button has folded
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
	s.Ctx.After(50*time.Millisecond, func(ctx app.Context) { browser.Print(ctx, app.Event{}) })
}
