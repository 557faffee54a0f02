package readings

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/page"
	"twoneedles/chart"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/catalogue"
)

// publishedTable is what one source calls normal for cars like this one.
type publishedTable struct {
	name, note string
	key        string // of the bibliography, "" where there is none
	ranges     []chart.PublishedRange
}

// publishedFor are the published tables that may be meant for the car: of its
// refrigerant, and of no other metering device or compressor than its own. Rows
// that hold for any weather have no place in a picture across it.
func (s *Place) publishedFor(c car.Case) []publishedTable {
	refrigerant := c.Car.Refrigerant
	if refrigerant == "" {
		refrigerant = "R134a" // as the model takes it
	}
	var tables []publishedTable
	at := map[string]int{}
	for _, r := range catalogue.PublishedRanges() {
		if r.Refrigerant != refrigerant || r.Ambient.Lo == 0 ||
			c.Car.Metering != car.MeteringUnknown && r.Metering != car.MeteringUnknown && r.Metering != c.Car.Metering ||
			c.Car.Compressor != car.CompressorUnknown && r.Compressor != car.CompressorUnknown && r.Compressor != c.Car.Compressor {
			continue
		}
		name, key := s.publishedName(r)
		i, ok := at[name+r.LowMeans]
		if !ok {
			i = len(tables)
			at[name+r.LowMeans] = i
			tables = append(tables, publishedTable{name: name, key: key, note: s.publishedNote(r, name, key)})
		}
		tables[i].ranges = append(tables[i].ranges, chart.PublishedRange{
			Ambient: r.Ambient.Middle(), Source: name,
			Low: r.Low, High: r.High,
		})
	}
	return tables
}

// publishedName is the source as short as it can be told from others.
func (s *Place) publishedName(r catalogue.PublishedRange) (name, key string) {
	if _, ok := refrig.Ref(r.Source); ok {
		return r.Source, r.Source
	}
	switch {
	case r.Disputed:
		return s.Words.T("readings.weather.disputed"), ""
	case r.Low.Hi == 0:
		return s.Words.T("readings.weather.rule"), ""
	}
	return s.Words.T("readings.weather.practice"), ""
}

// publishedNote says how far the rows can be trusted and compared.
func (s *Place) publishedNote(r catalogue.PublishedRange, name, ref string) string {
	key := "readings.weather.note_practice"
	switch {
	case r.Disputed:
		key = "readings.weather.note_disputed"
	case r.Low.Hi == 0:
		key = "readings.weather.note_rule"
	case ref != "" && r.LowMeans == "bottom of the cycle":
		key = "readings.weather.note_bottom"
	case ref != "":
		key = "readings.weather.note_read"
	}
	return s.Words.T(key, "source", name)
}

// publishedNotes says what the marks in the picture are.
func (s *Place) publishedNotes(tables []publishedTable) app.UI {
	if !s.weather.published {
		return nil
	}
	if len(tables) == 0 {
		return app.P().ID("published-notes").Class("small soft").Text(s.Words.T("readings.weather.none"))
	}
	items := make([]app.UI, len(tables))
	for i, t := range tables {
		items[i] = app.Li().Body(app.Text(t.note+" "), app.If(t.key != "", func() app.UI { return page.SourceLink(t.key) }))
	}
	return app.Ul().ID("published-notes").Class("list small tight").Body(items...)
}

// ownRange is the maker's own figures as a mark at this weather.
func (s *Place) ownRange(c car.Case) []chart.PublishedRange {
	v := c.Service
	if v == (car.ServiceFigures{}) {
		return nil
	}
	return []chart.PublishedRange{{Ambient: c.Weather.Ambient, Source: s.Words.T("readings.weather.own"),
		Low: v.Low, High: v.High}}
}
