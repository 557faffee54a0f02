package catalogue

import _ "embed"

//go:embed makers.csv
var makersCSV string

// MakersRanges returns what makers' tables print of sound cars: both needles at an
// outside temperature, in the order of makers.csv. The fleet is fitted to most of
// them (package makers), unlike to [PublishedRanges].
func MakersRanges() []PublishedRange { return read("makers.csv", makersCSV, parsePublished) }
