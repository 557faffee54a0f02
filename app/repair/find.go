package repair

import (
	"math"
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/app/repair/sums"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// stands is how a step stands, in one line beside its name.
func (c *stepCard) stands() string {
	s, w := c.s, c.s.Words
	v, x := s.Voice(), sums.Of(s.Job, s.Case())
	switch c.Code {
	case "resting":
		if r := x.Resting(); r.Ready() {
			return w.T("job.rest." + string(r.Is.Finding) + ".short")
		}
	case "find":
		if n := len(s.Job.Repair.LeaksFound); n > 0 {
			return w.T("job.found", "n", n)
		}
	case "recover":
		if r := x.Recovery(); r.Ready() {
			return w.T("job.recovered.short", "range", v.Range(r.Is.Fraction.Lo, r.Is.Fraction.Hi, unit.Fraction))
		}
	case "repair":
		if n := len(s.Job.Repair.Parts); n > 0 {
			return w.T("job.parts.short", "n", n)
		}
	case "retest":
		switch found := x.UnderGas(); found {
		case sums.GasLeak, sums.GasTight:
			return w.T("retest." + found + ".short")
		case sums.GasHolds:
			return w.T("job.retest." + found + ".short")
		}
	case "evacuate":
		if r := s.hold(); r.Ready() {
			return w.T("job.hold." + string(r.Is.Verdict) + ".short")
		}
		if r := x.Vacuum(); r.Ready() {
			return v.Quantity(float64(s.vacuumReached()), unit.AbsolutePressure)
		}
	case "charge":
		if r := x.Charged(); r.Ready() {
			return v.Quantity(r.Is.InCar.Value, unit.Mass)
		}
	case "prove":
		if r := s.proof(); r.Ready() {
			return w.T("job.outcome." + string(r.Is.Outcome))
		}
	case stepRecord:
		return w.T("job.record.short")
	}
	if s.isDone(c.Code) {
		return w.T("job.is_done")
	}
	return ""
}

func (s *Place) vacuumReached() refrig.Pressure {
	e, _, _ := s.Job.Number(present.VacuumReached)
	return refrig.Pressure(e.Value)
}

// resting is the check with the engine off.
func (c *stepCard) resting() []app.UI {
	s, w := c.s, c.s.Words
	return []app.UI{
		app.Div().Class("grid2").Body(
			s.Field("job", page.TextOf(present.FieldID(car.Resting)), ""),
			s.Field("job", page.TextOf(present.RestingHigh), w.T("job.same")),
			s.Field("job", page.TextOf(present.Soak), s.ambientText()),
		),
		app.Div().Class("row chips").Body(page.Chip("soaked", w.T("job.soaked"), s.Job.Repair.Soaked, func() {
			s.Job.Repair.Soaked = !s.Job.Repair.Soaked
			s.Edited()
		})),
		result(s, "sum-resting", sums.Of(s.Job, s.Case()).Resting(), c.sayResting),
	}
}

// ambientText is the outside temperature, which stands in for one not typed.
func (s *Place) ambientText() string {
	if s.Case().Weather.Ambient == 0 {
		return ""
	}
	text, _ := s.Voice().Number(s.Case().Weather.Ambient, unit.Temperature)
	return text
}

func (c *stepCard) sayResting(r service.Resting) []app.UI {
	s, w, v := c.s, c.s.Words, c.s.Voice()
	finding := "job.rest." + string(r.Finding)
	out := []app.UI{
		hero("resting-hero", w.T(finding+".short"), ""),
		app.P().ID("resting-says").Text(w.Text(finding+".says", nil)),
	}
	var lines []app.UI
	if r.Saturation != nil {
		args := map[string]any{"value": v.Quantity(r.Saturation.Value, unit.GaugePressure), "range": v.Range(r.Saturation.Lo, r.Saturation.Hi, unit.GaugePressure)}
		key := "job.rest.liquid"
		if r.Finding != service.RestingUnequal { // or no pressure is within both gauges' errors
			key, args["reading"] = "job.rest.saturation", v.Range(r.Reading.Lo, r.Reading.Hi, unit.GaugePressure)
		}
		lines = append(lines, s.computed("saturation", w.Text(key, args)))
	}
	if r.MassLeft != nil {
		lines = append(lines, s.computed("mass_left", w.T("job.rest.mass_left", "mass", s.estimate(*r.MassLeft, unit.Mass))))
	}
	if r.AirFraction != nil {
		lines = append(lines, s.computed("air_share", w.T("job.rest.air_share", "share", s.estimate(*r.AirFraction, unit.Fraction))))
	}
	if r.HotPart > 0 {
		lines = append(lines, s.computed("hot_part", w.T("job.rest.hot_part", "temperature", v.Quantity(float64(r.HotPart), unit.Temperature))))
	}
	if r.TankTest != nil {
		lines = append(lines, s.check("fact", w.T("job.rest.tank_test", "limit", v.Quantity(r.TankTest.Hi, unit.GaugePressure)), *r.TankTest))
	}
	if r.Thumb != nil {
		key := "job.rest.thumb_off"
		if r.Thumb.Good {
			key = "job.rest.thumb_good"
		}
		args := map[string]any{"rule": v.Quantity(r.Thumb.Rule.Lo, unit.GaugePressure),
			"off": v.Quantity(math.Abs(float64(r.Thumb.Error)), unit.GaugePressure)}
		if lo, hi, err := service.ThumbSpan(s.Case().Car.Refrigerant); err == nil {
			args["span"] = v.Range(lo, hi, unit.Temperature)
			lines = append(lines, s.check("fact", w.Text(key, args), r.Thumb.Rule))
		}
	}
	for _, l := range r.LookAlikes {
		if l.ID != s.Case().Car.Refrigerant {
			lines = append(lines, s.computed("look_alike", w.T("job.rest.look_alike", "gas", w.T("job.gas."+l.ID),
				"pressure", v.Quantity(float64(l.Saturation), unit.GaugePressure))))
		}
	}
	return append(out, checks("resting-checks", lines...), s.minded(r.Warnings))
}

// find is the search for the leak, and how fast it leaks.
func (c *stepCard) find() []app.UI {
	s, w := c.s, c.s.Words
	places := service.SearchOrder(s.Case().Car)
	items := make([]app.UI, len(places))
	for i, p := range places {
		methods := make([]string, len(p.Methods))
		for k, m := range p.Methods {
			methods[k] = w.T("job.method." + m + ".name")
		}
		items[i] = app.Li().DataSet("place", p.Code).Body(
			app.Div().Body(app.Strong().Text(w.T("place."+p.Code)),
				app.P().Class("hint").Body(
					app.Text(w.T("job.search", "likely", c.likely(p), "access", w.T(accessKeys[p.Access]), "methods", s.Words.List(methods))+" "),
					app.If(p.Ref != "", func() app.UI { return s.source(p.Basis, p.Ref) }))),
			page.Chip("place-"+p.Code, w.T("job.leaks_here"), slices.Contains(s.Job.Repair.LeaksFound, p.Code), func() {
				s.toggle(&s.Job.Repair.LeaksFound, job.Places, p.Code)
			}),
		)
	}
	rate, lost := sums.Of(s.Job, s.Case()).Leak()
	say := c.sayLeak
	if !lost {
		say = func(service.LeakReport) []app.UI { return []app.UI{app.P().Text(w.T("job.leak.nothing_lost"))} }
	}
	return []app.UI{
		c.rear(),
		app.H3().Text(w.T("job.search_order")),
		app.P().Class("hint").Body(app.Text(w.T("job.search_hint")+" "), s.source(service.Judgement, "")),
		app.Ol().ID("places").Class("search").Body(items...),
		s.searchWarnings(),
		fold("methods", w.T("job.methods"), c.methods()...),
		app.H3().Text(w.T("job.leak.title")),
		app.P().Class("hint").Text(w.T("job.leak.hint")),
		app.Div().Class("grid2").Body(
			s.Field("job", page.TextOf(present.LeakMonths), ""),
			s.Field("job", page.TextOf(present.MassAtStart), w.T("job.label")),
		),
		result(s, "sum-leak", rate, say),
	}
}

// rear asks early for what is forgotten most: cooling in the rear, with lines of its own.
func (c *stepCard) rear() app.UI {
	s, w := c.s, c.s.Words
	answer := func(id string, n int) app.UI {
		return page.Chip(id, w.T("job.rear."+id), s.Job.Car.Evaporators == n, func() {
			if s.Job.Car.Evaporators == n {
				n = 0 // a second tap takes it back
			}
			s.Job.Car.Evaporators = n
			s.Edited()
			s.SyncInputs()
		})
	}
	return app.Div().ID("rear-asked").Class("tight").Role("group").Aria("labelledby", "rear-question").Body(
		app.P().ID("rear-question").Class("label").Text(w.T("job.rear.question")),
		app.Div().Class("row chips").Body(answer("rear-no", 1), answer("rear-yes", 2)))
}

// likely says how often a place leaks: in a survey's count where there is one.
func (c *stepCard) likely(p service.Place) string {
	if p.Of > 0 {
		return c.s.Words.T("job.likely.counted", "likely", c.s.Words.T(likelyKeys[p.Likely]), "n", p.Found, "of", p.Of)
	}
	return c.s.Words.T(likelyKeys[p.Likely])
}

var (
	likelyKeys = map[int]string{1: "job.likely.1", 2: "job.likely.2", 3: "job.likely.3"}
	accessKeys = map[int]string{1: "job.access.1", 2: "job.access.2", 3: "job.access.3"}
)

// searchWarnings say what stands against searching now, once the car was read at
// rest.
func (s *Place) searchWarnings() app.UI {
	resting, ok := s.Case().Readings[car.Resting]
	if !ok || s.Case().Weather.Ambient == 0 {
		return nil
	}
	return s.minded(service.SearchWarnings(refrig.Gauge(resting.Value), refrig.Temperature(s.Case().Weather.Ambient)))
}

func (c *stepCard) methods() []app.UI {
	s, w := c.s, c.s.Words
	var out []app.UI
	for _, m := range service.Methods() {
		var lines []app.UI
		for _, need := range m.Needs {
			lines = append(lines, s.note(need.Code, w.T("job.method_need."+need.Code), need.Basis, need.Ref))
		}
		for _, r := range m.Limits {
			lines = append(lines, s.rule(r, methodKinds[r.Code]))
		}
		recovers := ""
		if m.Recovers {
			recovers = w.T("job.method_recovers")
		}
		out = append(out, app.Div().Class("tight").DataSet("method", m.Code).Body(
			app.H3().Text(w.T("job.method."+m.Code+".name")),
			app.P().Class("hint").Text(w.T("job.engine."+string(m.Engine))+" "+recovers),
			checks("method-"+m.Code, lines...),
		))
	}
	return out
}

// methodKinds are the kinds of the limits of the methods.
var methodKinds = map[string]unit.Kind{
	"fine": unit.MassRate, "middle": unit.MassRate, "coarse": unit.MassRate,
	"detector_least_pressure": unit.GaugePressure, "detector_ambient": unit.Temperature,
	"evaporator_blower": unit.Duration, "evaporator_wait": unit.Duration, "dye_dose": unit.Volume,
	"nitrogen_customary": unit.GaugePressure, "nitrogen_army": unit.GaugePressure,
}

func (c *stepCard) sayLeak(r service.LeakReport) []app.UI {
	s, w, v := c.s, c.s.Words, c.s.Voice()
	months := w.T("job.leak.months", "months", v.Range(r.MonthsToPoor.Lo, r.MonthsToPoor.Hi, unit.Months))
	if math.IsInf(r.MonthsToPoor.Hi, 1) {
		months = w.T("job.leak.months_open", "months", v.Quantity(r.MonthsToPoor.Lo, unit.Months))
	}
	rate, lost := v.Range(r.Rate.Lo, r.Rate.Hi, unit.MassRate), "job.leak.rate"
	if math.IsInf(r.Rate.Hi, 1) {
		rate, lost = v.Quantity(r.Rate.Lo, unit.MassRate), "job.leak.rate_open"
		months = w.T("job.leak.months_most", "months", v.Quantity(r.MonthsToPoor.Hi, unit.Months))
	}
	var lines []app.UI
	lines = append(lines, s.rule(r.Reserve, unit.Fraction))
	for _, l := range r.Limits {
		how := map[string]string{"below": "yes", "above": "no", "unclear": "open"}[l.Is]
		lines = append(lines, s.check(how, w.T("job.leak.limit", "what", w.T("job.rule."+l.Limit.Code, "span", s.span(l.Limit, unit.MassRate)),
			"is", w.T("job.leak.is."+l.Is)), l.Limit))
	}
	for _, d := range r.Detectors {
		how := map[string]string{"yes": "yes", "no": "no", "unclear": "open"}[d.Finds]
		lines = append(lines, s.check(how, w.T("job.leak.detector", "setting", s.span(d.Setting, unit.MassRate), "finds", w.T("job.leak.finds."+d.Finds)), d.Setting))
	}
	return []app.UI{
		hero("leak-hero", rate, w.T(lost)),
		app.P().ID("leak-months").Text(months),
		checks("leak-checks", lines...),
	}
}
