package readings

import (
	"cmp"
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/ask"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// years is the car over time: every visit, in order or not, on the band of its day. It is
// asked for while it is open.
type years struct {
	open    bool
	ask     *ask.Questions
	visits  []chart.Met // the earliest first
	failure present.Message
	ready   bool
}

// mostMet is how many visits are drawn, the latest: more stand on each other.
const mostMet = 16

// met is a visit before its band is known.
type met struct {
	is chart.Met
	of car.Case
}

// metVisits are the visits of the car at hand up to this one, the earliest first.
func (s *Place) metVisits() []met {
	if s.Job.OfCar == "" {
		return nil
	}
	var out []met
	for _, j := range append([]job.Job{s.Job}, s.VisitsOf(s.Job.OfCar)...) {
		ago := j.MonthsBefore(s.Job)
		if ago < 0 {
			continue
		}
		before, _ := j.Case()
		after, _ := j.CaseAfter()
		for _, v := range []struct {
			when string
			at   *job.Visit
			of   car.Case
		}{{"after", &j.After, after}, {"before", &j.Before, before}} {
			r := page.ChartReading(v.of)
			if v.at.Empty() || v.at.Engine == job.EngineOff || !r.Low.Read && !r.High.Read || diagnose.Check(v.of) != nil {
				continue
			}
			out = append(out, met{chart.Met{Months: ago, When: s.Words.T("jobs.car.visit_"+v.when, "date", s.Words.Day(j.Created.Local())), Sound: v.at.Sound, Reading: r}, v.of})
		}
	}
	slices.SortStableFunc(out, func(a, b met) int { return cmp.Compare(a.is.Months, b.is.Months) })
	out = out[:min(len(out), mostMet)]
	slices.Reverse(out)
	return out
}

// askYears asks for the band of each visit's day.
func (s *Place) askYears() {
	y := &s.years
	if !y.open {
		return
	}
	visits := s.metVisits()
	y.ask.Ask(s.Ctx, func(_ app.Context, err error) {
		y.failure, y.ready = s.Voice().Error(err), true
		s.yearsRev++
	}, func(m *diagnose.Model, deliver func(func(app.Context)) bool) error {
		var list []chart.Met
		for _, v := range visits {
			bands, err := m.WeatherBands(v.of, []float64{v.of.Weather.Ambient})
			if err != nil {
				return err
			}
			low, high := bands[0].Low, bands[0].High
			v.is.LowBand, v.is.HighBand = car.Interval{Lo: low.P05, Hi: low.P95}, car.Interval{Lo: high.P05, Hi: high.P95}
			list = append(list, v.is)
		}
		deliver(func(app.Context) {
			y.visits, y.failure, y.ready = list, present.Message{}, true
			s.yearsRev++
		})
		return nil
	})
}

// yearsPart is the picture, folded until it is wanted.
func (p *earlierPanel) yearsPart() app.UI {
	s, w, y := p.s, p.s.Words, &p.s.years
	var body []app.UI
	switch {
	case !y.open:
	case !y.ready:
		body = []app.UI{app.P().Class("soft").Text(w.T("readings.busy"))}
	case y.failure.What != "":
		body = []app.UI{app.P().Class("msg").Text(y.failure.What)}
	default:
		f, err := chart.Years(y.visits, s.ChartOptions("years"))
		if err != nil {
			body = []app.UI{app.P().Class("msg").Text(w.T("readings.earlier.one_visit"))}
			break
		}
		body = []app.UI{app.Div().ID("years-frame").Body(app.Raw(f.SVG)), app.P().Class("hint").Text(w.T("readings.earlier.years_key")), s.FigureText(f)}
	}
	return page.Unfolding("years-part", w.T("readings.earlier.years"), body, func(open bool) {
		if open != y.open {
			y.open = open
			s.askYears()
		}
	}).Open(y.open)
}
