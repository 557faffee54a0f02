package job

import (
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

var languageCode = regexp.MustCompile(`^[a-z]{2,3}(-[A-Za-z0-9]{2,8})?$`)

// clean repairs a job in place. Whatever it holds afterwards could have been
// typed on the page.
func (w *warnings) clean(j *Job) {
	if !goodID(j.ID) {
		j.ID = NewID()
	}
	j.Created, j.Updated = sane(j.Created), sane(j.Updated)
	if j.Updated.Before(j.Created) {
		j.Updated = j.Created
	}
	for _, s := range []*string{&j.Title, &j.Example, &j.Shop, &j.Plate, &j.Odometer, &j.Technician, &j.OfCar} {
		w.line(s, MaxTitle)
	}
	if j.TellIn != "" && !languageCode.MatchString(j.TellIn) {
		j.TellIn = ""
		w.count(WarnCleared, 1)
	}
	var names []string
	for _, name := range j.LeftOut {
		if id, visit, _ := strings.Cut(name, "."); (goodID(id) && (visit == "before" || visit == "after") || id == "past" && len(visit) < 3) && !slices.Contains(names, name) {
			names = append(names, name)
		} else {
			w.count(WarnCleared, 1)
		}
	}
	j.LeftOut = names
	w.past(&j.Past)
	if j.Learnt < 0 {
		j.Learnt = 0
		w.count(WarnCleared, 1)
	}
	if n := len(j.Table) - MostRows; n > 0 {
		j.Table = j.Table[:MostRows]
		w.count(WarnDropped, n)
	}
	for i := range j.Table {
		r := &j.Table[i]
		for _, text := range []*string{&r.Ambient, &r.Low, &r.High, &r.Vent} {
			w.line(text, maxField)
		}
	}
	w.text(&j.Notes)
	w.text(&j.Repair.Work)
	if u := j.Units.Repaired(unit.US()); u != j.Units {
		if j.Units != (unit.Units{}) {
			w.count(WarnCleared, 1)
		}
		j.Units = u
	}
	w.choice(&j.Car.Refrigerant, car.Refrigerants())
	w.choice(&j.Car.Metering, car.Meterings())
	w.choice(&j.Car.Compressor, car.Compressors())
	w.choice(&j.Car.HighPort, car.HighPorts())
	w.choice(&j.Car.Size, car.Sizes())
	w.choice(&j.Car.System, car.Systems())
	if j.Car.Evaporators < 0 || j.Car.Evaporators > 2 {
		j.Car.Evaporators = 0
		w.count(WarnCleared, 1)
	}
	w.fields(&j.Text, Fields)
	w.visit(&j.Before)
	w.visit(&j.After)
	w.repair(&j.Repair)
}

// past keeps what is known of each earlier visit; the model judges its numbers.
func (w *warnings) past(list *[]Past) {
	if n := len(*list) - car.MostEarlier; n > 0 {
		*list = (*list)[:car.MostEarlier]
		w.count(WarnDropped, n)
	}
	for i := range *list {
		p := &(*list)[i]
		w.choice(&p.Refrigerant, car.Refrigerants())
		w.choice(&p.Doors, car.DoorPositions())
		for key := range p.Air {
			if !slices.Contains(pastAir, key) {
				delete(p.Air, key)
				w.count(WarnDropped, 1)
			}
		}
		for q := range p.Readings {
			if !slices.Contains(Quantities, q) {
				delete(p.Readings, q)
				w.count(WarnDropped, 1)
			}
		}
	}
}

func (w *warnings) visit(v *Visit) {
	w.fields(&v.Text, VisitFields)
	w.choice(&v.Doors, car.DoorPositions())
	w.choice(&v.Engine, Engines)
	for q, r := range v.Readings {
		if !slices.Contains(Quantities, q) {
			v.SetReading(q, Reading{})
			w.count(WarnDropped, 1)
			continue
		}
		w.line(&r.Text, maxField)
		w.line(&r.Lo, maxField)
		w.line(&r.Hi, maxField)
		choices := []string{""}
		if q == car.SightGlass {
			choices = append(choices, SightGlassChoices...)
		}
		w.choice(&r.Choice, choices)
		v.SetReading(q, r)
	}
	w.log(&v.Log)
}

func (w *warnings) log(l *Log) {
	l.Start = sane(l.Start)
	for i := range l.Points {
		for _, text := range []*string{&l.Points[i].Time, &l.Points[i].Low, &l.Points[i].High, &l.Points[i].Vent} {
			w.line(text, maxField)
		}
	}
	// Clicks are tapped, never typed: times that go back are none.
	for i, t := range l.Clicks {
		if !(t >= 0 && t <= 86400) || i > 0 && t <= l.Clicks[i-1] {
			l.Clicks = l.Clicks[:i]
			w.count(WarnDropped, 1)
			break
		}
	}
	if len(l.Clicks) == 0 {
		l.Clicks = nil
	}
}

func (w *warnings) repair(r *Repair) {
	w.menuItems(&r.Done, Steps)
	w.menuItems(&r.LeaksFound, Places)
	w.menuItems(&r.Parts, Parts)
	w.choice(&r.Oil, Oils)
	w.choice(&r.Hoses, Hoses)
	w.choice(&r.Retest, Retests)
	causes := []string{""}
	for _, id := range car.Conditions() {
		causes = append(causes, string(id))
	}
	w.choice(&r.Cause, causes)
	r.HoldStart, r.FoundAt = sane(r.HoldStart), sane(r.FoundAt)
	for i := range r.Hold {
		w.line(&r.Hold[i].Time, maxField)
		w.line(&r.Hold[i].Pressure, maxField)
	}
}

// fields keeps the texts of known fields.
func (w *warnings) fields(m *map[present.FieldID]string, ids []present.FieldID) {
	for id, text := range *m {
		if !slices.Contains(ids, id) {
			text = ""
			w.count(WarnDropped, 1)
		}
		w.line(&text, maxField)
		set(m, id, text)
	}
}

func (w *warnings) choice(s *string, list []string) {
	if !slices.Contains(list, *s) {
		*s = ""
		w.count(WarnCleared, 1)
	}
}

// menuItems keeps the items on the menu, each once.
func (w *warnings) menuItems(items *[]string, menu []string) {
	var out []string
	for _, s := range *items {
		if slices.Contains(menu, s) && !slices.Contains(out, s) {
			out = append(out, s)
		} else {
			w.count(WarnCleared, 1)
		}
	}
	*items = out
}

// line makes s one line of at most limit characters without control characters.
func (w *warnings) line(s *string, limit int) {
	*s = strings.Map(func(r rune) rune {
		if r == '\n' || r == '\t' {
			return ' '
		}
		return printable(r)
	}, *s)
	w.cut(s, limit)
}

func (w *warnings) text(s *string) {
	*s = strings.Map(func(r rune) rune {
		if r == '\n' || r == '\t' {
			return r
		}
		return printable(r)
	}, *s)
	w.cut(s, maxText)
}

// printable drops control characters and the invisible marks that turn the
// direction of a text, with which one text can be made to look like another.
func printable(r rune) rune {
	if unicode.IsControl(r) || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 || r == utf8.RuneError {
		return -1
	}
	return r
}

func (w *warnings) cut(s *string, limit int) {
	if utf8.RuneCountInString(*s) <= limit {
		return
	}
	*s = string([]rune(*s)[:limit])
	w.count(WarnShort, 1)
}

// goodID tells whether an id is one that NewID could have made.
func goodID(id string) bool {
	if len(id) != 16 {
		return false
	}
	return strings.Trim(id, "abcdefghijklmnopqrstuvwxyz234567") == ""
}

// sane drops times that no clock of a working device shows.
func sane(t time.Time) time.Time {
	if t.Year() < 2000 || t.Year() > 2200 {
		return time.Time{}
	}
	return t.UTC().Truncate(time.Second)
}
