package diagnose

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"strconv"

	"twoneedles/refrig/car"
)

//go:embed priors.csv
var priorsCSV []byte

// odds is one row of priors.csv.
type odds struct{ mid, low, high float64 }

// prior holds the odds by place in Conditions.
var prior = func() []odds {
	r := csv.NewReader(bytes.NewReader(priorsCSV))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic("diagnose: priors.csv: " + err.Error())
	}
	p := make([]odds, len(Conditions))
	seen := 0
	for _, row := range rows[1:] {
		i, ok := index[ConditionID(row[0])]
		if !ok {
			panic("diagnose: priors.csv names " + row[0])
		}
		var v [3]float64
		for k := range v {
			if v[k], err = strconv.ParseFloat(row[1+k], 64); err != nil || v[k] <= 0 {
				panic("diagnose: priors.csv: odds of " + row[0])
			}
		}
		p[i] = odds{v[0], v[1], v[2]}
		seen++
	}
	if seen != len(Conditions) {
		panic("diagnose: priors.csv lacks a condition")
	}
	return p
}()

// priorOf returns the prior probabilities for a car of this kind, by place in
// Conditions; conditions the car cannot have get zero.
func priorOf(spec car.Spec) []float64 {
	p := make([]float64, len(Conditions))
	sum := 0.0
	for i, id := range Conditions {
		if Fits(id, spec) {
			p[i] = prior[i].mid
			sum += p[i]
		}
	}
	for i := range p {
		p[i] /= sum
	}
	return p
}
