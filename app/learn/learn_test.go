package learn

import (
	"errors"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/pagetest"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/refrig/car"
)

func open(t *testing.T) (*pagetest.Screen, *view) {
	t.Helper()
	var v *view
	b := pagetest.New(t, job.Memory{}, func(pg *page.Page) func() app.Composer {
		return func() app.Composer {
			next := View(pg).(*view)
			if v == nil {
				v = next // go-app keeps the first and brings its revision up to date
			}
			return next
		}
	})
	return b, v
}

// The patterns are those of the car at hand, and the one of the present reading is
// marked; everything that stood under Sources is here, the bibliography last.
func TestLearnIsWhole(t *testing.T) {
	b, v := open(t)
	b.Three("10", "90", "90")
	b.Do(func() { b.Page.Job.Car.Metering = car.ExpansionValve.Code(); b.Page.Edited() })
	b.Has("patterns-card", "90 °F")
	b.Has("patterns-card", "R-134a, Expansion valve")
	if !strings.Contains(v.figure.Summary, "Both low, as on this car: Not enough refrigerant") {
		t.Errorf("the picture says %q", v.figure.Summary)
	}
	html, last := b.HTML(), -1
	for _, id := range []string{"patterns-card", "catalogue", "method", "limits", "privacy", "list", "version", "licences"} {
		at := strings.Index(html, `id="`+id+`"`)
		if at < last {
			t.Errorf("#%s is missing or out of order", id)
		}
		last = at
	}
	b.Sound("learn")
}

// A job without weather shows a warm day and says so; a model that fails says that.
func TestPatternsWithoutAJobAndWithoutAModel(t *testing.T) {
	b, v := open(t)
	b.Has("patterns-card", "86 °F") // 30 °C
	b.Fail = errors.New("told to")
	b.Do(func() { b.Page.Edited() })
	if v.failure == "" {
		t.Error("the model failed and nothing is said")
	}
	b.Sound("failed")
}
