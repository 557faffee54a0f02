package catalogue

import _ "embed"

//go:embed makers.csv
var makersCSV string

// MakersRanges returns what makers' tables print of sound cars: both needles at an
// outside temperature, in the order of makers.csv. The fleet is fitted to most of
// them (package makers), unlike to [PublishedRanges].
func MakersRanges() []PublishedRange {
	ranges, err := parsePublished(makersCSV)
	if err != nil { // the file is part of the program and tested
		panic("catalogue: makers.csv: " + err.Error())
	}
	return ranges
}
