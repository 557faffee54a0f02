package catalogue

import (
	_ "embed"
	"fmt"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// PublishedVent is one row of a table that says how cold the vent of a sound car is.
type PublishedVent struct {
	Source  string       // key of the bibliography
	Ambient car.Interval // K
	Vent    car.Interval // K
	Air     string       // "recirc", "outside", "" where the source does not say
	Doors   string       // "shut", "open", "" where the source does not say
}

//go:embed vents.csv
var ventsCSV string

// PublishedVents returns the published vent temperatures, in the order of vents.csv.
func PublishedVents() []PublishedVent { return read("vents.csv", ventsCSV, parseVents) }

func parseVents(text string) (out []PublishedVent, err error) {
	rows, err := rowsOf(text)
	if err != nil {
		return nil, err
	}
	for i, row := range rows[min(1, len(rows)):] {
		if len(row) != 7 {
			return nil, fmt.Errorf("row %d: %d columns", i+1, len(row))
		}
		v := PublishedVent{Source: row[0], Air: row[5], Doors: row[6]}
		if v.Ambient, err = parseInterval(row[1], row[2], 1, float64(refrig.ZeroCelsius)); err != nil {
			return nil, fmt.Errorf("row %d: %w", i+1, err)
		}
		if row[3] == "" { // "at most"
			row[3] = row[4]
		}
		if v.Vent, err = parseInterval(row[3], row[4], 1, float64(refrig.ZeroCelsius)); err != nil {
			return nil, fmt.Errorf("row %d: %w", i+1, err)
		}
		out = append(out, v)
	}
	return out, nil
}
