package jobs

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
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
		s.status(s.Voice().Error(&job.Error{What: job.TooBig,
			Args: map[string]any{"size": size / 1024, "max": job.MaxFile / 1024}}).Sentences())
	})
}

// A piece of reading a file that no key notices, and what is left to others before the
// next (judgement): a file may hold thousands of jobs.
const (
	importPiece = 12 * time.Millisecond
	importRest  = 12 * time.Millisecond
)

// importText puts the jobs of a file beside those that are here, a few at a time. If there
// is just one, it is opened.
func (s *Place) importText(text string) {
	s.Save()
	file, err := job.OpenFile([]byte(text))
	if err != nil {
		s.status(s.Voice().Error(err).Sentences())
		return
	}
	had := map[string]bool{}
	before, _ := s.Entries()
	for _, e := range before {
		had[e.ID] = true
	}
	s.importMore(file, had, 0)
}

// importMore goes on with a file of which added jobs were new.
func (s *Place) importMore(file *job.File, had map[string]bool, added int) {
	var failed error // of the device
	for until := time.Now().Add(importPiece); file.Left() > 0 && failed == nil; {
		if time.Now().After(until) {
			s.said = s.Words.T("readings.busy")
			s.rev++
			s.Later(importRest, func() { s.importMore(file, had, added) })
			return
		}
		if j, ok := file.Next(); ok {
			var n int
			n, failed = s.Store().Add([]job.Job{j})
			added += n
		}
	}
	in, err := file.Imported()
	if err != nil {
		s.status(s.Voice().Error(err).Sentences())
		return
	}
	s.imported(in, had, added, failed)
}

// imported says what came of a file, and opens the one job that it held.
func (s *Place) imported(in job.Imported, had map[string]bool, added int, err error) {
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
		said += " " + s.Voice().Warning(w).Sentences()
	}
	if err != nil {
		said = s.Voice().Error(err).Sentences()
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
