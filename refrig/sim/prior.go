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

// Odds is how common a condition is among cars on which somebody coupled gauges:
// only ratios matter. Low and High bound what we would still believe.
type Odds struct{ Mid, Low, High float64 }

// OddsOf returns the odds of a condition before anything is measured (priors.csv),
// zero for one that is not known.
func OddsOf(id car.ConditionID) Odds {
	if i := car.Index(id); i >= 0 {
		return prior[i]
	}
	return Odds{}
}

// prior holds the odds by place in the list of conditions.
var prior = func() []Odds {
	r := csv.NewReader(bytes.NewReader(priorsCSV))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic("sim: priors.csv: " + err.Error())
	}
	p := make([]Odds, len(car.Conditions()))
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
	if seen != len(car.Conditions()) {
		panic("sim: priors.csv lacks a condition")
	}
	return p
}()

// PriorOf returns the prior probabilities for a car of this kind, by place in the
// list of conditions; conditions the car cannot have get zero.
func PriorOf(spec car.Spec) []float64 {
	p := make([]float64, len(car.Conditions()))
	sum := 0.0
	for i, id := range car.Conditions() {
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
