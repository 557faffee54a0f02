// Package chart turns numbers of the model into figures. A [Figure] says one
// thing three times: as a picture, as a sentence and as a table, so that it can
// be seen, heard and copied.
//
// The pictures:
//
//	Plane        low side across, high side up: the reading, healthy cars, faults
//	BeforeAfter  the same with the reading before and after the repair
//	Trail        the same with where the point has been
//	Weather      both sides against the outside temperature
//	Years        the visits of one car over time, each on the band of its day
//	Odds         the ranked conditions
//	PH           the cycle on pressure and enthalpy
//	Hold         pressure after the vacuum pump stops
//	Gauges       the two needles
//	Patterns     the trade's patterns of both, with what stands behind each
//	Vent         how cold the vent of a sound car is against the outside temperature
//	Over         both needles, or the vent, over the minutes of a log
//
// All of them put numbers on scales. The refrigerant's way round has none: it is package
// loop below this one. What a picture is drawn with, axes and their spans, bars, marks and
// labels, is package svg, which knows nothing of cars.
//
// Values arrive as SI and leave in the caller's units. No text is in this
// package's code: words come through [Words], which the page reads from the folder
// of its language. Numbers and units are put together by [unit.Writer], as on the
// page, so that a picture and the line beside it say one number.
// Numbers that no gauge can show are refused with a [refrig.RangeError]; what
// is merely missing is left out of the picture.
//
// Blue is the low side and red the high side, as on the hoses of the trade
// [SAEJ2196]; everything else is ink, told apart by dash, marker and label.
package chart
