package chart

import (
	"errors"

	"twoneedles/chart/svg"
	"twoneedles/refrig"
	"twoneedles/refrig/unit"
)

// Figure is one set of numbers, rendered three times.
type Figure struct {
	ID      string // of the picture within the page
	SVG     string // one accessible svg element without any style of its own
	Summary string // the same as a sentence or a few
	Table   Table  // the same as rows
	// Moved is how far from where it is drawn the reading was in the picture before,
	// to the right and down in units of the view box; see Options.From.
	Moved [2]float64
}

// Table holds the numbers behind a figure; every row is as long as Head.
type Table struct {
	Caption string
	Head    []string
	Rows    [][]string
}

// Options are what every figure needs.
type Options struct {
	// ID is a letter followed by letters, digits and hyphens, unique in the
	// page.
	ID    string
	Units unit.Units
	Words Words
	// Chances says the probabilities of a ranking as the page does elsewhere, "about 3
	// in 4", so that they add up to no more than one; only [Odds] needs it.
	Chances func(ps []float64) []string
	// From is the reading the pressure plane showed before. If it is set, the
	// point and its needles are in groups of the classes glide, glide-x and
	// glide-y, and the figure says how far they have come, so that the page can
	// let them glide.
	From Reading
}

// Check tells whether a figure can be made with the options. It and [Options.Finish] are
// for whatever makes one.
func (o *Options) Check() error {
	if o.Words == nil {
		return errors.New("chart: no words")
	}
	return checkUnits(o.Units)
}

// Finish renders c and puts the figure together.
func (o *Options) Finish(c *svg.Canvas, summary string, t Table) (Figure, error) {
	s, err := c.String()
	if err != nil {
		return Figure{}, err
	}
	return Figure{ID: o.ID, SVG: s, Summary: summary, Table: t}, nil
}

// Limits of what is drawn, judgement: an absolute pressure cannot be negative,
// so a gauge cannot fall below one atmosphere of vacuum, and no automotive
// gauge goes to 10 MPa; no road is hotter or colder than the temperatures.
const (
	minGauge = -1.1e5 // Pa
	maxGauge = 1e7    // Pa
	minTemp  = 200.0  // K
	maxTemp  = 480.0  // K
)

// within refuses what is not finite or outside limits.
func within(quantity, unit string, min, max float64, values ...float64) error {
	for _, v := range values {
		if !(v >= min && v <= max) {
			return &refrig.RangeError{Quantity: quantity, Value: v, Min: min, Max: max, Unit: unit, Source: "judgement"}
		}
	}
	return nil
}

// CheckGauges refuses what no gauge shows, Pa gauge.
func CheckGauges(values ...float64) error {
	return within("gauge pressure", "Pa", minGauge, maxGauge, values...)
}

// CheckTemperatures refuses what is found on no car, K; what names it.
func CheckTemperatures(what string, values ...float64) error {
	return within(what, "K", minTemp, maxTemp, values...)
}
