package readings

import (
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// saturationText is the saturation temperature under a needle, as soon as it is typed;
// it waits for no answer. Where the refrigerant is not known it says for which one it
// holds.
func (s *Place) saturationText(q car.Quantity) string {
	c := s.Case()
	r, ok := c.Readings[q]
	table, err := service.NewSaturation(c.Car.Refrigerant, c.Weather.Altitude)
	if !ok || err != nil {
		return ""
	}
	lo, hi := r.Ends()
	from, errLo := table.Temperature(refrig.Gauge(lo))
	to, errHi := table.Temperature(refrig.Gauge(hi))
	if errLo != nil || errHi != nil {
		return "" // a vacuum or beyond the critical point: there is none
	}
	w, v := s.Words, s.Voice()
	text := v.Quantity(float64(from), unit.Temperature)
	switch {
	case r.Swing:
		text = v.Range(float64(from), float64(to), unit.Temperature)
	case r.AtLeast:
		text = w.T("number.at_least", "value", text)
	case r.AtMost:
		text = w.T("number.at_most", "value", text)
	}
	if c.Car.Refrigerant == "" {
		return w.T("saturation.assumed", "temperature", text, "refrigerant", w.T("readings.choice.refrigerant."+car.R134a))
	}
	return w.T("saturation.line", "temperature", text)
}

// heatText is the superheat or the subcooling that belongs to a needle, beside what
// healthy cars of this kind show. Like the bands it is that of the answered case.
func (s *Place) heatText(q car.Quantity) string {
	h, key := s.heat(q)
	if h == nil {
		return ""
	}
	w, v := s.Words, s.Voice()
	if h.Value < 0 {
		key += "_none"
	}
	return w.T("saturation."+key,
		"value", v.Quantity(h.Value, unit.TempDiff),
		"away", v.Quantity(-h.Value, unit.TempDiff),
		"place", w.T("saturation.place."+[...]string{"below", "inside", "above"}[h.Place+1]),
		"range", v.Range(h.Expected.Lo, h.Expected.Hi, unit.TempDiff))
}

func (s *Place) heat(q car.Quantity) (*diagnose.Heat, string) {
	a := s.Answer()
	switch q {
	case car.Low:
		return a.Report.Superheat, "superheat"
	case car.High:
		return a.Report.Subcooling, "subcooling"
	}
	return nil, ""
}
