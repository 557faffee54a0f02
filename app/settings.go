package app

import (
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/unit"
)

// settings is what airSettings and carSettings show, for go-app to compare.
type settings struct {
	Car      job.Car
	Units    unit.Units
	Recirc   bool
	Doors    string
	Text     map[present.FieldID]string
	Problems map[present.FieldID][]present.Problem
}

// settingFields are the texts among the settings.
var settingFields = []present.FieldID{present.Humidity, present.Altitude, present.EngineSpeed, present.Blower,
	present.LabelCharge, present.ServiceLow, present.ServiceHigh}

func (s *session) settings() settings {
	of := settings{Car: s.job.Car, Units: s.job.Units, Recirc: s.job.Before.Recirc, Doors: s.job.Before.Doors,
		Text: map[present.FieldID]string{}, Problems: map[present.FieldID][]present.Problem{}}
	for _, id := range settingFields {
		of.Text[id] = s.text(input{id, ""})
		of.Problems[id] = s.problems[id]
	}
	return of
}

// airSettings shows what is assumed about the air and the engine in one line,
// and lets it be changed.
func (s *session) airSettings() app.UI {
	w := s.words
	recirc := func(ctx app.Context, v string) {
		s.job.Before.Recirc = v == "on"
		s.edited(ctx)
	}
	now := "off"
	if s.job.Before.Recirc {
		now = "on"
	}
	return app.Details().ID("air").Class("settings").Body(
		app.Summary().Body(app.Span().Text(w.T("readings.air")), app.Span().Class("now").Text(s.airLine())),
		app.Div().Class("settings-list").Body(
			s.field(present.Humidity, s.assumedText(present.Humidity)),
			s.field(present.Altitude, s.assumedText(present.Altitude)),
			s.field(present.EngineSpeed, s.assumedText(present.EngineSpeed)),
			s.field(present.Blower, s.assumedText(present.Blower)),
			s.menu("recirc", []string{"off", "on"}, now, recirc),
			s.menu("doors", job.Doors, s.job.Before.Doors, func(ctx app.Context, v string) {
				s.job.Before.Doors = v
				s.edited(ctx)
			}),
		),
	)
}

// airLine lists air and engine as the case has them: what was typed first, what
// is assumed after it and said to be so.
func (s *session) airLine() string {
	w, v, c := s.words, s.voice(), s.current
	recirc := w.T("readings.now.recirc_off")
	if c.Running.Recirc {
		recirc = w.T("readings.now.recirc_on")
	}
	known := []string{recirc}
	if d := s.job.Before.Doors; d != "" {
		known = append(known, w.T("readings.now.doors_"+d))
	}
	var assumed []string
	put := func(id present.FieldID, text string) {
		if s.assumed(id) {
			assumed = append(assumed, text)
		} else {
			known = append(known, text)
		}
	}
	put(present.Humidity, w.T("readings.now.humidity", "value", v.Quantity(c.Weather.Humidity, unit.Fraction)))
	altitude := w.T("readings.now.sea_level")
	if c.Weather.Altitude != 0 {
		altitude = w.T("readings.now.altitude", "value", v.Quantity(c.Weather.Altitude, unit.Length))
	}
	put(present.Altitude, altitude)
	put(present.EngineSpeed, w.T("readings.now.rpm", "value", v.Quantity(c.Running.RPM, unit.Speed)))
	blower := w.T("readings.now.blower_full")
	if c.Running.Blower < 1 {
		blower = w.T("readings.now.blower", "value", v.Quantity(c.Running.Blower, unit.Fraction))
	}
	put(present.Blower, blower)
	if len(assumed) == 0 {
		return s.list(known)
	}
	line := w.T("readings.assuming", "list", s.list(assumed))
	if len(known) > 1 {
		return w.T("readings.known_and_assumed", "known", s.list(known), "assumed", line)
	}
	return line
}

func (s *session) list(items []string) string {
	return strings.Join(items, s.words.T("readings.sep"))
}

func (s *session) assumed(id present.FieldID) bool {
	for _, p := range s.problems[id] {
		if p.Level == present.Assumed {
			return true
		}
	}
	return false
}

// assumedText is the placeholder of an empty field that has a default.
func (s *session) assumedText(id present.FieldID) string {
	for _, p := range s.problems[id] {
		if a, ok := p.Args["value"].(present.Amount); ok && p.Level == present.Assumed {
			num, _ := s.voice().Number(a.Value, a.Kind)
			return num
		}
	}
	return ""
}

// carSettings shows what is known of the car; "don't know" is a choice.
func (s *session) carSettings() app.UI {
	w := s.words
	car := &s.job.Car
	choose := func(field *string) func(app.Context, string) {
		return func(ctx app.Context, v string) {
			*field = v
			s.edited(ctx)
		}
	}
	evaporators := func(ctx app.Context, v string) {
		car.Evaporators, _ = strconv.Atoi(v) // "" is "don't know", which is 0
		s.edited(ctx)
	}
	return app.Details().ID("car").Class("settings").Body(
		app.Summary().Body(app.Span().Text(w.T("readings.car")), app.Span().Class("now").Text(s.carLine())),
		app.Div().Class("settings-list").Body(
			s.menu("refrigerant", job.Refrigerants, car.Refrigerant, choose(&car.Refrigerant)),
			s.menu("metering", job.Meterings, car.Metering, choose(&car.Metering)),
			s.menu("compressor", job.Compressors, car.Compressor, choose(&car.Compressor)),
			s.menu("high_port", job.HighPorts, car.HighPort, choose(&car.HighPort)),
			s.menu("evaporators", evaporatorCounts, evaporatorCounts[min(max(car.Evaporators, 0), 2)], evaporators),
			s.menu("size", job.Sizes, car.Size, choose(&car.Size)),
			s.field(present.LabelCharge, "–"),
			s.field(present.ServiceLow, "–"),
			s.field(present.ServiceHigh, "–"),
		),
	)
}

var evaporatorCounts = []string{"", "1", "2"}

// carLine lists what is known of the car.
func (s *session) carLine() string {
	w, car := s.words, s.job.Car
	var known []string
	for _, c := range []struct{ name, value string }{
		{"refrigerant", car.Refrigerant}, {"metering", car.Metering}, {"compressor", car.Compressor}, {"size", car.Size},
	} {
		if c.value != "" {
			known = append(known, w.T("readings.choice."+c.name+"."+c.value))
		}
	}
	if car.Evaporators == 2 {
		known = append(known, w.T("readings.now.two_evaporators"))
	}
	if s.current.Car.LabelCharge > 0 {
		known = append(known, s.voice().Quantity(s.current.Car.LabelCharge, unit.Mass))
	}
	if len(known) == 0 {
		return w.T("readings.now.car_unknown")
	}
	return s.list(known)
}
