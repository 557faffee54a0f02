package repair

import (
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/app/repair/sums"
	"twoneedles/refrig/car"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// recover is what came out, against the label. The mass is the reading of the same
// name, so that it weighs in the answer of the Readings place too.
func (c *stepCard) recover() []app.UI {
	s, w := c.s, c.s.Words
	return []app.UI{
		c.gasNotes(),
		app.Div().Class("grid2").Body(
			s.Field("job", page.TextOf(present.LabelCharge), ""),
			s.Field("job", page.TextOf(present.FieldID(car.Recovered)), ""),
			s.Field("job", page.TextOf(present.OutTemp), s.ambientText()),
			s.Field("job", page.TextOf(present.OilOut), ""),
		),
		result(s, "sum-recover", sums.Of(s.Job, s.Case()).Recovery(), c.sayRecovery),
		app.Div().ID("answer-now").Class("answer-now tight").Body(
			app.H3().Text(w.T("job.answer_now")), app.P().Text(s.jobAnswer()),
			app.A().Class("way").Href(page.Href("/")).Text(w.T("job.to_readings"))),
	}
}

// gasNotes is what the refrigerant asks of the work at this step.
func (c *stepCard) gasNotes() app.UI {
	s := c.s
	var lines []app.UI
	for _, n := range service.GasNotes(service.Step(c.Code), s.Case().Car) {
		lines = append(lines, s.note(n.Code, s.Words.T("job.gas_note."+n.Code), n.Basis, n.Ref))
	}
	return checks("gas-"+c.Code, lines...)
}

func (c *stepCard) sayRecovery(r service.Recovery) []app.UI {
	s, w, v := c.s, c.s.Words, c.s.Voice()
	key := "job.recovered.short_of"
	lo, hi := r.Missing.Lo, r.Missing.Hi
	switch {
	case r.Missing.Hi <= 0:
		key, lo, hi = "job.recovered.too_much", -r.Missing.Hi, -r.Missing.Lo
	case r.Missing.Lo < 0:
		key, lo = "job.recovered.about_right", 0
	}
	machine := service.MachineFor(s.Case().Car.Refrigerant)
	display := machine.Display
	lines := []app.UI{
		s.computed("charge", w.T("job.recovered.charge", "mass", s.estimate(r.Charge, unit.Mass))),
		s.rule(display, unit.Mass),
		s.check("fact", w.T("job.rule."+r.Residual.Code, "span", v.Quantity(r.Residual.Lo, unit.Fraction)), r.Residual),
	}
	if r.OilToReturn.Value > 0 {
		lines = append(lines, s.note("oil_to_return", w.T("job.recovered.oil", "oil", s.estimate(r.OilToReturn, unit.Volume)), service.Published, "CFR82"),
			s.rule(machine.Oil, unit.Volume))
	}
	return []app.UI{
		hero("recover-hero", s.between(r.Fraction.Lo, r.Fraction.Hi, unit.Fraction), w.T("job.recovered.of_label")),
		app.P().ID("recover-missing").Text(w.T(key, "mass", s.between(lo, hi, unit.Mass))),
		checks("recover-checks", lines...),
		s.minded(r.Warnings),
	}
}

// between is a range, or one value where both ends read the same.
func (s *Place) between(lo, hi float64, k unit.Kind) string {
	v := s.Voice()
	if a := v.Quantity(lo, k); a == v.Quantity(hi, k) {
		return a
	}
	return v.Range(lo, hi, k)
}

// repair is what was found and done, and the oil it takes.
func (c *stepCard) repair() []app.UI {
	s, w := c.s, c.s.Words
	r := &s.Job.Repair
	x := sums.Of(s.Job, s.Case())
	body := []app.UI{
		app.Div().Class("grid2").Body(s.choose("cause", "condition", causes(), &r.Cause)),
		app.H3().Text(w.T("job.parts.title")),
		s.chips("part", &r.Parts, job.Parts),
		app.Div().Class("row chips").Body(
			app.If(len(x.Parts()) == 0, func() app.UI { // a part of it opens the circuit by itself
				return page.Chip("opened", w.T("job.opened"), r.Opened, func() { r.Opened = !r.Opened; s.Edited() })
			}),
			app.If(slices.Contains(r.Parts, string(service.Compressor)), func() app.UI {
				return page.Chip("broken", w.T("job.broken"), r.Broken, func() { r.Broken = !r.Broken; s.Edited() })
			}),
			page.Chip("sudden", w.T("job.sudden"), r.SuddenLeak, func() { r.SuddenLeak = !r.SuddenLeak; s.Edited() }),
			page.Chip("flushed", w.T("job.flushed"), r.Flushed, func() { r.Flushed = !r.Flushed; s.Edited() }),
		),
		c.repairNotes(x),
		app.H3().Text(w.T("job.oil.title")),
		app.Div().Class("grid2").Body(c.oilFields()...),
		result(s, "sum-oil", x.Oil(), c.sayOil),
	}
	if s.Job.Car.Refrigerant == car.R12 {
		body = append(body,
			app.H3().Text(w.T("job.retrofit.title")),
			app.Div().Class("grid2").Body(s.Field("job", page.TextOf(present.R12Charge), "")),
			result(s, "sum-retrofit", x.Retrofit(), c.sayRetrofit))
	}
	return append(body,
		app.Label().Class("label").For("work").Text(w.T("job.work.name")),
		app.P().Class("hint").Text(w.T("job.work.how")),
		s.area("work", &r.Work, 4, maxWork))
}

// maxWork is how much is typed for the customer: their page is one sheet.
const maxWork = 600

// causes are the conditions a technician can settle on, after "not settled".
func causes() []string {
	out := []string{""}
	for _, id := range car.Conditions() {
		out = append(out, string(id))
	}
	return out
}

func (c *stepCard) repairNotes(x *sums.Sums) app.UI {
	s, w := c.s, c.s.Words
	notes := x.Notes()
	items := make([]app.UI, len(notes))
	for i, n := range notes {
		items[i] = s.note(n.Code, w.T("job.repair_note."+n.Code), n.Basis, n.Ref)
	}
	return app.Div().ID("repair-notes").Class("tight").Body(
		app.If(len(items) > 0, func() app.UI { return app.H3().Text(w.T("job.parts.mind")) }),
		checks("repair-note-list", items...))
}

// oilFields are as many as the parts ask for, the constant ones first.
func (c *stepCard) oilFields() []app.UI {
	s := c.s
	fields := []app.UI{
		s.Field("job", page.TextOf(present.LabelOil), ""),
		s.choose("oil", "oil", job.Oils, &s.Job.Repair.Oil),
		s.Field("job", page.TextOf(present.OilIn), ""),
		s.Field("job", page.TextOf(present.DyeIn), ""),
	}
	for _, d := range []struct {
		part string
		id   present.FieldID
	}{{"compressor", present.DrainedCompressor}, {"compressor", present.NewCompressorOil}, {"accumulator", present.DrainedAccumulator}} {
		if slices.Contains(s.Job.Repair.Parts, d.part) {
			fields = append(fields, s.Field("job", page.TextOf(d.id), ""))
		}
	}
	return fields
}

func (c *stepCard) sayOil(p service.OilPlan) []app.UI {
	s, w := c.s, c.s.Words
	of := s.Case().Car
	advice := service.OilFor(of.Compressor, of.Refrigerant)
	var lines []app.UI
	if slices.Contains(s.Job.Repair.Parts, string(service.Compressor)) {
		lines = append(lines, s.rule(service.OilFilling, unit.Volume))
	}
	if k := p.Compressor; k != nil {
		if k.Drain.Hi > 0 {
			lines = append(lines, s.computed("compressor_drain", w.T("job.oil.drain_new", "oil", s.between(k.Drain.Lo, k.Drain.Hi, unit.Volume))))
		}
		keep := "job.oil.keep"
		if s.Job.Repair.Flushed { // whatever the old one gave
			keep = "job.oil.keep_flushed"
		}
		lines = append(lines, s.note("compressor_keep", w.T(keep, "oil", s.between(k.Keep.Lo, k.Keep.Hi, unit.Volume)), service.CommonPractice, ""))
	}
	for _, l := range p.Lines {
		lines = append(lines, s.check("fact", w.T("job.rule."+l.Rule.Code, "span", s.between(l.Add.Lo, l.Add.Hi, unit.Volume),
			"usual", s.Voice().Quantity(l.Add.Value, unit.Volume)), l.Rule))
	}
	lines = append(lines, c.oilPut(p)...)
	how := "fact"
	if used := s.Job.Repair.Oil; used != "" && used != "other" {
		how = map[bool]string{true: "yes", false: "no"}[advice.Suits(oilKinds[used])]
		if how == "yes" && advice.Kind == "ask_label" {
			how = "fact"
		}
	}
	lines = append(lines, s.check(how, w.T("job.oil_kind."+advice.Kind), service.Rule{Code: "oil_kind", Basis: advice.Basis, Ref: advice.Ref}))
	if len(p.Lines) > 0 {
		lines = append(lines, s.note("oil_where", w.T("job.oil.where"), service.CommonPractice, ""))
	}
	lines = append(lines, s.note("no_sealant", w.T("job.oil.no_sealant"), service.CommonPractice, ""))
	var head app.UI = app.P().ID("oil-hero").Text(w.T("job.oil.none"))
	if len(p.Lines) > 0 {
		head = hero("oil-hero", s.between(p.Add.Lo, p.Add.Hi, unit.Volume), w.T("job.oil.to_add"))
	}
	return []app.UI{head, checks("oil-checks", lines...), s.minded(append(p.Warnings, advice.Warnings...))}
}

// oilKinds are the kinds of the oils on the menu.
var oilKinds = map[string]string{"pag46": "pag", "pag100": "pag", "pag150": "pag", "pag_yf": "pag_yf", "poe": "poe", "mineral": "mineral"}

// oilPut holds what was put in, the oil and the dye in it, against what was to be.
func (c *stepCard) oilPut(p service.OilPlan) []app.UI {
	s, w := c.s, c.s.Words
	oil, some, _ := s.Job.Number(present.OilIn)
	dye, dyed, _ := s.Job.Number(present.DyeIn)
	all := oil.Value + dye.Value
	var lines []app.UI
	if some && len(p.Lines) > 0 {
		how, key := "yes", "job.oil.inside"
		if all < p.Add.Lo {
			how, key = "no", "job.oil.below"
		} else if all > p.Add.Hi {
			how, key = "no", "job.oil.above"
		}
		lines = append(lines, s.check(how, w.T(key, "oil", s.Voice().Quantity(all, unit.Volume)), service.Rule{Code: "oil_in", Basis: service.Computed}))
	}
	if dyed && dye.Value > 0 {
		how := "yes"
		if dye.Value > service.DyeDose.Hi {
			how = "no"
		}
		lines = append(lines, s.check(how, w.T("job.rule."+service.DyeDose.Code, "span", s.span(service.DyeDose, unit.Volume)), service.DyeDose))
	}
	return lines
}

func (c *stepCard) sayRetrofit(p service.RetrofitPlan) []app.UI {
	s, w := c.s, c.s.Words
	lines := []app.UI{
		s.rule(p.Rules[0], unit.Fraction),
		s.rule(p.Rules[1], unit.Mass),
	}
	for _, r := range p.HighSide {
		lines = append(lines, s.rule(r, unit.GaugePressure))
	}
	for _, r := range p.Steps {
		lines = append(lines, s.check("fact", w.T("job.retrofit_step."+r.Code), r))
	}
	return []app.UI{
		hero("retrofit-hero", s.between(p.Charge.Lo, p.Charge.Hi, unit.Mass), w.T("job.retrofit.charge")),
		checks("retrofit-checks", lines...),
	}
}
