package cases_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// Published readings with a stated cause and both needles in numbers (cases2.csv);
// what each was typed as, and which of our conditions its words mean, stands in
// cases2_want.csv. No other condition may be named in any. The aim set beforehand was
// the cause among the first two in four of five; the first run met 7 of 11. It is 8 since a
// deep vacuum is no doubtful gauge, which cases3.csv had shown: N031 is no witness any more.
// 8 is held here as a regression (the three are in DEVELOPERS.md, under known limits). The
// readings took no part in fitting anything, and must not.
func TestPublishedReadings(t *testing.T) {
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	met, tried := 0, 0
	answered(t, m, "cases2", func(id string, causes []string, r diagnose.Report) {
		tried++
		if amongFirst(r, causes) {
			met++
		} else {
			t.Logf("%s: %v, first are %s %.2f and %s %.2f", id, causes,
				r.Ranking[0].ID, r.Ranking[0].Probability, r.Ranking[1].ID, r.Ranking[1].Probability)
		}
	})
	t.Logf("the source's cause is among the first two in %d of %d", met, tried)
	if tried != 11 || met < 8 {
		t.Errorf("the source's cause is among the first two in %d of %d", met, tried)
	}
}

// answered answers the rows of a file in which enough is printed, and hands over what the
// source says is wrong, in our conditions. None may be named wrongly.
func answered(t *testing.T, m *diagnose.Model, name string, f func(id string, causes []string, r diagnose.Report)) {
	t.Helper()
	wants := table(t, name+"_want.csv")
	for id, row := range table(t, name+".csv") {
		want, ok := wants[id]
		if !ok {
			t.Errorf("%s has no line in %s_want.csv", id, name)
			continue
		}
		if want["not_enough"] != "" {
			continue
		}
		causes := strings.Split(want["conditions"], "|")
		r, err := m.Diagnose(asTyped(t, row, want))
		if err != nil {
			t.Errorf("%s: %v", id, err)
			continue
		}
		if top := r.Ranking[0]; r.Verdict == diagnose.Named && !slices.Contains(causes, string(top.ID)) {
			t.Errorf("%s: %s is named, the source says %v", id, top.ID, causes)
		}
		f(id, causes, r)
	}
}

// amongFirst tells whether one of the causes is among the first two.
func amongFirst(r diagnose.Report, causes []string) bool {
	return slices.ContainsFunc(r.Ranking[:2], func(k diagnose.Ranked) bool { return slices.Contains(causes, string(k.ID)) })
}

// table reads a file of testdata/cases as rows by id, by column.
func table(t *testing.T, name string) map[string]map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]map[string]string{}
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, column := range lines[0] {
			row[column] = line[i]
		}
		rows[row["id"]] = row
	}
	return rows
}

// asTyped is a row as a technician types it who knows no more than is printed.
func asTyped(t *testing.T, row, want map[string]string) car.Case {
	t.Helper()
	c := car.Case{Car: kindOf(row), Readings: car.Readings{
		car.Low: typed(t, want, "low"), car.High: typed(t, want, "high"),
	}}
	if g := want["sight_glass"]; g != "" {
		c.Readings[car.SightGlass] = car.Reading{Choice: g}
	}
	c.Weather.Ambient, c.Weather.Humidity = typicalAmbient, 0.5
	if a := row["ambient_C"]; a != "" {
		c.Weather.Ambient = 273.15 + number(t, a)
	}
	c.Running.RPM, c.Running.Blower = 1500, 1
	return c
}

// kindOf translates what a source says of the car; what it leaves open stays unknown.
func kindOf(row map[string]string) car.Spec {
	var k car.Spec
	switch row["refrigerant"] {
	case "R-134a":
		k.Refrigerant = car.R134a
	case "R-12":
		k.Refrigerant = car.R12
	}
	switch row["metering"] {
	case "TXV":
		k.Metering = car.ExpansionValve
	case "orifice tube":
		k.Metering = car.OrificeTube
	}
	switch row["compressor"] {
	case "variable displacement":
		k.Compressor = car.Variable
	case "fixed displacement":
		k.Compressor = car.Fixed
	}
	return k
}

// typed is a side's reading, steady or swinging, Pa.
func typed(t *testing.T, want map[string]string, side string) car.Reading {
	if span := want[side+"_swing_kPa"]; span != "" {
		lo, hi, _ := strings.Cut(span, "..")
		r := car.Reading{Lo: 1e3 * number(t, lo), Hi: 1e3 * number(t, hi), Swing: true}
		r.Value = (r.Lo + r.Hi) / 2
		return r
	}
	return car.Reading{Value: 1e3 * number(t, want[side+"_kPa"])}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(v) {
		t.Fatalf("%q is no number", s)
	}
	return v
}
