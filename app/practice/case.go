package practice

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/page"
	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// caseCard is what is known for nothing: the driver's words, the two needles,
// the car and its weather.
func (p *view) caseCard() app.UI {
	s, w, c := p.s, p.s.Words, p.desk.Case()
	body := []app.UI{
		app.Div().Class("row spread").Body(
			app.H2().ID("case-title").TabIndex(-1).Text(p.caseTitle()),
			s.GaugeUnits(),
		),
		app.Blockquote().ID("complaint").Class("complaint").Text(w.T("practice.complaint." + string(p.desk.Puzzle.Complaint))),
	}
	if foreign := p.foreignText(p.drill.Edition); foreign != "" {
		body = append(body, app.P().ID("foreign").Class("msg").Role("status").Text(foreign))
	}
	f, err := chart.Gauges(page.ChartReading(c), car.Interval{}, car.Interval{}, s.ChartOptions("needles"))
	if err != nil {
		body = append(body, s.Failed(err))
	} else {
		body = append(body, app.Figure().ID("needles-figure").Body(app.Raw(f.SVG), s.FigureText(f)))
	}
	return app.Section().Class("card stack case").Aria("labelledby", "case-title").Body(append(body, p.facts(c))...)
}

func (p *view) caseTitle() string {
	w, d := p.s.Words, p.drill
	if len(d.Cases) > 1 {
		return w.T("practice.case_of", "n", d.Cases[d.At], "at", d.At+1, "all", len(d.Cases))
	}
	return w.T("practice.case", "n", d.Cases[d.At])
}

// facts lists car, air and engine as a technician would note them.
func (p *view) facts(c car.Case) app.UI {
	w, v := p.s.Words, p.s.Voice()
	row := func(key, text string) app.UI {
		return app.Div().Body(app.Dt().Text(w.T("practice.fact."+key)), app.Dd().ID("fact-"+key).Text(text))
	}
	cabin := w.T("readings.now.recirc_off")
	if c.Running.Recirc {
		cabin = w.T("readings.now.recirc_on")
	}
	blower := w.T("readings.now.blower_full")
	if c.Running.Blower < 1 {
		blower = w.T("readings.now.blower", "value", v.Quantity(c.Running.Blower, unit.Fraction))
	}
	return app.Dl().ID("facts").Class("facts").Body(
		row("outside", v.Quantity(c.Weather.Ambient, unit.Temperature)),
		row("humidity", v.Quantity(c.Weather.Humidity, unit.Fraction)),
		row("altitude", v.Quantity(c.Weather.Altitude, unit.Length)),
		row("engine", p.s.Words.List([]string{v.Quantity(c.Running.RPM, unit.Speed), blower, cabin})),
		row("car", p.s.Words.List(p.carWords(c.Car))),
		row("label", v.Quantity(c.Car.LabelCharge, unit.Mass)),
	)
}

// carWords lists what kind of car it is, as far as it is known.
func (p *view) carWords(c car.Spec) []string {
	var known []string
	add := func(menu, value string) {
		if value != "" {
			known = append(known, p.s.Words.T("readings.choice."+menu+"."+value))
		}
	}
	add("refrigerant", c.Refrigerant)
	add("metering", c.Metering.Code())
	add("compressor", c.Compressor.Code())
	if port := c.HighPort.Code(); port != "" {
		known = append(known, p.s.Words.T("practice.port."+port))
	}
	if c.Evaporators == 2 {
		known = append(known, p.s.Words.T("readings.now.two_evaporators"))
	}
	return known
}
