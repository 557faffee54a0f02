package repair

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/app/repair/sums"
	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/catalogue"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// charge is how much leaves the cylinder, and how much of it is in the car.
func (c *stepCard) charge() []app.UI {
	s := c.s
	x := sums.Of(s.Job, s.Case())
	fields := []app.UI{
		s.Field("job", page.Text{Field: present.LabelCharge, Again: true}, ""),
		s.Field("job", page.TextOf(present.MassIn), ""),
		s.choose("hoses", "hoses", job.Hoses, &s.Job.Repair.Hoses),
	}
	if h := s.Job.Repair.Hoses; h == "liquid" || h == "vapour" {
		fields = append(fields, s.Field("job", page.TextOf(present.HoseLength), ""), s.Field("job", page.TextOf(present.HoseBore), ""))
	}
	return []app.UI{
		c.gasNotes(),
		app.Div().Class("grid2").Body(fields...),
		result(s, "sum-charge", x.Charge(), c.sayCharge),
		result(s, "sum-charged", x.Charged(), c.sayCharged),
	}
}

func (c *stepCard) sayCharge(p service.ChargePlan) []app.UI {
	s, w, v := c.s, c.s.Words, c.s.Voice()
	var lines []app.UI
	if p.InHoses > 0 {
		lines = append(lines, s.computed("in_hoses", w.T("job.charge.in_hoses", "mass", v.Quantity(p.InHoses, unit.Mass))))
	}
	lines = append(lines,
		s.rule(p.Tolerance, unit.Mass),
		s.rule(service.ToleranceArmy, unit.Mass),
		s.rule(p.Ambient, unit.Temperature),
		s.rule(service.ChargeAmbient, unit.Temperature))
	for _, t := range p.Traps {
		kind := unit.Fraction
		if t.Code == "leak_limit_differs" {
			kind = unit.MassRate
		}
		lines = append(lines, s.rule(t, kind))
	}
	return []app.UI{
		hero("charge-hero", v.Quantity(p.Dispense, unit.Mass), w.T("job.charge.dispense")),
		checks("charge-checks", lines...), s.minded(p.Warnings),
	}
}

func (c *stepCard) sayCharged(x service.Charged) []app.UI {
	s, w, v := c.s, c.s.Words, c.s.Voice()
	how := map[service.Standing]string{service.InsideBand: "yes"}[x.Label]
	if how == "" {
		how = "no"
	}
	return []app.UI{
		hero("charged-hero", s.between(x.InCar.Lo, x.InCar.Hi, unit.Mass), w.T("job.charge.in_car")),
		checks("charged-checks", s.check(how, w.T("job.charge."+string(x.Label), "off", v.Quantity(math.Abs(x.Off), unit.Mass)), service.MachineFor(s.Case().Car.Refrigerant).Tolerance)),
	}
}

// prove is the visit after the repair, against what the model expects of a healthy
// car in this weather.
func (c *stepCard) prove() []app.UI {
	s, w := c.s, c.s.Words
	v := s.Voice()
	before := func(id present.FieldID, kind unit.Kind, si float64) string {
		if s.Job.Before.Text[id] == "" {
			text, _ := s.Assumed(id)
			return text
		}
		text, _ := v.Number(si, kind)
		return text
	}
	of := s.Case()
	body := []app.UI{
		app.Div().Class("grid2").Body(
			s.Field("job", page.TextAfter(present.FieldID(car.Low)), ""),
			s.Field("job", page.TextAfter(present.FieldID(car.High)), ""),
			s.Field("job", page.TextAfter(present.FieldID(car.Vent)), ""),
			s.Field("job", page.TextAfter(present.Ambient), s.ambientText()),
			s.Field("job", page.TextAfter(present.Humidity), before(present.Humidity, unit.Fraction, of.Weather.Humidity)),
			s.Field("job", page.TextAfter(present.EngineSpeed), before(present.EngineSpeed, unit.Speed, of.Running.RPM)),
		),
		app.P().Class("hint").Text(w.T("job.prove.assumes")),
		app.Details().ID("prove-log").Body(append([]app.UI{app.Summary().Text(w.T("job.step." + stepWatch + ".name"))}, logbook{s, "after"}.view()...)...),
	}
	a := s.After()
	if a.State == page.Failed {
		return append(body, app.Div().ID("sum-prove").Class("sum tight").Body(
			page.Told(a.Failure)...))
	}
	return append(body,
		result(s, "sum-prove", s.proof(), c.sayProof),
		c.ventFigure(a),
		s.beforeAfter("before-after"))
}

func (c *stepCard) sayProof(p service.Proof) []app.UI {
	s, w, v := c.s, c.s.Words, c.s.Voice()
	var lines []app.UI
	for _, q := range []car.Quantity{car.Low, car.High, car.Vent} {
		standing := map[car.Quantity]service.Standing{car.Low: p.Low, car.High: p.High, car.Vent: p.Vent}[q]
		// One reading outside nine cars in ten is no failure: the three are judged as one.
		how := "open"
		switch {
		case standing == service.InsideBand || q == car.Vent && standing == service.BelowBand:
			how = "yes"
		case slices.Contains(p.Because, "readings") && p.Outcome == service.NotProved:
			how = "no"
		}
		for _, e := range s.After().Report.Evidence {
			if e.Quantity == q {
				lines = append(lines, s.check(how, w.T("job.prove."+string(standing), "quantity", s.Words.QuantityName(q),
					"value", s.Voice().Reading(q, e.Reading), "range", v.Range(e.Expected.Lo, e.Expected.Hi, q.Info().Kind)),
					service.Rule{Code: string(q), Basis: service.Computed}))
			}
		}
	}
	for _, x := range []struct {
		what string
		is   service.Check
	}{{"leak", p.Leak}, {"charge", p.Charge}} {
		if x.is != service.NotAsked {
			how := map[service.Check]string{service.CheckGood: "yes", service.CheckOpen: "open", service.CheckBad: "no"}[x.is]
			lines = append(lines, s.check(how, w.T("job.prove.check."+x.what+"_"+string(x.is)), service.Rule{Code: x.what, Basis: service.Judgement}))
		}
	}
	vent := map[service.Standing]string{service.InsideBand: "yes", service.BelowBand: "yes", service.AboveBand: "no"}[p.Vents.Vent]
	key := "job.prove.published"
	if !p.Vents.Applies {
		vent, key = "open", "job.prove.published_not_here"
	}
	because := make([]string, len(p.Vents.Because))
	for i, b := range p.Vents.Because {
		because[i] = w.T("job.prove.because." + b)
	}
	lines = append(lines, s.check(vent, w.T(key, "range", s.span(p.Vents.Rule, unit.Temperature), "at", v.Quantity(float64(p.Vents.At), unit.Temperature), "because", s.Words.List(because)), p.Vents.Rule))
	return []app.UI{
		hero("prove-hero", w.T("job.outcome."+string(p.Outcome)), ""),
		app.P().ID("prove-says").Text(s.proofSays(p)),
		checks("prove-checks", lines...),
		app.P().Class("hint").Text(w.T("job.prove.as_one")),
	}
}

// ventFigure draws how cold the vent should be across the weather, with the published
// temperatures and their sources.
func (c *stepCard) ventFigure(a *page.Answer) app.UI {
	s, w := c.s, c.s.Words
	if a.State != page.Answered || len(a.Bands) == 0 {
		return nil
	}
	var published []chart.PublishedVent
	var cites []app.UI
	cited := map[string]bool{}
	for _, v := range catalogue.PublishedVents() {
		published = append(published, chart.PublishedVent{Ambient: v.Ambient, Vent: v.Vent})
		if !cited[v.Source] {
			cited[v.Source] = true
			cites = append(cites, app.A().Class("cite").Href(page.Href("/sources")+"#ref-"+v.Source).
				Aria("label", w.T("job.prove.source_of", "n", len(cited))).Text("["+strconv.Itoa(len(cited))+"]"))
		}
	}
	now := chart.VentNow{Ambient: a.Of.Weather.Ambient}
	if r, ok := a.Of.Readings[car.Vent]; ok {
		now.Vent, now.Read = r.Value, true
	}
	f, err := chart.Vent(a.Bands, now, published, s.ChartOptions("vent-figure"))
	if err != nil {
		return s.Failed(err)
	}
	return app.Figure().ID("prove-vent").Body(app.P().Class("caption").Text(w.T("job.prove.vent_target")),
		app.Div().Class("drawn").Body(app.Raw(f.SVG)),
		app.P().Class("small").Body(append([]app.UI{app.Text(w.T("job.prove.vent_sources") + " ")}, cites...)...), s.FigureText(f))
}

// proofSays is what a proof comes to and why, in whole sentences.
func (s *Place) proofSays(p service.Proof) string {
	if p.Outcome == service.Proved {
		return s.Words.T("job.prove.proved")
	}
	var says []string
	if !slices.Contains(p.Because, "readings") {
		says = append(says, s.Words.T("job.prove.readings_good"))
	}
	for _, why := range p.Because {
		says = append(says, s.Words.T("job.prove."+string(p.Outcome)+"."+why))
	}
	return strings.Join(says, " ")
}

// beforeAfter draws the reading before and after the repair on the plane of the
// weather after it; nothing until both are there.
func (s *Place) beforeAfter(id string) app.UI {
	a := s.After()
	if a.State != page.Answered || s.Answer().State != page.Answered {
		return nil
	}
	return s.Drawn(chart.BeforeAfter(a.Plane, page.ChartReading(s.Answer().Of), page.ChartReading(a.Of), s.ChartOptions(id)))
}
