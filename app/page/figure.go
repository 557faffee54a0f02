package page

import (
	"math"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// ChartOptions are the page's language and units for a picture.
func (s *Page) ChartOptions(id string) chart.Options {
	return chart.Options{
		ID:      id,
		Units:   s.Job.Units,
		Words:   s.Words.T,
		Chances: s.Words.Chances,
	}
}

// FigureText is what every figure has below its picture, folded: the same as a
// sentence and as a table.
func (s *Page) FigureText(f chart.Figure) app.UI {
	return app.Details().ID(f.ID+"-text").Body(
		app.Summary().Class("small soft").Text(s.Words.T("readings.plane.text")),
		app.P().ID(f.ID+"-summary").Class("caption").Text(f.Summary),
		app.Div().ID(f.ID+"-table").Class("scroll").TabIndex(0).Role("group").Aria("label", f.Table.Caption).Body(figureTable(f.Table)),
	)
}

func figureTable(t chart.Table) app.UI {
	head := make([]app.UI, len(t.Head))
	for i, h := range t.Head {
		head[i] = app.Th().Scope("col").Class(numberClass(i)).Text(h)
	}
	rows := make([]app.UI, len(t.Rows))
	for i, r := range t.Rows {
		cells := make([]app.UI, len(r))
		for k, c := range r {
			cells[k] = app.Td().Class(numberClass(k)).Text(c)
		}
		rows[i] = app.Tr().Body(cells...)
	}
	return app.Table().Body(
		app.Caption().Class("sr").Text(t.Caption),
		app.THead().Body(app.Tr().Body(head...)),
		app.TBody().Body(rows...),
	)
}

func numberClass(column int) string {
	if column == 0 {
		return ""
	}
	return "n"
}

// ChanceBar draws a chance as a length. It repeats the words beside it and is
// hidden from readers of the page.
func ChanceBar(p float64) app.UI {
	const ns = "http://www.w3.org/2000/svg"
	bar := func(class string, percent float64) app.UI {
		return app.Elem("rect").XMLNS(ns).Class(class).Attr("width", percent).Attr("height", 2).Attr("rx", .4)
	}
	return app.Elem("svg").XMLNS(ns).Attr("viewBox", "0 0 100 2").Attr("preserveAspectRatio", "none").Aria("hidden", true).Body(
		bar("rail", 100), bar("fill", max(math.Round(p*1000)/10, 0.8)))
}

// gaugeErrors are half-widths of the error of the two gauges in Pa: 1.6 % of a
// span of 10 bar and of 35 bar [EN837].
const (
	lowGaugeError  = 16e3
	highGaugeError = 56e3
)

// ChartReading is the reading of the answered case as the pictures take it.
func ChartReading(c car.Case) chart.Reading {
	var r chart.Reading
	if low, ok := c.Readings[car.Low]; ok {
		r.Low = chart.NeedleOf(low, lowGaugeError)
	}
	if high, ok := c.Readings[car.High]; ok {
		r.High = chart.NeedleOf(high, highGaugeError)
	}
	return r
}

// Leaders are the conditions whose drift the plane shows: the likeliest ones
// that are worth a line, healthy being the region itself.
func Leaders(r diagnose.Report) []car.ConditionID {
	const most, least = 3, 0.08 // judgement: more lines hide each other
	var ids []car.ConditionID
	for _, c := range r.Ranking {
		if c.ID == car.Healthy || c.ID == car.NoneOfThese {
			continue
		}
		if len(ids) == most || c.Probability < least {
			break
		}
		ids = append(ids, c.ID)
	}
	return ids
}
