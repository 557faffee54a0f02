package lookup

import (
	"math"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// The slider goes from −30 to 80 °C, which is −22 to 176 °F: below that no car's
// evaporator works, and above it R-1234yf nears its critical point (94.7 °C
// [Lemmon2022]). What is typed may lie beyond.
const (
	coldest = 243.15 // K
	hottest = 353.15 // K
)

// freezing is where it opens if the job has no low side yet.
const freezing = 273.15 // K

// view is the place. Temperature and pressure are two ways to say one state; what was
// typed last is kept as typed, and the other follows.
type view struct {
	app.Compo
	Lang string
	Job  int // revision of the job, whose units and altitude are used

	s           *page.Page
	begun       bool
	refrigerant string
	table       service.Saturation
	at          float64 // saturation temperature, K; the last one that could be used
	text        map[unit.Kind]string
	problem     map[unit.Kind]present.Message // what could not be read, by the way it was typed
	units       unit.Units
	altitude    float64
	open        bool // the table is unfolded on a phone
}

// View draws the place.
func View(s *page.Page) app.Composer { return &view{Lang: s.Lang(), Job: s.JobRev(), s: s} }

// kinds are the two ways, with the ids of their inputs.
var kinds = []struct {
	kind unit.Kind
	id   string
}{
	{unit.GaugePressure, "saturation-pressure"},
	{unit.Temperature, "saturation-temperature"},
}

// begin opens with the car of the job: its refrigerant, and its low side if there is
// one. Later it follows a change of the job's units or altitude.
func (p *view) begin() {
	c := p.s.Case()
	if p.begun && p.units == p.s.Job.Units && p.altitude == c.Weather.Altitude {
		return
	}
	p.units, p.altitude = p.s.Job.Units, c.Weather.Altitude
	if !p.begun {
		p.begun, p.at, p.refrigerant = true, freezing, c.Car.Refrigerant
		if p.refrigerant == "" {
			p.refrigerant = car.R134a
		}
		p.load()
		if low, ok := c.Readings[car.Low]; ok {
			if T, err := p.table.Temperature(refrig.Gauge(low.Value)); err == nil {
				p.at = float64(T)
			}
		}
		p.write(0)
		return
	}
	p.load()
	p.show(0)
}

// load takes the table of the refrigerant at the job's altitude. A job holds only
// altitudes and refrigerants that there are.
func (p *view) load() {
	if t, err := service.NewSaturation(p.refrigerant, p.altitude); err == nil {
		p.table = t
	}
}

// write says the state in both ways except the one that was typed, 0 for none.
func (p *view) write(typed unit.Kind) {
	if typed == 0 {
		p.text = map[unit.Kind]string{}
	}
	p.problem = map[unit.Kind]present.Message{}
	for _, k := range kinds {
		if k.kind == typed {
			continue
		}
		si := p.at
		if k.kind == unit.GaugePressure {
			g, err := p.table.Gauge(refrig.Temperature(p.at))
			if err != nil {
				p.text[k.kind] = ""
				continue
			}
			si = float64(g)
		}
		u := p.units.For(k.kind) // not inches of mercury below zero: a table has one unit
		p.text[k.kind] = u.Text(u.FromSI(si))
	}
}

// show brings the inputs on screen to the state, except the one that was typed into: a
// browser leaves an input alone that was typed into before.
func (p *view) show(typed unit.Kind) {
	p.write(typed)
	p.s.Then(func() {
		for _, k := range kinds {
			if k.kind != typed {
				browser.SetValue(k.id, p.text[k.kind])
			}
		}
		browser.SetValue("saturation-slider", strconv.Itoa(p.place()))
	})
}

// take reads what was typed.
func (p *view) take(k unit.Kind, text string) {
	p.text[k] = text
	e, err := present.Parse(text, k, p.units.For(k))
	if err == nil {
		T := refrig.Temperature(e.Value)
		if k == unit.GaugePressure {
			T, err = p.table.Temperature(refrig.Gauge(e.Value))
		} else {
			_, err = p.table.Gauge(T)
		}
		if err == nil {
			p.at = float64(T)
			p.show(k)
			return
		}
	}
	p.refuse(k, text, err)
}

// refuse keeps what was typed and empties the other way: a number beside one that is
// not understood would seem to belong to it.
func (p *view) refuse(k unit.Kind, text string, err error) {
	p.problem = map[unit.Kind]present.Message{}
	for _, other := range kinds {
		if other.kind != k {
			p.text[other.kind] = ""
			p.s.Then(func() { browser.SetValue(other.id, "") })
		}
	}
	if text != "" {
		p.problem[k] = p.s.Voice().Error(err)
	}
}

// step is one position of the slider in K.
func (p *view) step() float64 {
	if p.units.Temperature == unit.Fahrenheit {
		return unit.DiffF.Size()
	}
	return 0.5 * unit.DiffC.Size()
}

func (p *view) steps() int { return int(math.Round((hottest - coldest) / p.step())) }

// turn moves by whole steps of the slider, so that its numbers are round.
func (p *view) turn(to int) {
	p.at = coldest + float64(min(max(to, 0), p.steps()))*p.step()
	p.show(0)
}

func (p *view) place() int {
	return min(max(int(math.Round((p.at-coldest)/p.step())), 0), p.steps())
}

func (p *view) Render() app.UI {
	p.begin()
	w := p.s.Words
	return app.Div().Class("saturation stack").Body(
		app.H1().ID("title").TabIndex(-1).Text(w.T("saturation.title")),
		app.Section().ID("saturation").Class("card tight").Aria("label", w.T("saturation.title")).Body(
			p.refrigerants(),
			app.Div().Class("pair").Body(p.number(0), p.number(1)),
			p.said(),
			p.slider(),
			app.P().ID("saturation-at").Class("soft small").Text(w.T("saturation.at", "altitude", p.where())),
			p.s.GaugeUnits(),
		),
		p.card(),
	)
}

// where is the altitude in words.
func (p *view) where() string {
	if p.altitude == 0 {
		return p.s.Words.T("readings.now.sea_level")
	}
	return p.s.Words.T("readings.now.altitude", "value", p.s.Voice().Quantity(p.altitude, unit.Length))
}

// refrigerants are the tables there are; the temperature stays.
func (p *view) refrigerants() app.UI {
	w := p.s.Words
	var buttons []app.UI
	for _, id := range car.Refrigerants()[1:] { // the first is "don't know"
		buttons = append(buttons, page.Button("saturation-"+id, "", w.T("readings.choice.refrigerant."+id), func() { p.choose(id) }).
			Aria("pressed", page.Pressed(id == p.refrigerant)))
	}
	return app.Div().Class("seg wide").Role("group").Aria("label", w.T("readings.field.refrigerant.name")).Body(buttons...)
}

func (p *view) choose(id string) {
	p.refrigerant = id
	p.load()
	p.show(0)
}

// number is one of the two ways, i of kinds.
func (p *view) number(i int) app.UI {
	w, k := p.s.Words, kinds[i]
	_, refused := p.problem[k.kind]
	in := page.BareInput(k.id, "decimal", p.text[k.kind], "saturation-note", nil).Placeholder("–").Aria("label", w.T("saturation."+k.id)).
		OnInput(page.Typing(func(text string) { p.take(k.kind, text) }), app.EventScope(k.id))
	if refused {
		in.Aria("invalid", true).Aria("describedby", "saturation-note")
	}
	return app.Div().Class("gauge plain").Body(
		app.Label().Class("name").For(k.id).Text(w.T("saturation."+k.id)),
		app.Label().Class("big").For(k.id).Body(in, app.Span().Class("unit").Text(p.s.UnitName(k.kind))),
	)
}

// said is why a number was not taken.
func (p *view) said() app.UI {
	for _, m := range p.problem {
		return app.Div().ID("saturation-note").Class("msg").Role("status").Body(page.Told(m)...)
	}
	return app.Div().Hidden(true)
}

// slider is for the thumb that holds the phone, with a step to either side for what a
// thumb is too wide for.
func (p *view) slider() app.UI {
	w := p.s.Words
	step := func(id, sign string, by int) app.UI {
		return page.Button("saturation-"+id, "btn", sign, func() { p.turn(p.place() + by) }).Aria("label", w.T("saturation."+id))
	}
	return app.Div().Class("thumb").Body(
		step("colder", "−", -1),
		app.Input().ID("saturation-slider").Type("range").Min(0).Max(p.steps()).Step(1).Value(p.place()).
			Aria("label", w.T("saturation.slider")).Aria("valuetext", p.s.Voice().Quantity(p.at, unit.Temperature)).
			OnInput(func(ctx app.Context, _ app.Event) { p.turn(int(ctx.JSSrc().Get("valueAsNumber").Float())) }),
		step("warmer", "+", 1),
	)
}
