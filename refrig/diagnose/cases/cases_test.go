package cases_test

import (
	"encoding/csv"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose/cases"
)

const dir = "../../../testdata/cases"

func load(t *testing.T) map[string]cases.Scenario {
	t.Helper()
	all, err := cases.Load(os.DirFS(dir))
	if err != nil {
		t.Fatal(err)
	}
	byRow := map[string]cases.Scenario{}
	for _, s := range all {
		if other, ok := byRow[s.Source.Row]; ok {
			t.Errorf("row %s has two files, %s and %s", s.Source.Row, other.Name, s.Name)
		}
		byRow[s.Source.Row] = s
	}
	return byRow
}

// rows returns cases.csv, each row by column name.
func rows(t *testing.T) []map[string]string {
	t.Helper()
	f, err := os.Open(dir + "/cases.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	table, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, record := range table[1:] {
		row := map[string]string{}
		for i, column := range table[0] {
			row[column] = record[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func TestEveryRowHasOneFile(t *testing.T) {
	byRow := load(t)
	table := rows(t)
	if len(table) < 74 {
		t.Fatalf("cases.csv holds %d rows, want at least the 74 it was copied with", len(table))
	}
	for _, row := range table {
		if _, ok := byRow[row["id"]]; !ok {
			t.Errorf("row %s has no file", row["id"])
		}
		delete(byRow, row["id"])
	}
	for id, s := range byRow {
		t.Errorf("%s.txt: row %s is not in cases.csv", s.Name, id)
	}
}

// What the row states in columns, the file states too: words, car and numbers.
func TestFilesSayWhatTheRowsSay(t *testing.T) {
	byRow := load(t)
	refrigerants := map[string]string{"R-134a": car.R134a, "R-134a in an R-12 system": car.R134a, "R-134a era": car.R134a,
		"R-12": car.R12, "R-1234yf": car.R1234yf}
	metering := map[string]car.Metering{"TXV": car.ExpansionValve, "orifice tube": car.OrificeTube,
		"orifice tube with accumulator": car.OrificeTube}
	compressors := map[string]car.Compressor{"fixed": car.Fixed, "cycling clutch": car.Fixed,
		"cycling clutch, thermostatic switch": car.Fixed, "variable displacement": car.Variable}
	numbers := 0
	for _, row := range rows(t) {
		s := byRow[row["id"]]
		says := row["verdict_in_plain_words"]
		if row["notes"] != "" {
			says += " | " + row["notes"]
		}
		if s.Source.Says != says || s.Source.Mark != row["read_or_memory"] || s.Source.Where != row["source"] {
			t.Errorf("%s: source differs from its row", s.Name)
		}
		if s.Car.Refrigerant != refrigerants[row["refrigerant"]] || s.Car.Metering != metering[row["metering"]] ||
			s.Car.Compressor != compressors[row["compressor"]] || s.HumidityLow != (row["rh"] == "low") {
			t.Errorf("%s: car or weather differs from its row: %+v", s.Name, s.Car)
		}
		numbers += checkNumbers(t, s, row)
	}
	if numbers < 60 {
		t.Errorf("compared %d numbers, want at least 60", numbers)
	}
}

// checkNumbers compares each number of the row with the file. The low and high
// columns hold other pressures in rows that are no running system.
func checkNumbers(t *testing.T, s cases.Scenario, row map[string]string) (n int) {
	low, high := "low", "high"
	switch {
	case s.Kind == cases.Resting:
		low, high = "resting", "resting"
	case s.Kind == cases.Service || row["id"] == "C038": // C038 is the vacuum a compressor draws
		low, high = "vacuum", "container"
	}
	for _, c := range []struct {
		column, name  string
		upper         bool
		scale, offset float64
	}{
		{"ambient_C", "ambient", false, 1, 273.15},
		{"ambient_C", "ambient", true, 1, 273.15},
		{"low_side_kPa_gauge_min", low, false, 1000, 0},
		{"low_side_kPa_gauge_max", low, true, 1000, 0},
		{"high_side_kPa_gauge_min", high, false, 1000, 0},
		{"high_side_kPa_gauge_max", high, true, 1000, 0},
		{"vent_C_min", "vent", false, 1, 273.15},
		{"vent_C_max", "vent", true, 1, 273.15},
	} {
		if row[c.column] == "" {
			continue
		}
		v, err := strconv.ParseFloat(row[c.column], 64)
		if err != nil {
			t.Fatal(err)
		}
		got := s.Numbers[c.name].Lo
		if c.upper {
			got = s.Numbers[c.name].Hi
		}
		if want := v*c.scale + c.offset; got != want { // the same conversion of the same digits
			t.Errorf("%s: %s is %v, the row says %v", s.Name, c.name, got, want)
		}
		n++
	}
	return n
}

// The notes of many rows give the needles as "low=HIGH; high=LOW". Every level
// named there appears in the file's pattern.
func TestPatternsFollowTheNotes(t *testing.T) {
	byRow := load(t)
	checked := 0
	for _, row := range rows(t) {
		s := byRow[row["id"]]
		// C095 means low against a warm day, as its file explains.
		if s.Want.NotEnough != "" || row["id"] == "C095" {
			continue
		}
		notes, _, _ := strings.Cut(row["notes"], "(")
		for _, side := range []car.Quantity{car.Low, car.High} {
			for clause := range strings.SplitSeq(notes, ";") {
				words, ok := strings.CutPrefix(strings.TrimSpace(clause), string(side)+"=")
				if !ok {
					continue
				}
				for _, level := range []cases.Level{cases.Vacuum, cases.Low, cases.Normal, cases.High} {
					if !strings.Contains(words, strings.ToUpper(string(level))) {
						continue
					}
					checked++
					if !slices.Contains(s.Patterns[side].Levels, level) {
						t.Errorf("%s: the row says %s=%s, the file %v", s.Name, side, words, s.Patterns[side])
					}
				}
			}
		}
	}
	if checked < 40 {
		t.Errorf("checked %d levels, want at least 40", checked)
	}
}

// Rows that the list itself calls disputed or contradictory are marked so.
func TestDisputedRowsAreMarked(t *testing.T) {
	byRow := load(t)
	for _, row := range rows(t) {
		text := row["verdict_in_plain_words"] + row["notes"]
		want := strings.Contains(text, "DISPUTED") || strings.Contains(text, "CONTRADICTS")
		if s := byRow[row["id"]]; (s.Want.Disputed != "") != want {
			t.Errorf("%s: disputed is %q, the row says %v", s.Name, s.Want.Disputed, want)
		}
	}
}
