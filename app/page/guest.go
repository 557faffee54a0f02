package page

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/present"
)

// tellPath ends the address of the customer's sheet. A link to it is for the person
// who drives the car: it shows the sheet and nothing to change, and is not kept among
// the jobs of the device.
const tellPath = "/tell"

// Guest tells if the job at hand is only shown, to somebody who was sent it.
func (s *Page) Guest() bool { return s.guest }

// TakeGuest makes the job that is shown one of this device.
func (s *Page) TakeGuest() {
	s.noGuest()
	j := s.Job
	s.Job = s.restore()
	s.Open(arrived(j))
}

// noGuest ends the showing; the device's own language comes back.
func (s *Page) noGuest() {
	s.guest = false
	if s.own != nil {
		own := s.own
		s.own = nil
		s.UseWords(own)
	}
}

// arriveAsGuest shows the job of a link to the customer's sheet. The link stays in the
// address, so that reloading shows the sheet again. Any other address is no guest's:
// the device's own job comes back.
func (s *Page) arriveAsGuest(ctx app.Context) bool {
	u := ctx.Page().URL()
	if !strings.HasSuffix(u.Path, tellPath) || !job.IsLink(u.Fragment) {
		if s.guest {
			s.noGuest()
			s.Replace(s.restore())
		}
		return false
	}
	j, _, err := job.OpenLink(u.Fragment)
	if err != nil {
		return false // said as of any other link
	}
	if !s.guest {
		s.Save()
	}
	s.guest = true
	s.Replace(j)
	if j.TellIn != "" { // he reads all of it in the language that was chosen for him
		s.wordsOf(j.TellIn, func(w *present.Words, err error) {
			if err == nil && s.guest {
				if s.own == nil { // else it is the second sheet
					s.own = s.Words
				}
				s.UseWords(w)
			}
		})
	}
	return true
}
