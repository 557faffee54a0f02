package readings

import (
	"slices"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// settings is what airSettings and carSettings show, for go-app to compare.
type settings struct {
	Car      job.Car
	OfCar    string
	Table    []job.TableRow
	Maker    string    // what the table says
	Now      [2]string // the lines of air and car
	Units    unit.Units
	Recirc   bool
	Doors    string
	Text     map[present.FieldID][2]string // typed, and taken while nothing is
	Problems map[present.FieldID][]present.Problem
}

// settingFields are the texts among the settings.
var settingFields = []present.FieldID{present.Humidity, present.Altitude, present.EngineSpeed, present.Blower,
	present.LabelCharge, present.ServiceLow, present.ServiceHigh}

func (s *Place) settings() settings {
	of := settings{Car: s.Job.Car, OfCar: s.Job.OfCar, Table: slices.Clone(s.Table()), Maker: s.makerSays(),
		Now: [2]string{s.airLine(), s.carLine()}, Units: s.Job.Units, Recirc: s.Job.Before.Recirc, Doors: s.Job.Before.Doors,
		Text: map[present.FieldID][2]string{}, Problems: map[present.FieldID][]present.Problem{}}
	for _, id := range settingFields {
		of.Text[id] = [2]string{s.Typed(page.TextOf(id)), s.assumedText(id)}
		of.Problems[id] = s.Problems(page.TextOf(id))
	}
	return of
}

// settingsPanel is what is known or assumed of the air, the engine and the car.
type settingsPanel struct {
	app.Compo
	Lang string
	Job  int // revision of what it shows

	s *Place
}

func (p *settingsPanel) Render() app.UI {
	s := p.s
	return app.Section().Class("card assumed").Aria("label", s.Words.T("readings.settings")).Body(
		page.Memo(s.Lang(), s.settings(), func() app.UI { return app.Div().Body(s.airSettings(), s.carSettings()) }))
}

// airSettings shows what is assumed about the air and the engine in one line,
// and lets it be changed.
func (s *Place) airSettings() app.UI {
	w := s.Words
	now := "off"
	if s.Job.Before.Recirc {
		now = "on"
	}
	return app.Details().ID("air").Class("settings").Body(
		app.Summary().Body(app.Span().Text(w.T("readings.air")), app.Span().Class("now").Text(s.airLine())),
		app.Div().Class("settings-list").Body(
			s.Field("readings", page.TextOf(present.Humidity), s.assumedText(present.Humidity)),
			s.Field("readings", page.TextOf(present.Altitude), s.assumedText(present.Altitude)),
			s.Field("readings", page.TextOf(present.EngineSpeed), s.assumedText(present.EngineSpeed)),
			s.Field("readings", page.TextOf(present.Blower), s.assumedText(present.Blower)),
			s.menu("recirc", []string{"off", "on"}, now, func(v string) { s.Job.Before.Recirc = v == "on" }),
			s.choice("doors", car.DoorPositions(), &s.Job.Before.Doors),
		),
	)
}

// airLine lists air and engine as the case has them: what was typed first, what
// is assumed after it and said to be so.
func (s *Place) airLine() string {
	w, v, c := s.Words, s.Voice(), s.Case()
	recirc := w.T("readings.now.recirc_off")
	if c.Running.Recirc {
		recirc = w.T("readings.now.recirc_on")
	}
	known := []string{recirc}
	if d := s.Job.Before.Doors; d != "" {
		known = append(known, w.T("readings.now.doors_"+d))
	}
	var assumed []string
	put := func(id present.FieldID, text string) {
		if _, ok := s.Assumed(id); ok {
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
		return s.Words.List(known)
	}
	line := w.T("readings.assuming", "list", s.Words.List(assumed))
	if len(known) > 1 {
		return w.T("readings.known_and_assumed", "known", s.Words.List(known), "assumed", line)
	}
	return line
}

func (s *Place) assumedText(id present.FieldID) string {
	text, _ := s.Assumed(id)
	return text
}

// carSettings shows what is known of the car; "don't know" is a choice.
func (s *Place) carSettings() app.UI {
	w := s.Words
	known := &s.Job.Car
	evaporators := func(v string) { known.Evaporators, _ = strconv.Atoi(v) } // "" is "don't know", which is 0
	return app.Details().ID("car").Class("settings").Body(
		app.Summary().Body(app.Span().Text(w.T("readings.car")), app.Span().Class("now").Text(s.carLine())),
		app.Div().Class("settings-list").Body(
			s.choice("refrigerant", car.Refrigerants(), &known.Refrigerant),
			s.choice("metering", car.Meterings(), &known.Metering),
			s.choice("compressor", car.Compressors(), &known.Compressor),
			s.choice("high_port", car.HighPorts(), &known.HighPort),
			s.menu("evaporators", evaporatorCounts, evaporatorCounts[min(max(known.Evaporators, 0), 2)], evaporators),
			s.choice("size", car.Sizes(), &known.Size),
			s.choice("system", car.Systems(), &known.System),
			s.Field("readings", page.TextOf(present.LabelCharge), "–"),
			s.Field("readings", page.TextOf(present.ServiceLow), "–"),
			s.Field("readings", page.TextOf(present.ServiceHigh), "–"),
			s.makerTable(),
			app.Div().Class("field").Body(app.Label().For("car-name").Text(w.T("jobs.car.name")),
				app.Div().Class("entry plain").Body(app.Input().ID("car-name").Type("text").AutoComplete(false).MaxLength(job.MaxTitle).Value(s.Job.OfCar).
					OnInput(page.Typing(func(text string) { s.Job.OfCar = text; s.Edited() }))),
				app.P().Class("hint").Text(w.T("jobs.car.how"))),
		),
	)
}

var evaporatorCounts = []string{"", "1", "2"}

// carLine lists what is known of the car.
func (s *Place) carLine() string {
	w, car := s.Words, s.Job.Car
	var known []string
	for _, c := range []struct{ name, value string }{
		{"refrigerant", car.Refrigerant}, {"metering", car.Metering}, {"compressor", car.Compressor}, {"size", car.Size}, {"system", car.System},
	} {
		if c.value != "" {
			known = append(known, w.T("readings.choice."+c.name+"."+c.value))
		}
	}
	if car.Evaporators == 2 {
		known = append(known, w.T("readings.now.two_evaporators"))
	}
	if s.Case().Car.LabelCharge > 0 {
		known = append(known, s.Voice().Quantity(s.Case().Car.LabelCharge, unit.Mass))
	}
	if len(known) == 0 {
		return w.T("readings.now.car_unknown")
	}
	return s.Words.List(known)
}

// menu is a labelled choice; "" is "don't know". Words are
// readings.choice.<name>.<value>.
func (s *Place) menu(name string, shown []string, now string, set func(string)) app.UI {
	w := s.Words
	text := func(v string) string {
		switch {
		case v != "":
			return w.T("readings.choice." + name + "." + v)
		case name == "system":
			return w.T("readings.choice.system.usual")
		}
		return w.T("readings.choice.unknown")
	}
	return app.Div().Class("field").Body(
		app.Label().For(name).Text(w.T("readings.field."+name+".name")),
		page.Menu(name, shown, now, text, func(v string) { set(v); s.Edited() }),
		app.P().Class("hint").Text(w.T("readings.field."+name+".how")),
	)
}

// choice is the menu of a text of the job.
func (s *Place) choice(name string, shown []string, at *string) app.UI {
	return s.menu(name, shown, *at, func(v string) { *at = v })
}
