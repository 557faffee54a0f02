package readings

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// The maker's table of this car: typed once, kept with the car, drawn through for today.

// makerTable is where it is typed. There is always an empty line at the end, so that the
// next one needs no button.
func (s *Place) makerTable() app.UI {
	w := s.Words
	table := s.Table()
	var rows []app.UI
	for i := range min(len(table)+1, job.MostRows) {
		var r job.TableRow
		if i < len(table) {
			r = table[i]
		}
		cell := func(what, text string, put func(*job.TableRow, string)) app.UI {
			label := w.T("readings.maker."+what+"_of", "n", i+1)
			return page.Cell("maker-"+what+"-"+strconv.Itoa(i), text, label, "maker-says", nil, func(text string) {
				s.PutTable(i, func(r *job.TableRow) { put(r, text) })
			})
		}
		rows = append(rows, app.Tr().Body(
			cell("ambient", r.Ambient, func(r *job.TableRow, t string) { r.Ambient = t }),
			cell("low", r.Low, func(r *job.TableRow, t string) { r.Low = t }),
			cell("high", r.High, func(r *job.TableRow, t string) { r.High = t }),
			cell("vent", r.Vent, func(r *job.TableRow, t string) { r.Vent = t })))
	}
	head := func(what string, k unit.Kind) app.UI {
		return app.Th().Scope("col").Text(w.T("readings.maker."+what, "unit", s.UnitName(k)))
	}
	return app.Details().ID("maker").Body(
		app.Summary().Text(w.T("readings.maker.title")),
		app.P().Class("hint").Text(w.T("readings.maker.how")),
		app.Div().Class("scroll").Body(app.Table().Class("hold").Body(
			app.Caption().Class("sr").Text(w.T("readings.maker.title")),
			app.THead().Body(app.Tr().Body(head("ambient", unit.Temperature), head("low", unit.GaugePressure), head("high", unit.GaugePressure), head("vent", unit.Temperature))),
			app.TBody().Body(rows...))),
		app.P().ID("maker-says").Class("small").Role("status").Text(s.makerSays()),
	)
}

// makerSays is what the table says for today, or why it says nothing.
func (s *Place) makerSays() string {
	w := s.Words
	rows, err := s.MakerTable()
	switch {
	case err != nil:
		return s.Voice().Error(err).Sentences()
	case len(rows) == 0:
		return ""
	case s.Case().Weather.Ambient == 0:
		return w.T("readings.maker.no_weather")
	}
	row, beyond, err := job.MakerAt(rows, s.Case().Weather.Ambient)
	if err != nil {
		return s.Voice().Error(err).Sentences()
	}
	var parts []string
	for _, p := range []struct {
		q  car.Quantity
		is car.Interval
	}{{car.Low, row.Low}, {car.High, row.High}, {car.Vent, row.Vent}} {
		if p.is != (car.Interval{}) {
			parts = append(parts, w.T("readings.maker.part", "quantity", s.Words.QuantityName(p.q), "range", s.Voice().Range(p.is.Lo, p.is.Hi, p.q.Info().Kind)))
		}
	}
	says := w.T("readings.maker.says", "ambient", s.Voice().Quantity(row.Ambient, unit.Temperature), "list", s.Words.List(parts))
	if beyond > 0 {
		says = w.T("readings.two_sentences", "first", says, "second", w.T("readings.maker.beyond", "by", s.Voice().Quantity(beyond, unit.TempDiff)))
	}
	return says
}

// makerRanges are the lines of the table as marks across the weather.
func (s *Place) makerRanges() []chart.PublishedRange {
	rows, err := s.MakerTable()
	if err != nil {
		return nil
	}
	var out []chart.PublishedRange
	for _, r := range rows {
		out = append(out, chart.PublishedRange{Ambient: r.Ambient, Source: s.Words.T("readings.weather.own_table"),
			Low: r.Low, High: r.High})
	}
	return out
}
