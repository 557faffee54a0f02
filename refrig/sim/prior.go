package sim

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"strconv"

	"twoneedles/refrig/car"
)

//go:embed priors.csv
var priorsCSV []byte

// Odds are those of a condition before anything is read, and the ends of what we
// would still believe; a row of priors.csv.
type Odds struct{ Mid, Low, High float64 }

// OddsOf returns the odds of a condition.
func OddsOf(id car.ConditionID) Odds { return prior[car.Index(id)] }

// prior holds the odds by place in Conditions.
var prior = func() []Odds {
	r := csv.NewReader(bytes.NewReader(priorsCSV))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic("sim: priors.csv: " + err.Error())
	}
	p := make([]Odds, len(car.Conditions))
	seen := 0
	for _, row := range rows[1:] {
		i := car.Index(car.ConditionID(row[0]))
		if i < 0 {
			panic("sim: priors.csv names " + row[0])
		}
		var v [3]float64
		for k := range v {
			if v[k], err = strconv.ParseFloat(row[1+k], 64); err != nil || v[k] <= 0 {
				panic("sim: priors.csv: odds of " + row[0])
			}
		}
		p[i] = Odds{v[0], v[1], v[2]}
		seen++
	}
	if seen != len(car.Conditions) {
		panic("sim: priors.csv lacks a condition")
	}
	return p
}()

// PriorOf returns the prior probabilities for a car of this kind, by place in
// Conditions; conditions the car cannot have get zero.
func PriorOf(spec car.Spec) []float64 {
	p := make([]float64, len(car.Conditions))
	sum := 0.0
	for i, id := range car.Conditions {
		if Fits(id, spec) {
			p[i] = prior[i].Mid
			sum += p[i]
		}
	}
	for i := range p {
		p[i] /= sum
	}
	return p
}
