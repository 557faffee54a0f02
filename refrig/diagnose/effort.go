package diagnose

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"strconv"

	"twoneedles/refrig/car"
)

//go:embed measurements.csv
var measurementsCSV []byte

// Effort is what a measurement costs.
type Effort struct {
	Minutes float64
	Hazard  string // code of a caution, "" if none
}

var efforts = func() map[car.Quantity]Effort {
	r := csv.NewReader(bytes.NewReader(measurementsCSV))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic("diagnose: measurements.csv: " + err.Error())
	}
	m := map[car.Quantity]Effort{}
	for _, row := range rows[1:] {
		minutes, err := strconv.ParseFloat(row[1], 64)
		if err != nil || minutes <= 0 {
			panic("diagnose: measurements.csv: minutes of " + row[0])
		}
		m[car.Quantity(row[0])] = Effort{minutes, row[2]}
	}
	return m
}()

// EffortOf returns what measuring q costs.
func EffortOf(q car.Quantity) Effort { return efforts[q] }
