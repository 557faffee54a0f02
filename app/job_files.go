package app

import (
	"strings"
	"time"
	"unicode"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
)

// Files and links: how a job leaves this device and comes to it. Nothing here
// trusts what comes in; job.Import and job.OpenLink do the checking.

func (s *session) exportCurrent(ctx app.Context) {
	s.download(ctx, fileName(s.job.Title, "json"), "application/json", string(job.Export([]job.Job{s.job}, time.Now())))
	s.tellShelf(s.words.T("job.record.exported"))
}

func (s *session) exportAll(ctx app.Context) {
	s.download(ctx, fileName("", "json"), "application/json", string(job.Export(s.everyJob(ctx), time.Now())))
	s.tellShelf(s.words.T("job.record.exported"))
}

func (s *session) exportCSV(ctx app.Context) {
	s.download(ctx, fileName(s.job.Title, "csv"), "text/csv;charset=utf-8", job.CSV([]job.Job{s.job}))
	s.tellShelf(s.words.T("job.record.exported"))
}

// everyJob is what is on the device and, whatever became of saving it, what is on
// the bench.
func (s *session) everyJob(ctx app.Context) []job.Job {
	s.save(ctx)
	s.look()
	jobs := []job.Job{s.job}
	for _, j := range s.desk.shelf.jobs {
		if j.ID != s.job.ID {
			jobs = append(jobs, j)
		}
	}
	return jobs
}

// fileName is safe on every system: letters, digits and hyphens of the title.
func fileName(title, ending string) string {
	safe := strings.Map(func(r rune) rune {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			return unicode.ToLower(r)
		case r == ' ' || r == '-' || r == '_':
			return '-'
		}
		return -1
	}, title)
	if runes := []rune(safe); len(runes) > 40 {
		safe = string(runes[:40])
	}
	name := "two-needles"
	if safe = strings.Trim(safe, "-"); safe != "" {
		name += "-" + safe
	}
	return name + "-" + time.Now().Format(time.DateOnly) + "." + ending
}

// download hands a text to the browser as a file.
func (s *session) download(ctx app.Context, name, kind, text string) {
	if app.IsServer {
		return
	}
	blob := app.Window().Get("Blob").New([]any{text}, map[string]any{"type": kind})
	url := app.Window().Get("URL").Call("createObjectURL", blob)
	a := app.Window().Get("document").Call("createElement", "a")
	a.Set("href", url)
	a.Set("download", name)
	a.Call("click") // it is in no page, so the page's own click handler does not see it
	const kept = time.Minute
	ctx.After(kept, func(app.Context) { app.Window().Get("URL").Call("revokeObjectURL", url) })
}

// importFile reads a chosen file. One that is too large is not even read.
func (s *session) importFile(ctx app.Context, _ app.Event) {
	input := ctx.JSSrc()
	files := input.Get("files")
	if !files.Truthy() || files.Get("length").Int() == 0 {
		return
	}
	file := files.Index(0)
	if size := file.Get("size").Int(); size > job.MaxFile {
		s.tellShelf(joinSentences(s.voice().Error(&job.Error{What: job.TooBig,
			Args: map[string]any{"size": size / 1024, "max": job.MaxFile / 1024}})))
		input.Set("value", "")
		return
	}
	read := app.FuncOf(func(_ app.Value, args []app.Value) any {
		text := args[0].String()
		ctx.Dispatch(func(ctx app.Context) {
			s.importText(ctx, text)
			input.Set("value", "") // the same file can be chosen again
		})
		return nil
	})
	refused := app.FuncOf(func(app.Value, []app.Value) any {
		ctx.Dispatch(func(app.Context) { s.tellShelf(s.words.T("job.record.not_read")) })
		return nil
	})
	file.Call("text").Call("then", read, refused)
}

// importText puts the jobs of a file beside those that are here. If there is just
// one, it is opened.
func (s *session) importText(ctx app.Context, text string) {
	s.save(ctx)
	in, err := job.Import([]byte(text))
	if err != nil {
		s.tellShelf(joinSentences(s.voice().Error(err)))
		return
	}
	s.look()
	had := map[string]bool{}
	for _, j := range s.desk.shelf.jobs {
		had[j.ID] = true
	}
	added, err := s.keeper.store.Add(in.Jobs)
	said := s.words.T("job.record.imported", "n", added)
	if skipped := len(in.Jobs) - added; skipped > 0 && err == nil {
		said += " " + s.words.T("job.record.already_here", "n", skipped)
	}
	if in.Failed > 0 {
		said += " " + s.words.T("job.record.failed", "n", in.Failed)
	}
	for _, w := range in.Warnings {
		said += " " + joinSentences(s.voice().Warning(w))
	}
	if err != nil {
		said = joinSentences(s.voice().Error(err))
	}
	s.look()
	if len(in.Jobs) == 1 {
		open := in.Jobs[0]
		for _, j := range s.desk.shelf.jobs {
			if !had[j.ID] {
				open = j
			}
		}
		if open.ID != s.job.ID {
			s.place(ctx, open)
			s.desk.open = map[string]bool{stepRecord: true}
		}
	}
	s.tellShelf(said)
}

func (s *session) showLink(ctx app.Context) {
	if s.desk.shelf.link != "" {
		s.desk.shelf.link = ""
		return
	}
	s.desk.shelf.link = s.linkTo("tell")
	ctx.Defer(func(app.Context) { reveal("job-link") })
}

// linkTo is the address of a place with the whole job behind the #.
func (s *session) linkTo(place string) string {
	u := app.Window().URL()
	u.Path = u.Path[:strings.LastIndex(u.Path, "/")+1] + place
	u.RawQuery, u.Fragment = "", s.job.Link()
	return u.String()
}

// linkAndCode shows the link and its code, or says that it is too long for one.
func (c *stepCard) linkAndCode() app.UI {
	s, w := c.s, c.s.words
	s.desk.shelf.link = s.linkTo("tell") // the job may have changed since
	link := s.desk.shelf.link
	var code app.UI = app.P().ID("qr-too-long").Text(w.T("job.record.qr_too_long", "n", len(link), "most", mostQR))
	if svg, ok := qrSVG(link, w.T("job.record.qr")); ok {
		code = app.Div().ID("qr").Class("qr").Body(app.Raw(svg))
	}
	return app.Div().ID("link").Class("tight").Body(
		app.P().Class("hint").Text(w.T("job.record.link_holds")),
		app.Div().Class("entry plain").Body(app.Input().ID("job-link").Type("text").ReadOnly(true).
			Aria("label", w.T("job.record.link_label")).Value(link)),
		code,
	)
}
