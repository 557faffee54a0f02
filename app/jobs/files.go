package jobs

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/page"
)

// Nothing here trusts what comes in; job.Import does the checking.

func (s *Place) exportCSV() {
	browser.Download(s.Ctx, browser.FileName("", "csv"), "text/csv;charset=utf-8", job.CSV(s.EveryJob()))
	s.status(s.Words.T("job.record.exported"))
}

// importFile reads a chosen file. One that is too large is not even read.
func (s *Place) importFile(ctx app.Context, _ app.Event) {
	browser.ReadFile(ctx, job.MaxFile, func(text string, err error) {
		if err != nil {
			s.status(s.Words.T("job.record.not_read"))
			return
		}
		s.importText(text)
	}, func(size int) {
		s.status(page.JoinSentences(s.Voice().Error(&job.Error{What: job.TooBig,
			Args: map[string]any{"size": size / 1024, "max": job.MaxFile / 1024}})))
	})
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
	had := map[string]bool{}
	before, _ := s.Entries()
	for _, e := range before {
		had[e.ID] = true
	}
	added, err := s.Store().Add(in.Jobs)
	said := s.Words.T("job.record.imported", "n", added)
	if skipped := len(in.Jobs) - added; skipped > 0 && err == nil {
		said += " " + s.Words.T("job.record.already_here", "n", skipped)
	}
	if in.Failed > 0 {
		said += " " + s.Words.T("job.record.failed", "n", in.Failed)
	}
	if in.OtherFit {
		said += " " + s.Words.T("job.record.other_fit")
	}
	for _, w := range in.Warnings {
		said += " " + page.JoinSentences(s.Voice().Warning(w))
	}
	if err != nil {
		said = page.JoinSentences(s.Voice().Error(err))
	}
	if len(in.Jobs) == 1 {
		open := in.Jobs[0].ID
		after, _ := s.Entries()
		for _, e := range after {
			if !had[e.ID] {
				open = e.ID
			}
		}
		s.open(open)
	}
	s.status(said)
}
