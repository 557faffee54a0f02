package readings

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/claim"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// earlierPanel says what this very car read before, when it was in order, what that makes
// of today's weather, and lets each visit be left out.
type earlierPanel struct {
	app.Compo
	Lang                       string
	Job, Answer, Stored, Years int // revisions of what it shows

	s *Place
}

func (p *earlierPanel) Render() app.UI {
	s, w := p.s, p.s.Words
	visits := s.Earlier()
	if len(visits) == 0 && (s.Job.OfCar == "" || len(s.VisitsOf(s.Job.OfCar)) == 0) {
		return app.Section().ID("earlier").Hidden(true)
	}
	items := []app.UI{app.H2().ID("earlier-title").Text(w.T("readings.earlier.title"))}
	if a := s.Answer(); a.State == page.Answered && a.Report.Memory != nil {
		items = append(items, p.says(&a.Report, &a.Of)...)
	}
	rows := make([]app.UI, len(visits))
	for i, e := range visits {
		rows[i] = p.visit(e)
	}
	if len(rows) == 0 {
		items = append(items, app.P().ID("earlier-none").Class("small").Text(w.T("readings.earlier.none")))
	} else {
		items = append(items, app.Ul().ID("earlier-visits").Class("jobs").Body(rows...))
	}
	if s.Job.OfCar != "" {
		items = append(items, p.yearsPart())
	}
	return app.Section().ID("earlier").Class("card tight").Aria("labelledby", "earlier-title").Body(items...)
}

// says is what the visits make of today.
func (p *earlierPanel) says(r *diagnose.Report, of *car.Case) []app.UI {
	s, w, m := p.s, p.s.Words, r.Memory
	var items []app.UI
	if m.NotTheSame {
		items = append(items, app.Div().ID("earlier-other").Class("msg tight").Body(page.Told(present.Message{What: w.T("readings.earlier.other.what"),
			Why: w.T("readings.earlier.other.why"), Next: w.T("readings.earlier.other.next")})...))
	}
	if text := p.needles(m, of); text != "" {
		items = append(items, app.P().ID("earlier-says").Text(text))
	}
	var lines []app.UI
	for _, q := range m.Readings {
		lines = append(lines, app.Li().DataSet("quantity", string(q.Quantity)).Body(
			app.Span().Class("sign").Aria("hidden", true).Text(placeSigns[q.Place+1]), app.Span().Text(p.line(q))))
	}
	alone := w.T("readings.earlier.alone", "condition", s.Words.InText(m.Alone[0].ID), "chance", w.Chances(claim.Probabilities(m.Alone))[0])
	return append(items,
		app.Ul().ID("earlier-why").Class("why").Body(lines...),
		app.P().ID("earlier-alone").Class("small soft").Text(alone))
}

var placeSigns = [...]string{"↓", "·", "↑"}

// needles is the sentence of both needles, if one visit read both.
func (p *earlierPanel) needles(m *diagnose.Memory, of *car.Case) string {
	var low, high *diagnose.Remembered
	for i := range m.Readings {
		switch q := &m.Readings[i]; q.Quantity {
		case car.Low:
			low = q
		case car.High:
			high = q
		}
	}
	if low == nil || high == nil || low.Visit != high.Visit || !low.Read || !high.Read {
		return ""
	}
	then := &of.Earlier[low.Visit]
	pair := func(write func(si float64) string, low, high float64) string {
		return p.s.Words.T("readings.earlier.pair", "low", write(low), "high", write(high))
	}
	read := func(si float64) string { return p.s.Voice().Typed(si, unit.GaugePressure) }
	computed := func(si float64) string { return p.s.Voice().Quantity(si, unit.GaugePressure) }
	return p.s.Words.T("readings.earlier.says", "ago", p.s.Ago(then.Months),
		"ambient", p.s.Voice().Quantity(then.Weather.Ambient, unit.Temperature),
		"then", pair(read, low.Then, high.Then),
		"would", pair(computed, low.Expected.P50, high.Expected.P50),
		"now", pair(read, low.Now, high.Now))
}

// line says of one quantity what this car would read today in order, and what it reads.
func (p *earlierPanel) line(q diagnose.Remembered) string {
	s := p.s
	kind := q.Quantity.Info().Kind
	key := "readings.earlier.line.unread"
	if q.Read {
		key = "readings.earlier.line." + [...]string{"below", "inside", "above"}[q.Place+1]
	}
	return s.Words.T(key, "quantity", s.Words.QuantityName(q.Quantity),
		"then", s.Voice().Reading(q.Quantity, car.Reading{Value: q.Then}),
		"range", s.Voice().Range(q.Expected.P05, q.Expected.P95, kind),
		"now", s.Voice().Reading(q.Quantity, car.Reading{Value: q.Now}))
}

// visit is one earlier visit, with the tap that leaves it out.
func (p *earlierPanel) visit(e page.Earlier) app.UI {
	s, w := p.s, p.s.Words
	about := s.Ago(e.Is.Months)
	if !e.At.IsZero() {
		about = w.T("readings.earlier.visit", "date", w.Day(e.At.Local()), "ago", about)
	}
	read := app.P().Class("hint").Text(s.VisitRead(e.Units, e.Typed))
	if e.Refused != nil {
		return app.Li().DataSet("visit", e.Name).Body(app.Div().Body(app.Strong().Text(about), read,
			app.P().Class("small").Text(w.T("readings.earlier.refused", "why", s.Refusal(e.Refused)))))
	}
	return app.Li().DataSet("visit", e.Name).Body(
		app.Div().Body(app.Strong().Text(about), read),
		app.Button().Type("button").Class("chip").Attr("aria-pressed", page.Pressed(e.LeftOut)).
			Aria("label", w.T("readings.earlier.leave_label", "visit", about)).Text(w.T("readings.earlier.leave")).
			OnClick(func(app.Context, app.Event) { s.LeaveOut(e.Name, !e.LeftOut) }, app.EventScope(e.Name, e.LeftOut)))
}
