package repair

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/app/repair/sums"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// evacuate is the vacuum, what it does to water, and the hold test after it.
func (c *stepCard) evacuate() []app.UI {
	s, w := c.s, c.s.Words
	x := sums.Of(s.Job, s.Case())
	volume := service.Volume(s.Case().Car)
	typical, _ := s.Voice().Number(volume.Value, unit.Volume)
	return []app.UI{
		app.Div().Class("grid2").Body(
			s.Field("job", page.TextOf(present.VacuumReached), ""),
			s.Field("job", page.TextOf(present.PumpTime), ""),
		),
		result(s, "sum-vacuum", x.Vacuum(), c.sayVacuum),
		app.H3().Text(w.T("job.hold.title")),
		app.P().Class("hint").Text(w.T("job.hold.how")),
		c.holdClock(),
		c.holdTable(),
		app.Div().Class("grid2").Body(
			s.Field("job", page.TextOf(present.SystemVolume), typical),
		),
		result(s, "sum-hold", s.hold(), c.sayHold),
	}
}

func (c *stepCard) sayVacuum(e service.Evacuation) []app.UI {
	s, w, v := c.s, c.s.Words, c.s.Voice()
	needle, deepest := v.Quantity(float64(e.Vacuum), unit.GaugePressure), v.Quantity(float64(e.Deepest), unit.GaugePressure)
	asGauge := w.T("job.vacuum.as_gauge", "value", needle, "deepest", deepest)
	if needle == deepest {
		asGauge = w.T("job.vacuum.as_gauge_end", "value", needle)
	}
	lines := []app.UI{s.computed("as_gauge", asGauge)}
	// One depth and one time to go by; what else is printed stands folded below.
	var others []app.UI
	put := func(r service.Rule, line app.UI) {
		if r.Basis == service.CommonPractice {
			lines = append(lines, line)
		} else {
			others = append(others, line)
		}
	}
	for _, t := range e.Targets {
		how, key := "no", "job.vacuum.not_reached"
		switch {
		case !t.Possible:
			how, key = "open", "job.vacuum.impossible"
		case t.Unclear:
			how, key = "open", "job.vacuum.unclear"
		case t.Reached:
			how, key = "yes", "job.vacuum.reached"
		}
		what := v.Quantity(float64(t.OnGauge), unit.GaugePressure)
		if t.Possible {
			what = w.T("job.rule."+t.Rule.Code, "span", what, "absolute", v.Quantity(t.Rule.Hi, unit.AbsolutePressure))
		}
		put(t.Rule, s.check(how, w.T(key, "what", what), t.Rule))
	}
	pumped, typed, _ := s.Job.Number(present.PumpTime)
	for _, r := range e.PumpTime {
		how := "fact"
		switch {
		case typed && pumped.Value >= r.Lo:
			how = "yes"
		case typed:
			how = "open" // no failure: the sources differ
		}
		put(r, s.check(how, w.T("job.rule."+r.Code, "span", s.span(r, unit.Duration)), r))
	}
	boils := s.between(e.Range.Lo, e.Range.Hi, unit.Temperature)
	if e.Coarse {
		boils = w.T("number.at_most", "value", v.Quantity(e.Range.Hi, unit.Temperature))
	}
	return []app.UI{
		hero("vacuum-hero", boils, w.T("job.vacuum.boils")),
		app.P().ID("vacuum-says").Text(w.T("job.vacuum.water_" + e.WaterBoils)),
		checks("vacuum-checks", lines...),
		app.Details().ID("vacuum-others").Body(app.Summary().Class("small").Text(w.T("job.hold.criteria")), checks("vacuum-rules", others...)),
		s.minded(e.Warnings),
	}
}
