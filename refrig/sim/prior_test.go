package sim_test

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/reftest"
	"twoneedles/refrig/sim"
)

// The prior is the middle column of priors.csv over its sum, as a person would read
// it, without the conditions that a car of the kind cannot have.
func TestPriorIsTheMiddleColumn(t *testing.T) {
	f, err := os.Open("priors.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	variable := map[car.ConditionID]bool{car.StuckMinimum: true, car.StuckMaximum: true} // of a variable compressor alone
	odds, sum := map[car.ConditionID]float64{}, 0.0
	for _, row := range rows[1:] {
		id := car.ConditionID(row[0])
		if variable[id] {
			continue
		}
		v, err := strconv.ParseFloat(row[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		odds[id] = v
		sum += v
	}
	p := sim.PriorOf(car.Spec{Compressor: car.Fixed})
	for i, id := range car.Conditions() {
		reftest.Close(t, string(id), p[i], odds[id]/sum, 1e-12, "rounding")
	}
}
