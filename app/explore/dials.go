package explore

import (
	"math"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/refrig/car"
	"twoneedles/refrig/practice"
	"twoneedles/refrig/unit"
)

// dials are the sliders and the kind of car.
func (p *view) dials() app.UI {
	w := p.s.Words
	var weather, faults []app.UI
	for _, d := range practice.Dials {
		if d.Fault {
			faults = append(faults, p.dial(d))
		} else {
			weather = append(weather, p.dial(d))
		}
	}
	return app.Section().ID("dials").Class("card rig-dials").Aria("label", w.T("explore.dials")).Body(
		app.Div().Class("row spread").Body(
			app.Button().ID("rest").Type("button").Class("btn").Text(w.T("explore.rest")).OnClick(p.toRest),
			app.Button().ID("clear-trail").Type("button").Class("btn quiet").Text(w.T("explore.clear")).OnClick(p.clearTrail),
			app.Button().ID("pin").Type("button").Class("btn quiet").Text(w.T("explore.pin.pin")).OnClick(p.pinThis),
			p.s.GaugeUnits(),
		),
		app.FieldSet().Body(append([]app.UI{app.Legend().Text(w.T("explore.faults"))}, faults...)...),
		app.FieldSet().Body(append([]app.UI{app.Legend().Text(w.T("explore.weather"))}, weather...)...),
		app.FieldSet().Class("kinds").Body(app.Legend().Text(w.T("explore.car")), // Explore always solves one car: no "don't know"
			p.kind("refrigerant", car.Refrigerants()[1:], p.set.Refrigerant, func(s *practice.Settings, v string) { s.Refrigerant = v }),
			p.kind("metering", car.Meterings()[1:], p.set.Metering.Code(), func(s *practice.Settings, v string) { s.Metering, _ = car.MeteringOf(v) }),
			p.kind("compressor", car.Compressors()[1:], p.set.Compressor.Code(), func(s *practice.Settings, v string) { s.Compressor, _ = car.CompressorOf(v) }),
		),
	)
}

// dial is one slider. Its positions are whole steps, so that no rounding of the
// browser's stands between the number shown and the number solved.
func (p *view) dial(d practice.DialRange) app.UI {
	w, id := p.s.Words, "dial-"+string(d.Dial)
	steps := int(math.Round((d.Max - d.Min) / d.Step))
	at := p.set.At[d.Dial]
	text := p.dialText(d.Dial, at)
	return app.Div().Class("dial").Body(
		app.Label().For(id).Text(w.T("explore.dial."+string(d.Dial))),
		app.Output().ID(id+"-value").For(id).Text(text),
		app.Input().ID(id).Type("range").Min(0).Max(steps).Step(1).Value(int(math.Round((at-d.Min)/d.Step))).
			Aria("valuetext", text).
			OnInput(func(ctx app.Context, _ app.Event) {
				p.turn(ctx, p.set.With(d.Dial, d.Min+d.Step*ctx.JSSrc().Get("valueAsNumber").Float()))
			}, app.EventScope(d.Dial)),
	)
}

// dialText says where a dial stands.
func (p *view) dialText(d practice.Dial, x float64) string {
	kind := unit.Fraction
	switch d {
	case practice.Outside:
		kind = unit.Temperature
	case practice.Altitude:
		kind = unit.Length
	case practice.Engine:
		kind = unit.Speed
	case practice.Air:
		if x == 0 {
			return p.s.Words.T("explore.nothing")
		}
		kind = unit.GaugePressure
	case practice.Restriction, practice.Wear:
		if x == 0 {
			return p.s.Words.T("explore.nothing")
		}
	}
	return p.s.Voice().Quantity(x, kind)
}

// kind is a menu of one property of the car. A small list needs no "don't know":
// the student chooses the car.
func (p *view) kind(menu string, values []string, now string, set func(*practice.Settings, string)) app.UI {
	w, id := p.s.Words, "rig-"+menu
	var options []app.UI
	for _, v := range values {
		options = append(options, app.Option().Attr("value", v).Selected(v == now).Text(w.T("readings.choice."+menu+"."+v)))
	}
	return app.Div().Class("field").Body(
		app.Label().For(id).Text(w.T("readings.field."+menu+".name")),
		app.Select().ID(id).Body(options...).OnChange(func(ctx app.Context, _ app.Event) {
			next := p.set
			set(&next, values[ctx.JSSrc().Get("selectedIndex").Int()])
			p.trail = nil // another car: its trail begins here
			p.turn(ctx, next)
		}, app.EventScope(menu)),
	)
}

// toRest is a sound car on a warm day; the kind of car stays.
func (p *view) toRest(ctx app.Context, _ app.Event) {
	next := practice.NewSettings()
	next.Refrigerant, next.Metering, next.Compressor = p.set.Refrigerant, p.set.Metering, p.set.Compressor
	p.turn(ctx, next)
	// A slider that was moved by hand no longer follows its attribute.
	for _, d := range practice.Dials {
		browser.SetValue("dial-"+string(d.Dial), strconv.Itoa(int(math.Round((d.Rest-d.Min)/d.Step))))
	}
}

func (p *view) clearTrail(ctx app.Context, _ app.Event) {
	p.trail = nil
	p.turn(ctx, p.set)
}
