package catalogue

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strings"

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
func PublishedVents() []PublishedVent {
	vents, err := parseVents(ventsCSV)
	if err != nil { // the file is part of the program and tested
		panic("catalogue: vents.csv: " + err.Error())
	}
	return vents
}

func parseVents(text string) ([]PublishedVent, error) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		return nil, err
	}
	var out []PublishedVent
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
