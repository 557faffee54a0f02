package chart

import (
	"twoneedles/chart/svg"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

func (w *weather) summary() string {
	o := w.o
	first, last := w.bands[0], w.bands[len(w.bands)-1]
	trend := o.Words("chart.weather.trend",
		"from", o.temperatureText(first.Ambient), "to", o.temperatureText(last.Ambient),
		"low_from", o.pressureText(first.Low.P50), "low_to", o.pressureText(last.Low.P50),
		"high_from", o.pressureText(first.High.P50), "high_to", o.pressureText(last.High.P50))
	if !w.now.Low.Read && !w.now.High.Read {
		return trend
	}
	low, high := w.where("low", w.now.Low, func(b diagnose.WeatherBand) diagnose.Band { return b.Low }),
		w.where("high", w.now.High, func(b diagnose.WeatherBand) diagnose.Band { return b.High })
	return o.Words.Sentences(o.Words("chart.weather.at", "ambient", o.Writer().ReadingText(w.now.Ambient, unit.Temperature)), low, high, trend)
}

// where says how one needle stands to the band at its temperature.
func (w *weather) where(key string, n Needle, band func(diagnose.WeatherBand) diagnose.Band) string {
	if !n.Read {
		return ""
	}
	args := []any{"value", w.o.needleText(n)}
	b, ok := w.bandAt(w.now.Ambient, band)
	if !ok {
		return w.o.Words("chart.weather."+key+".outside", args...)
	}
	args = append(args, "lo", w.o.pressureText(b.Lo), "hi", w.o.pressureText(b.Hi))
	return w.o.Words("chart.weather."+key+"."+place(n.mid(), b), args...)
}

// bandAt interpolates the 90 % band linearly between its temperatures; there is
// none beyond them.
func (w *weather) bandAt(k float64, band func(diagnose.WeatherBand) diagnose.Band) (svg.Span, bool) {
	for i := 1; i < len(w.bands); i++ {
		a, b := w.bands[i-1], w.bands[i]
		if k < a.Ambient || k > b.Ambient || a.Ambient == b.Ambient {
			continue
		}
		f := (k - a.Ambient) / (b.Ambient - a.Ambient)
		p, q := band(a), band(b)
		return svg.Span{Lo: p.P05 + f*(q.P05-p.P05), Hi: p.P95 + f*(q.P95-p.P95)}, true
	}
	return svg.Span{}, false
}

func (w *weather) table() Table {
	o := w.o
	pressure := o.unitName(unit.GaugePressure)
	t := Table{
		Caption: o.Words("chart.weather.title"),
		Head: []string{
			o.Words("chart.col.ambient", "unit", o.unitName(unit.Temperature)),
			o.Words("chart.col.what"),
			o.Words("chart.col.low", "unit", pressure),
			o.Words("chart.col.high", "unit", pressure),
		},
	}
	row := func(ambient, what, low, high string) {
		t.Rows = append(t.Rows, []string{ambient, what, low, high})
	}
	if w.now.Low.Read || w.now.High.Read {
		row(o.Writer().ReadingNumbers(w.now.Ambient, w.now.Ambient, unit.Temperature), o.Words("chart.row.reading"), o.needleCell(w.now.Low), o.needleCell(w.now.High))
	}
	for _, b := range w.bands {
		row(o.temperatureNumber(b.Ambient), o.Words("chart.row.region", "percent", "90"), o.pressureRange(b.Low.P05, b.Low.P95), o.pressureRange(b.High.P05, b.High.P95))
		row(o.temperatureNumber(b.Ambient), o.Words("chart.row.region", "percent", "50"), o.pressureRange(b.Low.P25, b.Low.P75), o.pressureRange(b.High.P25, b.High.P75))
	}
	for _, p := range w.published {
		side := func(i car.Interval) string {
			if i.Lo == i.Hi {
				return "–"
			}
			return o.pressureRange(i.Lo, i.Hi)
		}
		row(o.temperatureNumber(p.Ambient), o.Words("chart.row.published", "source", p.Source), side(p.Low), side(p.High))
	}
	return t
}
