package app

import (
	"reflect"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/chart"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// weather holds both healthy bands across the outside temperature. They do not
// depend on the readings, so they are asked for only when the picture is open
// and car, air or engine have changed.
type weather struct {
	open  bool
	bands []diagnose.WeatherBand
	of    car.Case // the case they were made for
	// published shows tables of pressures that sources call normal beside them.
	published bool
}

// weatherRange are the outside temperatures of the picture in °C, and its step.
const weatherFrom, weatherTo, weatherStep = 10, 50, 2.5

// wanted returns the outside temperatures to be asked for, none if nothing is.
func (w *weather) wanted(c car.Case) []float64 {
	if !w.open || w.bands != nil && sameBands(w.of, c) {
		return nil
	}
	var ks []float64
	for t := float64(weatherFrom); t <= weatherTo; t += weatherStep {
		ks = append(ks, float64(refrig.Celsius(t)))
	}
	return ks
}

// sameBands tells whether two cases have the same healthy bands. The maker's own
// figures hold for one weather and move the bands by what they differ there.
func sameBands(a, b car.Case) bool {
	a.Readings, b.Readings = nil, nil
	if a.Service == (car.ServiceFigures{}) {
		a.Weather.Ambient, b.Weather.Ambient = 0, 0
	}
	return reflect.DeepEqual(a, b)
}

func (s *session) weatherCame(_ app.Context, c car.Case, bands []diagnose.WeatherBand) {
	s.weather.bands, s.weather.of = bands, c
	s.answerRev++
}

// weatherPart is the picture across the weather, folded until it is wanted.
func (p *picturePanel) weatherPart() app.UI {
	s, w := p.s, p.s.words
	var body []app.UI
	switch {
	case !s.weather.open:
	case s.answer.state != answered || s.weather.bands == nil:
		body = []app.UI{app.P().Class("soft").Text(w.T("readings.busy"))}
	default:
		body = p.weatherPicture()
	}
	return app.Details().ID("weather").Body(
		app.Summary().Class("small soft").Text(w.T("readings.weather.title")),
		app.Figure().Body(body...),
	).On("toggle", p.weatherToggled)
}

func (p *picturePanel) weatherPicture() []app.UI {
	s, w := p.s, p.s.words
	c := s.answer.of
	ranges := s.ownRange(c)
	var tables []publishedTable
	if s.weather.published {
		tables = s.publishedFor(c)
		for _, t := range tables {
			ranges = append(ranges, t.ranges...)
		}
	}
	f, err := chart.Weather(s.weather.bands, chart.At{Reading: chartReading(c), Ambient: c.Weather.Ambient}, ranges, s.chartOptions("weather"))
	if err != nil {
		return []app.UI{app.P().Class("msg").Text(s.voice().Error(err).What)}
	}
	show := app.Button().ID("published").Type("button").Class("chip").Attr("aria-pressed", pressed(s.weather.published)).
		Text(w.T("readings.weather.published")).
		OnClick(func(app.Context, app.Event) { s.weather.published = !s.weather.published })
	return []app.UI{app.Div().ID("weather-frame").Body(app.Raw(f.SVG)), show, s.publishedNotes(tables), s.figureText(f)}
}

func (p *picturePanel) weatherToggled(ctx app.Context, _ app.Event) {
	open := ctx.JSSrc().Get("open").Bool()
	if open == p.s.weather.open {
		return
	}
	p.s.weather.open = open
	if open {
		p.s.recompute(ctx)
	}
}
