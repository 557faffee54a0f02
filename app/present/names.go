package present

import (
	"strings"

	"twoneedles/refrig/car"
)

// ConditionName names a condition in a list.
func (w *Words) ConditionName(id car.ConditionID) string {
	return w.T("condition." + string(id) + ".name")
}

// ShortName names a condition where there is little room, as the pictures do.
func (w *Words) ShortName(id car.ConditionID) string {
	return w.T("chart.condition." + string(id))
}

// InText names a condition within a technician's sentence.
func (w *Words) InText(id car.ConditionID) string {
	return w.T("condition." + string(id) + ".in_text")
}

// Plain names a condition within a sentence for a driver.
func (w *Words) Plain(id car.ConditionID) string {
	return w.T("condition." + string(id) + ".plain")
}

// QuantityName names a reading in a line of text.
func (w *Words) QuantityName(q car.Quantity) string {
	switch q {
	case car.Low:
		return w.T("readings.low")
	case car.High:
		return w.T("readings.high")
	}
	return w.T("quantity." + string(q) + ".name")
}

// List sets parts of a sentence one after the other.
func (w *Words) List(items []string) string {
	return strings.Join(items, w.T("readings.sep"))
}
