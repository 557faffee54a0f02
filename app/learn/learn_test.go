package learn

import (
	"errors"
	"os"
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
	b.Has("patterns-card", "this car and weather (R-134a, Expansion valve, 90 °F outside)")
	if !strings.Contains(v.figure.Summary, "Both low, as on this car: Not enough refrigerant") {
		t.Errorf("the picture says %q", v.figure.Summary)
	}
	b.Has("loop-card", "this car and weather")
	if says := v.loop.Summary; strings.Contains(v.loop.SVG, "if any") || !strings.Contains(v.loop.SVG, ">Drier<") || !strings.Contains(says, "Vent air: sound cars") || strings.Contains(says, "10 psi") {
		t.Errorf("the loop of a sound car with a valve says %q", says)
	}
	html, last := b.HTML(), -1
	for _, id := range []string{"patterns-card", "loop-card", "catalogue", "know", "method", "limits", "privacy", "list", "version", "licences"} {
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
	b.Has("patterns-card", "any car on a warm day, as neither is typed (R-134a, 86 °F outside)") // 30 °C
	b.Do(func() { b.Page.Job.Car.Metering = car.OrificeTube.Code(); b.Page.Edited() })
	b.Has("patterns-card", "this car on a warm day")
	b.Do(func() { b.Page.Job.Car.Metering = "" })
	b.Three("30", "210", "90")
	b.Has("patterns-card", "this weather and any car")
	b.Fail = errors.New("told to")
	b.Do(func() { b.Page.Edited() })
	if v.failure == "" {
		t.Error("the model failed and nothing is said")
	}
	b.Sound("failed")
}

// What the page says of its own checks is what the reports say: the numbers are
// looked for in the files that make calibrate and make report wrote.
func TestHowWeKnowSaysWhatWasMeasured(t *testing.T) {
	b, _ := open(t)
	b.Three("38", "250", "90")
	b.Has("know", "Makers’ tables")
	for _, id := range []string{"know-figure", "know-met"} {
		if !strings.Contains(b.HTML(), `id="`+id+`"`) {
			t.Errorf("#%s is missing", id)
		}
	}
	for _, c := range []struct {
		file, says string // a line of a report, as it must stand there
		page       string // and what the page makes of it
	}{
		{"makers/calibration.md", "28 cells of 6 makers, 62 values", "62 numbers, 6 makers"},
		{"makers/calibration.md", "| low side | 22 | 64 % | 95 % | -17.0 kPa", "95 % of its low sides"},
		{"makers/calibration.md", "| low side | 22 | 64 % | 95 % | -17.0 kPa", "17 kPa (2.5 psi) below"},
		{"makers/calibration.md", "| high side | 24 | 33 % | 96 % |", "96 % of its high sides"},
		{"makers/calibration.md", "| vent | 16 | 75 % | 94 % |", "94 % of its vent"},
		{"report/README.md", "Healthy first in 8 of 23, first or second in 22; a fault claimed with 80 % or more in 0.", "first in 8 and first or second in 22"},
		{"report/README.md", "| two needles and ambient | 0.509 |", "51 of 100"},
		{"report/README.md", "| + idle and water test | 0.684 |", "in 68 with everything"},
		{"report/README.md", "| 2.7 % |", "up to 3 in simulated worlds"},
		{"report/README.md", "| 3.9 % |", "about 4 sound cars of 100"},
	} {
		text, err := os.ReadFile("../../testdata/" + c.file)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(text), c.says) {
			t.Errorf("%s no longer says %q: change the page too", c.file, c.says)
		}
		b.Has("know", c.page)
	}
}
