package learn

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/ask"
	"twoneedles/app/page"
	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/catalogue"
	"twoneedles/refrig/diagnose"
)

// know says what the answer was held against and how it fared: makers' tables before
// the band of sound cars, what was counted, and what is still wrong.
type know struct {
	app.Compo
	Lang    string
	s       *page.Page
	ask     *ask.Questions
	asked   bool
	figure  chart.Figure
	met     string // how many rows lie inside the band
	failure string
}

func (k *know) OnMount(ctx app.Context)     { k.draw(ctx) }
func (k *know) OnPreRender(ctx app.Context) { k.draw(ctx) }

// draw asks for the band of any sound car: the tables seldom say of which kind theirs is.
func (k *know) draw(ctx app.Context) {
	if k.asked {
		return
	}
	k.asked = true
	var c car.Case
	c.Weather.Ambient, c.Weather.Humidity = warmDay, 0.5
	c.Running.RPM, c.Running.Blower = 1500, 1
	rows := catalogue.MakersRanges()
	// The weathers of the rows first, so that each is compared in its own; a few
	// more carry the band to the ends of the picture.
	var ambients []float64
	for _, r := range rows {
		ambients = append(ambients, r.Ambient.Middle())
	}
	for t := 13.0; t <= 46; t += 3 {
		ambients = append(ambients, 273.15+t)
	}
	k.ask.Ask(ctx, func(_ app.Context, err error) { k.failure = k.s.Voice().Error(err).What },
		func(m *diagnose.Model, deliver func(func(app.Context)) bool) error {
			bands, err := m.WeatherBands(c, ambients)
			if err != nil {
				return err
			}
			deliver(func(app.Context) { k.show(rows, bands) })
			return nil
		})
}

// show draws the picture and counts. bands begins with one for each row.
func (k *know) show(rows []catalogue.PublishedRange, bands []diagnose.WeatherBand) {
	w := k.s.Words
	name := w.T("learn.know.makers") // one name for all: the bibliography has each
	var ranges []chart.PublishedRange
	low, high := 0, 0
	for i, r := range rows {
		ranges = append(ranges, chart.PublishedRange{Ambient: r.Ambient.Middle(), Source: name,
			Low: r.Low, High: r.High})
		if within(r.Low, bands[i].Low) {
			low++
		}
		if within(r.High, bands[i].High) {
			high++
		}
	}
	f, err := chart.Weather(bands, chart.At{}, ranges, k.s.ChartOptions("know"))
	if err != nil {
		k.failure = k.s.Voice().Error(err).What
		return
	}
	k.figure = f
	k.met = w.T("learn.know.met", "low", strconv.Itoa(low), "high", strconv.Itoa(high), "of", strconv.Itoa(len(rows)))
}

// within: the middle of what is printed lies inside the middle 90 % of sound cars.
func within(printed car.Interval, b diagnose.Band) bool {
	at := printed.Middle()
	return b.P05 <= at && at <= b.P95
}

func (k *know) Render() app.UI {
	w := k.s.Words
	parts := []app.UI{app.H2().Text(w.T("learn.know.title")), app.P().Text(w.T("learn.know.lead"))}
	parts = append(parts, drawn(k.failure, k.figure, w.T("learn.know.waiting"), func() []app.UI {
		return []app.UI{
			app.Figure().ID("know-figure").Body(app.Raw(k.figure.SVG)),
			app.P().ID("know-met").Text(k.met),
			k.s.FigureText(k.figure)}
	})...)
	list := func(title string, items ...string) {
		var lines []app.UI
		for _, i := range items {
			lines = append(lines, app.Li().Text(w.T("learn.know."+i)))
		}
		parts = append(parts, app.H3().Text(w.T("learn.know."+title)), app.Ul().Body(lines...))
	}
	list("counted", "left_out", "healthy", "causes", "simulated")
	list("wrong", "no_faulty", "accused", "mistakes", "offset")
	return app.Section().ID("know").Class("card tight").Body(parts...)
}
