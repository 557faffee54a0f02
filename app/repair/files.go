package repair

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/page"
)

// Files and links: how a job leaves this device and comes to it. Nothing here
// trusts what comes in; job.Import and job.OpenLink do the checking.

func (s *Place) exportCurrent() {
	s.Export()
	s.status(s.Words.T("job.record.exported"))
}

func (s *Place) exportAll() {
	s.Download(page.FileName("", "json"), "application/json", string(job.Export(s.everyJob(), time.Now())))
	s.status(s.Words.T("job.record.exported"))
}

func (s *Place) exportCSV() {
	s.Download(page.FileName(s.Job.Title, "csv"), "text/csv;charset=utf-8", job.CSV([]job.Job{s.Job}))
	s.status(s.Words.T("job.record.exported"))
}

// everyJob is what is on the device and, whatever became of saving it, what is at hand.
func (s *Place) everyJob() []job.Job {
	s.Save()
	s.look()
	jobs := []job.Job{s.Job}
	for _, j := range s.list.jobs {
		if j.ID != s.Job.ID {
			jobs = append(jobs, j)
		}
	}
	return jobs
}

// importFile reads a chosen file. One that is too large is not even read.
func (s *Place) importFile(ctx app.Context, _ app.Event) {
	input := ctx.JSSrc()
	files := input.Get("files")
	if !files.Truthy() || files.Get("length").Int() == 0 {
		return
	}
	file := files.Index(0)
	if size := file.Get("size").Int(); size > job.MaxFile {
		s.status(page.JoinSentences(s.Voice().Error(&job.Error{What: job.TooBig,
			Args: map[string]any{"size": size / 1024, "max": job.MaxFile / 1024}})))
		input.Set("value", "")
		return
	}
	read := app.FuncOf(func(_ app.Value, args []app.Value) any {
		text := args[0].String()
		ctx.Dispatch(func(app.Context) {
			s.importText(text)
			input.Set("value", "") // the same file can be chosen again
		})
		return nil
	})
	refused := app.FuncOf(func(app.Value, []app.Value) any {
		ctx.Dispatch(func(app.Context) { s.status(s.Words.T("job.record.not_read")) })
		return nil
	})
	file.Call("text").Call("then", read, refused)
}

// importText puts the jobs of a file beside those that are here. If there is just
// one, it is opened.
func (s *Place) importText(text string) {
	s.Save()
	in, err := job.Import([]byte(text))
	if err != nil {
		s.status(page.JoinSentences(s.Voice().Error(err)))
		return
	}
	s.look()
	had := map[string]bool{}
	for _, j := range s.list.jobs {
		had[j.ID] = true
	}
	added, err := s.Store().Add(in.Jobs)
	said := s.Words.T("job.record.imported", "n", added)
	if skipped := len(in.Jobs) - added; skipped > 0 && err == nil {
		said += " " + s.Words.T("job.record.already_here", "n", skipped)
	}
	if in.Failed > 0 {
		said += " " + s.Words.T("job.record.failed", "n", in.Failed)
	}
	for _, w := range in.Warnings {
		said += " " + page.JoinSentences(s.Voice().Warning(w))
	}
	if err != nil {
		said = page.JoinSentences(s.Voice().Error(err))
	}
	s.look()
	if len(in.Jobs) == 1 {
		open := in.Jobs[0]
		for _, j := range s.list.jobs {
			if !had[j.ID] {
				open = j
			}
		}
		if open.ID != s.Job.ID {
			s.Open(open)
			s.open = map[string]bool{stepRecord: true}
		}
	}
	s.status(said)
}

func (s *Place) showLink() {
	if s.list.link != "" {
		s.list.link = ""
		return
	}
	s.list.link = s.Link("job")
	s.Then(func() { page.Reveal("job-link") })
}

// shareLink hands the link to the whole job to the device's own sheet.
func (s *Place) shareLink(ctx app.Context, _ app.Event) {
	page.Share(ctx, s.Job.Title, s.list.link, s.linkWent)
}

func (s *Place) copyLink(ctx app.Context, _ app.Event) {
	page.CopyText(ctx, s.list.link,
		func(ctx app.Context) { s.linkWent(ctx, page.SharedCopied) }, func(ctx app.Context) { s.linkWent(ctx, page.SharedNot) })
}

// linkWent says what became of the link, which stays on screen.
func (s *Place) linkWent(_ app.Context, how page.Shared) {
	s.status(s.Words.T(sharedWords[how]))
}

// linkAndCode shows the link and its code, or says that it is too long for one.
func (c *stepCard) linkAndCode() app.UI {
	s, w := c.s, c.s.Words
	s.list.link = s.Link("job") // the job may have changed since
	link := s.list.link
	var code app.UI = app.P().ID("qr-too-long").Text(w.T("job.record.qr_too_long", "n", len(link), "most", mostQR))
	if svg, ok := qrSVG(link, w.T("job.record.qr")); ok {
		code = app.Div().ID("qr").Class("qr").Body(app.Raw(svg))
	}
	return app.Div().ID("link").Class("tight").Body(
		app.P().Class("hint").Text(w.T("job.record.link_holds")),
		app.Div().Class("entry plain").Body(app.Input().ID("job-link").Type("text").ReadOnly(true).
			Aria("label", w.T("job.record.link_label")).Value(link)),
		app.Div().Class("row").Body(
			app.If(page.CanShare(), func() app.UI {
				return app.Button().ID("link-share").Type("button").Class("btn main").Text(w.T("job.record.share")).OnClick(s.shareLink)
			}),
			app.Button().ID("link-copy").Type("button").Class("btn").Text(w.T("job.record.copy_link")).OnClick(s.copyLink),
		),
		code,
	)
}
