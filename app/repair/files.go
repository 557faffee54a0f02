package repair

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
)

// Files and links: how a job leaves this device.

func (s *Place) exportCurrent() {
	s.Export(s.list.named)
	s.status(s.Words.T("job.record.exported"))
}

func (s *Place) exportCSV() {
	browser.Download(s.Ctx, browser.FileName(s.Job.Title, "csv"), "text/csv;charset=utf-8", job.CSV([]job.Job{s.Job}))
	s.status(s.Words.T("job.record.exported"))
}

func (s *Place) showLink() {
	if s.list.link != "" {
		s.list.link = ""
		return
	}
	s.list.link = s.Link("job", s.list.named)
	s.Then(func() { browser.Reveal("job-link") })
}

// shareLink hands the link to the whole job to the device's own sheet.
func (s *Place) shareLink(ctx app.Context, _ app.Event) {
	browser.Share(ctx, s.Job.Title, s.list.link, s.linkWent)
}

func (s *Place) copyLink(ctx app.Context, _ app.Event) {
	browser.CopyText(ctx, s.list.link,
		func(ctx app.Context) { s.linkWent(ctx, browser.SharedCopied) }, func(ctx app.Context) { s.linkWent(ctx, browser.SharedNot) })
}

// linkWent says what became of the link, which stays on screen.
func (s *Place) linkWent(_ app.Context, how browser.Shared) {
	s.status(s.Words.T(sharedWords[how]))
}

// linkAndCode shows the link and its code, or says that it is too long for one.
func (c *stepCard) linkAndCode() app.UI {
	s, w := c.s, c.s.Words
	s.list.link = s.Link("job", s.list.named) // the job may have changed since
	link := s.list.link
	var code app.UI = app.P().ID("qr-too-long").Text(w.T("job.record.qr_too_long", "n", len(link), "most", mostQR))
	if svg, ok := qrSVG(link, w.T("job.record.qr")); ok {
		code = app.Div().ID("qr").Class("qr").Body(app.Raw(svg))
	}
	return app.Div().ID("link").Class("tight").Body(
		app.P().Class("hint").Text(w.T(map[bool]string{false: "job.record.link_holds", true: "jobs.link_holds_named"}[s.list.named])),
		app.Div().Class("entry plain").Body(app.Input().ID("job-link").Type("text").ReadOnly(true).
			Aria("label", w.T("job.record.link_label")).Value(link)),
		app.Div().Class("row").Body(
			app.If(browser.CanShare(), func() app.UI {
				return app.Button().ID("link-share").Type("button").Class("btn main").Text(w.T("job.record.share")).OnClick(s.shareLink)
			}),
			app.Button().ID("link-copy").Type("button").Class("btn").Text(w.T("job.record.copy_link")).OnClick(s.copyLink),
		),
		code,
	)
}
