package explore

import (
	"encoding/json"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/page"
	"twoneedles/chart"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/practice"
	"twoneedles/refrig/unit"
)

// keyPinned is where the device keeps the setting that is pinned.
const keyPinned = "twoneedles.explore.pinned"

// restorePin takes the pinned state up again. One that is no setting or has no solution is
// none.
func (p *view) restorePin() {
	text, ok, _ := p.store.Get(keyPinned)
	var kept practice.Settings
	if !ok || json.Unmarshal([]byte(text), &kept) != nil {
		return
	}
	set := kept.Sane()
	_ = p.asks.Now(func(*diagnose.Model) error { // an error: nothing is pinned
		r, err := p.rig.Solve(set)
		if err != nil {
			return err
		}
		fluid, err := p.rig.Fluid(set)
		if err == nil {
			p.pin = &practice.State{Set: set, Is: r, Fluid: fluid}
		}
		return err
	})
}

// pinThis holds the state on screen, so that what is turned from here on stands beside it.
func (p *view) pinThis(ctx app.Context, _ app.Event) {
	if !p.solved || p.failed.What != "" { // what is on screen is of another setting
		ctx.PreventUpdate()
		return
	}
	fluid, err := p.rig.Fluid(p.set)
	if err != nil { // the same car was solved
		return
	}
	p.pin, p.trail = &practice.State{Set: p.set, Is: p.state, Fluid: fluid}, nil
	page.KeepJSON(p.store, keyPinned, p.set)
	p.turn(ctx, p.set)
}

func (p *view) unpin(ctx app.Context, _ app.Event) {
	p.pin = nil
	p.store.Remove(keyPinned)
	p.turn(ctx, p.set)
	ctx.Defer(func(app.Context) { browser.Focus("pin") })
}

// pinnedReading is what the gauges showed there, unread where nothing is pinned.
func (p *view) pinnedReading() chart.Reading {
	if p.pin == nil {
		return chart.Reading{}
	}
	return exploreReading(&p.pin.Is)
}

// beside lays the pinned state and the one on screen side by side: what was turned, what
// moved and by how much, and why.
func (p *view) beside() app.UI {
	w := p.s.Words
	if p.pin == nil || !p.solved {
		return app.Div().Hidden(true)
	}
	fluid, err := p.rig.Fluid(p.set)
	if err != nil {
		return app.Div().Hidden(true)
	}
	rows := p.turnedRows()
	said := w.T("explore.pin.same")
	if len(rows) > 0 {
		said = w.T("explore.pin.about")
	}
	var held []string
	for _, c := range practice.Compare(p.pin, &practice.State{Set: p.set, Is: p.state, Fluid: fluid}) {
		if c.Way == 0 {
			held = append(held, w.T("explore.sign."+string(c.Sign)))
		}
		rows = append(rows, app.Tr().DataSet("sign", string(c.Sign)).Body(
			app.Th().Scope("row").Text(w.T("explore.read."+string(c.Sign))),
			app.Td().Class("n").Text(p.signText(c.Sign, c.From)), app.Td().Class("n").Text(p.signText(c.Sign, c.To)),
			app.Td().Class("n").Text(p.differenceText(c))))
		if why := p.whyText(c); why != "" {
			rows = append(rows, app.Tr().Class("reasons").Body(app.Td().ColSpan(4).Class("soft small").Text(why)))
		}
	}
	return app.Section().ID("beside-pin").Class("card tight rig-beside").Aria("labelledby", "beside-pin-title").Body(
		app.H2().ID("beside-pin-title").Text(w.T("explore.pin.title")),
		app.P().Class("small soft").Text(said),
		app.Table().Class("shifts").Body(
			app.Caption().Class("sr").Text(w.T("explore.pin.title")),
			app.THead().Body(app.Tr().Body(
				app.Th().Scope("col").Text(w.T("explore.pin.what")), app.Th().Scope("col").Class("n").Text(w.T("explore.pin.pinned")),
				app.Th().Scope("col").Class("n").Text(w.T("explore.pin.now")), app.Th().Scope("col").Class("n").Text(w.T("explore.pin.difference")))),
			app.TBody().Body(rows...)),
		app.P().Class("small soft").Hidden(len(held) == 0).Text(w.T("explore.held", "list", p.s.Words.List(held))),
		app.Div().Class("row").Body(app.Button().ID("unpin").Type("button").Class("btn quiet").Text(w.T("explore.pin.off")).OnClick(p.unpin)),
	)
}

// turnedRows are what was set otherwise: dials, and the kind of car.
func (p *view) turnedRows() []app.UI {
	w, a, b := p.s.Words, p.pin.Set, p.set
	var rows []app.UI
	row := func(name, was, is string) {
		rows = append(rows, app.Tr().Class("turned").Body(app.Th().Scope("row").Text(name),
			app.Td().Class("n").Text(was), app.Td().Class("n").Text(is), app.Td()))
	}
	for _, d := range practice.Turned(a, b) {
		row(w.T("explore.dial."+string(d)), p.dialText(d, a.At[d]), p.dialText(d, b.At[d]))
	}
	for _, k := range []struct{ menu, was, is string }{
		{"refrigerant", a.Refrigerant, b.Refrigerant},
		{"metering", a.Metering.Code(), b.Metering.Code()},
		{"compressor", a.Compressor.Code(), b.Compressor.Code()},
	} {
		if k.was != k.is {
			row(w.T("readings.field."+k.menu+".name"), w.T("readings.choice."+k.menu+"."+k.was), w.T("readings.choice."+k.menu+"."+k.is))
		}
	}
	return rows
}

// kinds of the signs.
var kinds = map[practice.Sign]unit.Kind{
	practice.LowSide: unit.GaugePressure, practice.HighSide: unit.GaugePressure, practice.VentAir: unit.Temperature,
	practice.Discharge: unit.Temperature, practice.Superheated: unit.TempDiff, practice.Subcooled: unit.TempDiff,
}

// differenceText is the difference of the two numbers as they are written. There is none
// from or to a mixture, which has no superheat or subcooling.
func (p *view) differenceText(c practice.Change) string {
	k := kinds[c.Sign]
	if k == unit.TempDiff && (c.From <= 0 || c.To <= 0) {
		return p.s.Words.T("number.missing")
	}
	return p.s.Voice().Difference(c.From, c.To, k)
}

// whyText says why the model moves a sign, "" where it does not or has no one reason.
func (p *view) whyText(c practice.Change) string {
	w, v := p.s.Words, p.s.Voice()
	key := whyKey(c)
	if key == "" {
		return ""
	}
	var args []any
	switch c.Why {
	case practice.ByGiving, practice.ByPull, practice.ByHeat, practice.ByTaking:
		by := c.Is/c.Was - 1
		args = []any{"by", v.Quantity(max(by, -by), unit.Fraction)}
	case practice.ByOutside, practice.ByCold, practice.ByGasIn:
		args = []any{"was", v.Quantity(c.Was, unit.Temperature), "is", v.Quantity(c.Is, unit.Temperature)}
	case practice.BySurface:
		args = []any{"was", v.Quantity(c.Was, unit.TempDiff), "is", v.Quantity(c.Is, unit.TempDiff)}
	case practice.BySqueeze:
		args = []any{"was", v.Plain(c.Was), "is", v.Plain(c.Is)}
	}
	return w.T(key, args...)
}

// whyKey is the key of a reason, "" for none.
func whyKey(c practice.Change) string {
	switch {
	case c.Why == practice.NoReason:
		return ""
	case c.Why == practice.ByCycling:
		return "explore.pin.why.cycling"
	case c.Way > 0:
		return "explore.pin.why." + string(c.Sign) + "." + string(c.Why) + ".up"
	}
	return "explore.pin.why." + string(c.Sign) + "." + string(c.Why) + ".down"
}
