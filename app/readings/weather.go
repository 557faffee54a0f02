package readings

import (
	"reflect"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/ask"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/chart"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// weather holds both healthy bands across the outside temperature. They do not
// depend on the readings, so they are asked for only when the picture is open
// and car, air or engine have changed.
type weather struct {
	open    bool
	ask     *ask.Questions
	bands   []diagnose.WeatherBand
	of      car.Case        // the case they were made for
	learnt  int             // the revision of what was learnt then
	failure present.Message // why there are none
	// published shows tables of pressures that sources call normal beside them.
	published bool
}

// weatherRange are the outside temperatures of the picture in °C, and its step.
const weatherFrom, weatherTo, weatherStep = 10, 50, 2.5

// wanted returns the outside temperatures to be asked for, none if nothing is.
func (w *weather) wanted(c car.Case, learnt int) []float64 {
	if !w.open || w.bands != nil && w.learnt == learnt && sameBands(w.of, c) {
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

// askWeather asks for the bands if they are wanted.
func (s *Place) askWeather() {
	w, c, learnt := &s.weather, s.Case(), s.Learnt().Rev()
	ambients := w.wanted(c, learnt)
	if s.Answer().State != page.Answered || len(ambients) == 0 {
		return
	}
	w.ask.Ask(s.Ctx, func(_ app.Context, err error) {
		w.bands, w.failure = nil, s.Voice().Error(err)
		s.weatherRev++
	}, func(m *diagnose.Model, deliver func(func(app.Context)) bool) error {
		bands, err := m.WeatherBands(c, ambients)
		if err != nil {
			return err
		}
		deliver(func(app.Context) {
			w.bands, w.of, w.learnt, w.failure = bands, c, learnt, present.Message{}
			s.weatherRev++
		})
		return nil
	})
}

// weatherPart is the picture across the weather, folded until it is wanted.
func (p *picturePanel) weatherPart() app.UI {
	s, w := p.s, p.s.Words
	var body []app.UI
	switch {
	case !s.weather.open:
	case s.weather.failure.What != "":
		body = []app.UI{app.P().Class("msg").Text(s.weather.failure.What)}
	case s.Answer().State != page.Answered || s.weather.bands == nil:
		body = []app.UI{app.P().Class("soft").Text(w.T("readings.busy"))}
	default:
		body = p.weatherPicture()
	}
	return page.Unfolding("weather", w.T("readings.weather.title"), body, func(open bool) {
		if open != s.weather.open {
			s.weather.open = open
			s.askWeather()
		}
	})
}

func (p *picturePanel) weatherPicture() []app.UI {
	s, w := p.s, p.s.Words
	c := s.Answer().Of
	ranges := append(s.ownRange(c), s.makerRanges()...)
	var tables []publishedTable
	if s.weather.published {
		tables = s.publishedFor(c)
		for _, t := range tables {
			ranges = append(ranges, t.ranges...)
		}
	}
	f, err := chart.Weather(s.weather.bands, chart.At{Reading: page.ChartReading(c), Ambient: c.Weather.Ambient}, ranges, s.ChartOptions("weather"))
	if err != nil {
		return []app.UI{s.Failed(err)}
	}
	show := page.Chip("published", w.T("readings.weather.published"), s.weather.published, func() { s.weather.published = !s.weather.published })
	return []app.UI{app.Div().ID("weather-frame").Body(app.Raw(f.SVG)), show, s.publishedNotes(tables), s.FigureText(f)}
}
