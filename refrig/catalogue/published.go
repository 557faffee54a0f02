package catalogue

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// PublishedRange is one row of a table that calls pressures normal. The model
// is compared with it and the charts may show it; nothing is fitted to it.
type PublishedRange struct {
	Source string // key of the bibliography, or "common practice"
	Mark   string // "read" or "memory": how the source is known
	// Refrigerant, Metering and Compressor are zero where the source does not say.
	Refrigerant string
	Metering    car.Metering
	Compressor  car.Compressor
	Ambient     car.Interval // K; zero: one range for all weather
	Low, High   car.Interval // Pa gauge; zero: not given
	LowMeans    string       // which moment the low side was read at: "bottom of the cycle", …
	Disputed    bool         // contradicts a better source and has none of its own
	Note        string       // conditions of the reading
}

//go:embed published.csv
var publishedCSV string

// PublishedRanges returns the published tables of normal pressures, in the
// order of published.csv.
func PublishedRanges() []PublishedRange { return read("published.csv", publishedCSV, parsePublished) }

// read reads a file that is part of the program and tested: a fault in it panics.
func read[T any](name, text string, parse func(text string) ([]T, error)) []T {
	list, err := parse(text)
	if err != nil {
		panic("catalogue: " + name + ": " + err.Error())
	}
	return list
}

func rowsOf(text string) ([][]string, error) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comment = '#'
	return r.ReadAll()
}

const publishedColumns = "source,mark,refrigerant,metering,compressor,ambient_lo_C,ambient_hi_C," +
	"low_lo_kPa,low_hi_kPa,high_lo_kPa,high_hi_kPa,low_means,disputed,note"

func parsePublished(text string) (ranges []PublishedRange, err error) {
	rows, err := rowsOf(text)
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 || strings.Join(rows[0], ",") != publishedColumns {
		return nil, fmt.Errorf("want the columns %s", publishedColumns)
	}
	for i, row := range rows[1:] {
		p := PublishedRange{Source: row[0], Mark: row[1], Refrigerant: row[2],
			LowMeans: row[11], Disputed: row[12] == "yes", Note: row[13]}
		var ok [3]bool
		p.Metering, ok[0] = car.MeteringOf(row[3])
		p.Compressor, ok[1] = car.CompressorOf(row[4])
		ok[2] = row[12] == "yes" || row[12] == "no"
		if ok != [3]bool{true, true, true} {
			return nil, fmt.Errorf("row %d: unknown metering, compressor or answer to disputed", i+1)
		}
		for _, c := range []struct {
			to            *car.Interval
			column        int
			scale, offset float64
		}{
			{&p.Ambient, 5, 1, float64(refrig.ZeroCelsius)},
			{&p.Low, 7, 1000, 0},
			{&p.High, 9, 1000, 0},
		} {
			if *c.to, err = parseInterval(row[c.column], row[c.column+1], c.scale, c.offset); err != nil {
				return nil, fmt.Errorf("row %d: %w", i+1, err)
			}
		}
		ranges = append(ranges, p)
	}
	return ranges, nil
}

// parseInterval returns lo and hi times scale plus offset; both empty give zero.
func parseInterval(lo, hi string, scale, offset float64) (car.Interval, error) {
	if lo == "" && hi == "" {
		return car.Interval{}, nil
	}
	a, err := strconv.ParseFloat(lo, 64)
	if err != nil {
		return car.Interval{}, err
	}
	b, err := strconv.ParseFloat(hi, 64)
	if err != nil {
		return car.Interval{}, err
	}
	if b < a {
		return car.Interval{}, fmt.Errorf("%s to %s runs backwards", lo, hi)
	}
	return car.Interval{Lo: a*scale + offset, Hi: b*scale + offset}, nil
}
