package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// unitMemory remembers for each converted text what it was converted from, so
// that switching units there and back gives back what was typed.
type unitMemory map[string]memo

type memo struct {
	text string
	unit unit.Unit
	now  string // the text it was converted to; another means it was edited
}

// setUnit switches the unit of a kind. The numbers follow, because the reading
// does not change; only where the field asks whether this very unit was meant,
// they stay.
func (s *session) setUnit(ctx app.Context, kind unit.Kind, u unit.Unit) {
	old := s.job.Units
	if old.For(kind) == u {
		return
	}
	next := old
	switch kind {
	case unit.GaugePressure:
		next.Pressure = u
		next.InHg = u == unit.PSI
	case unit.Temperature:
		next.Temperature = u
	}
	if s.units == nil {
		s.units = unitMemory{}
	}
	c := converter{s: s, from: old, to: next, kind: kind}
	c.visit("before", &s.job.Before)
	c.visit("after", &s.job.After)
	for id, text := range s.job.Text {
		s.job.Text[id] = c.text(id, "job", text)
	}
	s.job.Units = next
	s.edited(ctx)
	s.syncInputs(ctx)
}

// converter rewrites every text of one kind from one unit to another.
type converter struct {
	s        *session
	from, to unit.Units
	kind     unit.Kind
}

func (c converter) visit(name string, v *job.Visit) {
	for id, text := range v.Text {
		v.Text[id] = c.text(id, name, text)
	}
	for q, r := range v.Readings {
		id := present.FieldID(q)
		r.Text = c.text(id, name, r.Text)
		r.Lo, r.Hi = c.text(id, name+"-lo", r.Lo), c.text(id, name+"-hi", r.Hi)
		v.Readings[q] = r
	}
}

func (c converter) text(id present.FieldID, where, text string) string {
	f, ok := present.FieldOf(id)
	if !ok || f.Kind != c.kind || text == "" {
		return text
	}
	from, to := c.from.For(c.kind), c.to.For(c.kind)
	key := where + "." + string(id)
	m, known := c.s.units[key]
	if known && m.unit == to && m.now == text {
		delete(c.s.units, key)
		return m.text
	}
	e, err := present.Parse(text, f.Kind, from)
	if err != nil || e.Typed || c.meant(text, f, to) {
		return text // not a number, or one that carries its own unit
	}
	now := present.Retype(text, f.Kind, from, to)
	if !known || m.now != text {
		m = memo{text: text, unit: from}
	}
	m.now = now
	c.s.units[key] = m
	return now
}

// meant tells whether the page was asking if the number is in the new unit.
func (c converter) meant(text string, f present.Field, to unit.Unit) bool {
	_, p := present.Read(text, f, c.from)
	if p == nil {
		return false
	}
	for _, sg := range p.Suggest {
		if a, ok := sg.Args["value"].(present.Amount); ok && sg.Code == present.MeantUnit && a.Unit == to {
			return true
		}
	}
	return false
}

// swings tells whether the reading is shown as two ends.
func (s *session) swings(id present.FieldID) bool {
	return isQuantity[id] && s.job.Before.Readings[car.Quantity(id)].Swing
}
