package page

import (
	"maps"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/unit"
)

// unitMemory remembers for each converted text what it was converted from, so
// that switching units there and back gives back what was typed. A text is named as
// job.Job.Retyped names it.
type unitMemory map[string]typedText

type typedText struct {
	text string
	unit unit.Unit
	now  string // the text it was converted to; another means it was edited
}

// SetUnit switches the unit of a kind. The numbers follow, because the reading
// does not change; only where the field asks whether this very unit was meant,
// they stay.
func (s *Page) SetUnit(kind unit.Kind, u unit.Unit) {
	old := s.Job.Units
	if old.For(kind) == u {
		return
	}
	if s.units == nil {
		s.units = unitMemory{}
	}
	from, to := old, old
	switch kind {
	case unit.GaugePressure:
		to.Pressure, to.InHg = u, u == unit.PSI
	case unit.Temperature:
		to.Temperature = u
	case unit.Mass:
		to.Mass = u
	case unit.Volume:
		to.Volume = u
	case unit.Length:
		to.Length = u
	case unit.AbsolutePressure:
		to.Vacuum = u
	}
	retyped := func(j job.Job, m unitMemory) job.Job {
		return j.Retyped(to, func(name string, f present.Field, text string) string {
			return m.retype(s.Words, name, f, text, from, to)
		})
	}
	if s.Job.Example != "" {
		s.example = retyped(s.example, maps.Clone(s.units))
	}
	s.Job = retyped(s.Job, s.units)
	s.Edited()
	s.SyncInputs()
}

// retype rewrites a text of field f from one choice of units to another.
func (m unitMemory) retype(w *present.Words, name string, f present.Field, text string, from, to unit.Units) string {
	was, now := from.For(f.Kind), to.For(f.Kind)
	if was == now || text == "" {
		return text
	}
	old, known := m[name]
	known = known && old.now == text
	if known && old.unit == now {
		delete(m, name)
		return old.text
	}
	if meant(text, f, from, now) {
		return text
	}
	next := present.Retype(text, f.Kind, was, now)
	if next == text { // it cannot be read, or names its own unit
		return text
	}
	next = w.Point(next)
	if !known {
		old = typedText{text: text, unit: was}
	}
	old.now = next
	m[name] = old
	return next
}

// meant tells whether the page was asking if the number is in the new unit.
func meant(text string, f present.Field, from unit.Units, now unit.Unit) bool {
	_, p := present.Read(text, f, from)
	if p == nil {
		return false
	}
	for _, sg := range p.Suggest {
		if a, ok := sg.Args["value"].(present.Amount); ok && sg.Code == present.MeantUnit && a.Unit == now {
			return true
		}
	}
	return false
}

// UnitSwitch offers the units of a kind; prefix is that of the ids of its buttons.
func (s *Page) UnitSwitch(kind unit.Kind, prefix, label string) app.UI {
	var buttons []app.UI
	for _, u := range unit.Choices(kind) {
		buttons = append(buttons, Button(prefix+string(u), "", s.Words.T("unit."+string(u)), func() { s.SetUnit(kind, u) }).
			Attr("aria-pressed", Pressed(u == s.Job.Units.For(kind))))
	}
	return app.Div().Class("seg").Role("group").Aria("label", label).Body(buttons...)
}

// GaugeUnits switches what is read off the gauges and thermometers; the numbers
// follow, the readings stay.
func (s *Page) GaugeUnits(beside ...app.UI) app.UI {
	w := s.Words
	return app.Div().Class("units").Body(append([]app.UI{
		s.UnitSwitch(unit.GaugePressure, "unit-", w.T("readings.pressure_unit")),
		s.UnitSwitch(unit.Temperature, "unit-", w.T("readings.temperature_unit")),
	}, beside...)...)
}
