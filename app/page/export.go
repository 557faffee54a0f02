package page

import (
	"time"

	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
)

// Export hands the job at hand to the browser as a file; whole is with the shop, the
// technician, the plate and the odometer.
func (s *Page) Export(whole bool) {
	write := job.Export
	if whole {
		write = job.Backup
	}
	browser.Download(s.Ctx, browser.FileName(s.Job.Title, "json"), "application/json", string(write([]job.Job{s.whole()}, time.Now())))
}

// Backup hands everything that is kept here to the browser as one file.
func (s *Page) Backup() {
	browser.Download(s.Ctx, browser.FileName("", "json"), "application/json", string(job.Backup(s.EveryJob(), time.Now())))
}

// Link is the address of a place with the whole job behind the #; "" is the place
// shown. named is with the shop, the technician, the plate and the odometer.
func (s *Page) Link(place string, named bool) string {
	if named {
		return browser.Address(place, s.whole().LinkNamed())
	}
	return browser.Address(place, s.whole().Link())
}

// LinkSheet is the address of the customer's sheet.
func (s *Page) LinkSheet() string { return browser.Address("tell", s.whole().LinkSheet()) }

// LinkReadings is the address of the place shown with the readings alone behind the #.
func (s *Page) LinkReadings() string { return browser.Address("", s.whole().LinkReadings()) }
