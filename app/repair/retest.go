package repair

import (
	"math"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/app/repair/sums"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// retest is the search for what is still open, under gas and before anything is
// evacuated or charged: a leak found here costs no refrigerant.
func (c *stepCard) retest() []app.UI {
	s, w := c.s, c.s.Words
	start, typed, _ := s.Job.Number(present.LeakPressure)
	limits := service.NitrogenLimits()
	return []app.UI{
		checks("retest-how",
			s.note("retest_joints", w.T("job.retest.joints"), service.CommonPractice, ""),
			s.note("retest_gas", w.T("job.retest.gas"), service.CommonPractice, ""),
			s.rule(limits[0], unit.GaugePressure),
			s.rule(service.PressureTestTime, unit.Duration)),
		app.Div().Class("grid2").Body(
			s.choose("retest", "retest", job.Retests, &s.Job.Repair.Retest),
			s.Field("job", page.TextOf(present.LeakPressure), ""),
			s.Field("job", page.TextOf(present.RetestEnd), ""),
			s.Field("job", page.TextOf(present.RetestTime), ""),
			s.Field("job", page.TextOf(present.RetestStartTemp), s.ambientText()),
			s.Field("job", page.TextOf(present.RetestEndTemp), w.T("job.retest.same")),
		),
		app.If(typed && start.Value > limits[0].Hi, func() app.UI {
			return checks("nitrogen-high", s.check("no", w.T("job.nitrogen_high", "limit", s.span(limits[0], unit.GaugePressure)), limits[0]))
		}),
		result(s, "sum-retest", sums.Of(s.Job, s.Case()).PressureTest(), c.sayRetest),
	}
}

func (c *stepCard) sayRetest(p service.PressureTest) []app.UI {
	s, w, v := c.s, c.s.Words, c.s.Voice()
	verdict := "job.retest." + string(p.Verdict)
	lines := []app.UI{s.computed("retest_expected", w.T("job.retest.expected",
		"expected", v.Range(p.Expected.Lo, p.Expected.Hi, unit.GaugePressure)))}
	if p.Empties > 0 && p.Verdict == service.PressureHolds {
		lines = append(lines, s.computed("retest_hides", w.T("job.retest.hides", "time", s.aboutDays(p.Empties))))
	}
	return []app.UI{
		hero("retest-hero", w.T(verdict+".short"), ""),
		app.P().ID("retest-says").Text(w.Text(verdict+".says", nil)),
		checks("retest-checks", lines...),
	}
}

// aboutDays says a time to one digit: it is good to a factor of two.
func (s *Place) aboutDays(seconds float64) string {
	days := seconds / 86400
	if days < 1 {
		return s.Words.T("job.retest.less_than_a_day")
	}
	scale := math.Pow(10, math.Floor(math.Log10(days)))
	n := math.Round(days/scale) * scale
	if n > 60 {
		return s.Words.T("job.retest.about", "time", s.Voice().Quantity(math.Round(n/30), unit.Months))
	}
	return s.Words.T("job.retest.about", "time", s.Words.T("job.retest.days", "n", int(n)))
}
