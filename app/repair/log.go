package repair

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// stepWatch is the log of the car as it was found; that after the repair stands in the
// proof. It is a measurement, so nothing ticks it off.
const stepWatch = "watch"

// mostLog is how many lines can be typed.
const mostLog = 40

// logbook is the log of one visit on the page: a clock, lines of readings, the clicks
// of the clutch, what they come to and their picture.
type logbook struct {
	s  *Place
	id string // "before" or "after"
}

func (s *Place) visit(id string) *job.Visit {
	if id == "after" {
		return &s.Job.After
	}
	return &s.Job.Before
}

func (b logbook) log() *job.Log { return &b.s.visit(b.id).Log }

// is returns the id of an element: the log stands on the page twice.
func (b logbook) is(what string) string { return "log-" + b.id + "-" + what }

func (b logbook) line(what string, i int) string { return b.is(what + "-" + strconv.Itoa(i)) }

func (b logbook) runs() bool { return b.s.runs(b.log().Start) }

// since is the time since the start, s, to the hundredth.
func (b logbook) since() float64 {
	return math.Round(100*b.s.now().Sub(b.log().Start).Seconds()) / 100
}

// watch is the step of the log before the repair.
func (c *stepCard) watch() []app.UI { return logbook{c.s, "before"}.view() }

func (b logbook) view() []app.UI {
	s, w, l := b.s, b.s.Words, b.log()
	button := func(what, class, text string, do func()) app.UI {
		return page.Button(b.is(what), class, text, do)
	}
	var out []app.UI
	switch {
	case b.runs():
		click := "job.log.click_in"
		if len(l.Clicks)%2 == 1 {
			click = "job.log.click_out"
		}
		out = append(out,
			&clock{Lang: s.Lang(), ID: b.is("clock"), Start: l.Start, Text: w.T("job.log.counted", "n", len(l.Clicks)), now: s.now, onDue: func() {}},
			app.Div().Class("row").Body(
				button("click", "btn main", w.T(click), b.click), button("read", "btn", w.T("job.clock.read"), b.read),
				button("stop", "btn", w.T("job.clock.stop"), b.stop)),
			app.P().Class("hint").Text(w.T("job.log.how")))
	case l.Empty():
		out = append(out, app.Div().Class("row").Body(button("start", "btn main", w.T("job.log.start"), b.start)))
	default:
		out = append(out, app.Div().Class("row").Body(
			button("take", "btn main", w.T("job.log.take"), b.take), button("clear", "btn", w.T("job.log.clear"), b.clear)))
	}
	if !l.Empty() {
		out = append(out, b.table(), app.Div().ID(b.is("says")).Class("sum tight").Body(b.says()...))
	}
	return out
}

func (b logbook) start() {
	*b.log() = job.Log{Start: b.s.now().UTC().Truncate(time.Second)}
	b.s.Edited()
}

// click notes a click of the clutch. The first is the one that engages it.
func (b logbook) click() {
	l, at := b.log(), b.since()
	if n := len(l.Clicks); n > 0 && at < l.Clicks[n-1]+service.LeastBetweenTaps || n >= mostClicks {
		return
	}
	l.Clicks = append(l.Clicks, at)
	b.s.Edited()
}

// mostClicks is what a job keeps of a list.
const mostClicks = 200

// read notes the time and waits for what the instruments show. Tapped again before
// anything was typed, the later time counts.
func (b logbook) read() {
	l := b.log()
	n := len(l.Points)
	if n == 0 || l.Points[n-1] != (job.LogPoint{Time: l.Points[n-1].Time}) {
		if n == mostLog {
			return
		}
		l.Points = append(l.Points, job.LogPoint{})
		n++
	}
	l.Points[n-1].Time = unit.Minute.Plain(math.Round(b.since()))
	b.s.Edited()
	b.s.SyncInputs()
	b.s.Then(func() { browser.Reveal(b.line("low", n-1)) })
}

func (b logbook) stop() {
	l := b.log()
	l.Start = time.Time{}
	if n := len(l.Points); n > 0 && l.Points[n-1] == (job.LogPoint{Time: l.Points[n-1].Time}) {
		l.Points = l.Points[:n-1]
	}
	b.s.Edited()
	b.s.SyncInputs()
}

func (b logbook) clear() {
	*b.log() = job.Log{}
	b.s.Edited()
}

// logColumns are the fields of a line.
var logColumns = []struct {
	name string
	id   present.FieldID
	of   func(*job.LogPoint) *string
}{
	{"time", present.HoldTime, func(p *job.LogPoint) *string { return &p.Time }},
	{"low", present.FieldID(car.Low), func(p *job.LogPoint) *string { return &p.Low }},
	{"high", present.FieldID(car.High), func(p *job.LogPoint) *string { return &p.High }},
	{"vent", present.FieldID(car.Vent), func(p *job.LogPoint) *string { return &p.Vent }},
}

func (b logbook) table() app.UI {
	s, w, l := b.s, b.s.Words, b.log()
	if len(l.Points) == 0 {
		return app.Div().ID(b.is("table")).Hidden(true)
	}
	_, problems := s.Job.LogReadings(*l)
	head := make([]app.UI, len(logColumns))
	kinds := []unit.Kind{unit.Duration, unit.GaugePressure, unit.GaugePressure, unit.Temperature}
	for i, col := range logColumns {
		head[i] = app.Th().Scope("col").Text(w.T("job.log.column."+col.name, "unit", s.UnitName(kinds[i])))
	}
	var rows []app.UI
	for i := range l.Points {
		cells := make([]app.UI, len(logColumns))
		for k, col := range logColumns {
			own := slices.DeleteFunc(slices.Clone(problems[i]), func(p present.Problem) bool { return p.Field != col.id || p.Level != present.Refused })
			label := w.T("job.log.cell."+col.name, "n", i+1)
			cells[k] = page.Cell(b.line(col.name, i), *col.of(&l.Points[i]), label, b.line("note", i), own, func(text string) {
				if l := b.log(); i < len(l.Points) {
					*col.of(&l.Points[i]) = text
					s.Edited()
				}
			})
		}
		said := slices.DeleteFunc(slices.Clone(problems[i]), func(p present.Problem) bool { return p.Level != present.Refused })
		rows = append(rows, app.Tr().Body(cells...),
			app.Tr().Hidden(len(said) == 0).Body(app.Td().ColSpan(len(logColumns)).Body(s.MessagesOf(b.line("note", i), said, func(_, _ string) {}))))
	}
	return app.Table().ID(b.is("table")).Class("hold log").Body(
		app.Caption().Class("sr").Text(w.T("job.step."+stepWatch+".name")),
		app.THead().Body(app.Tr().Body(head...)), app.TBody().Body(rows...))
}

// says is what the log comes to: the clutch, the vent, the pictures.
func (b logbook) says() []app.UI {
	s, w, v, l := b.s, b.s.Words, b.s.Voice(), b.log()
	var lines, out []app.UI
	if c, err := service.ClutchOf(l.Clicks); err == nil {
		lines = append(lines, s.computed("clutch", w.T("job.log.clutch", "rate", s.estimate(c.Rate, unit.Rate), "n", c.Cycles,
			"on", v.Quantity(math.Round(c.On), unit.Duration), "off", v.Quantity(math.Round(c.Off), unit.Duration),
			"share", v.Quantity(c.Share, unit.Fraction))))
	} else if n := len(l.Clicks); n > 0 {
		lines = append(lines, s.computed("clutch", w.T("job.log.clutch_more", "n", n)))
	}
	var on [][2]float64
	for i := 0; i+1 < len(l.Clicks); i += 2 {
		on = append(on, [2]float64{l.Clicks[i] / 60, l.Clicks[i+1] / 60})
	}
	series := b.series()
	if vent := series[car.Vent]; len(vent) > 1 {
		var t, k []float64
		for _, p := range vent {
			t, k = append(t, 60*p.Minutes), append(k, p.Value)
		}
		if p, err := service.PullDownOf(t, k); err == nil {
			key := "job.log.vent_moving"
			if p.Settled {
				key = "job.log.vent_settled"
			}
			lines = append(lines, s.computed("pull_down", w.T(key, "from", s.Voice().Reading(car.Vent, car.Reading{Value: p.From}), "to", s.Voice().Reading(car.Vent, car.Reading{Value: p.To}),
				"time", v.Quantity(60*p.Minutes, unit.Duration))))
		}
	}
	if len(lines) == 0 && len(series) == 0 {
		return []app.UI{app.P().Text(w.T("job.log.nothing"))}
	}
	out = append(out, checks(b.is("checks"), lines...))
	for _, of := range [][]car.Quantity{{car.Low, car.High}, {car.Vent}} {
		part := chart.Log{Lines: map[car.Quantity][]chart.LogPoint{}, On: on}
		for _, q := range of {
			if len(series[q]) > 0 {
				part.Lines[q] = series[q]
			}
		}
		if len(part.Lines) == 0 {
			continue
		}
		f, err := chart.Over(part, s.ChartOptions(b.is(string(of[0])+"-figure")))
		if err != nil {
			continue // times that go back are said in the table's own words
		}
		out = append(out, s.Drawn(f, nil))
	}
	return out
}

// series are the readings of the log by quantity, SI over minutes.
func (b logbook) series() map[car.Quantity][]chart.LogPoint {
	lines, _ := b.s.Job.LogReadings(*b.log())
	out := map[car.Quantity][]chart.LogPoint{}
	for _, line := range lines {
		for q, si := range line.Is {
			out[q] = append(out[q], chart.LogPoint{Minutes: line.Time / 60, Value: si})
		}
	}
	return out
}

// leastSwing is how many readings of a cycling car show how far a needle swings.
const leastSwing = 3

// take puts what the log shows into the readings of its visit, and so into the answer:
// the rate of the clutch; a needle of a cycling car as the swing it was seen to make,
// of a steady one as it was read last; the vent as it was read last.
func (b logbook) take() {
	s, l := b.s, b.log()
	visit := s.visit(b.id)
	c, err := service.ClutchOf(l.Clicks)
	cycles := err == nil
	if cycles {
		visit.SetReading(car.Cycling, job.Reading{Text: fmt.Sprint(math.Round(10*c.Rate.Value) / 10)})
	}
	for q, points := range b.series() {
		u := s.Job.Units.For(q.Info().Kind)
		last := u.Plain(points[len(points)-1].Value)
		r := job.Reading{Text: last}
		if cycles { // until the clutch first let go the needles were on their way from rest
			points = slices.DeleteFunc(points, func(p chart.LogPoint) bool { return 60*p.Minutes < l.Clicks[1] })
		}
		if cycles && q != car.Vent && len(points) >= leastSwing {
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, p := range points {
				lo, hi = min(lo, p.Value), max(hi, p.Value)
			}
			r = job.Reading{Swing: true, Lo: u.Plain(lo), Hi: u.Plain(hi)}
		}
		visit.SetReading(q, r)
	}
	s.Edited()
	s.SyncInputs()
}
