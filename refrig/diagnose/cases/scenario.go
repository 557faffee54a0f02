// Package cases reads the published cases in testdata/cases: what a source
// gives as readings and what it concludes, in the words of package diagnose.
// The format is described in testdata/cases/README.md. The package judges
// nothing; the tests of the packages that answer do.
package cases

import (
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// Scenario is one published case.
type Scenario struct {
	Name    string // file name without ".txt": Subject_Row
	Subject string // the condition the source concludes, or the kind if it concludes none
	Source  Source
	Kind    Kind

	Car car.Spec
	// Numbers holds what was read or demanded, in SI units (Pa, K, s, 1/min), by
	// the name in the file without unit: "ambient", "low", "equalise_time".
	Numbers map[string]Range
	// Patterns holds readings the source gives in words, against what is normal
	// for this car in this weather. No quantity has both a number and a pattern.
	Patterns map[car.Quantity]Pattern
	// SightGlass is the answer at the glass, "" if the source does not speak of it.
	SightGlass string
	// LowMeans is the moment the low side was read at, "" if the source does not
	// say: "bottom_of_cycle".
	LowMeans string
	// HumidityLow is set where the source says the air was dry, without a number.
	HumidityLow bool

	Want Want
}

// Source says where a case comes from and how it was translated.
type Source struct {
	Row   string // its id in cases.csv
	Cites string // key of the bibliography, "common practice" or "unsourced"
	Where string // place in the source
	Mark  string // READ, MEMORY or READ+CALC, as in cases.csv
	Says  string // the source's verdict, as in cases.csv
	Ours  string // how we translated it, and why so
}

// Kind says what a case can test.
type Kind string

// The kinds.
const (
	Diagnosis Kind = "diagnosis" // readings of a running system and their cause
	Band      Kind = "band"      // pressures called normal
	Resting   Kind = "resting"   // both gauges with the engine off
	Service   Kind = "service"   // a limit of a repair step; belongs to refrig/service
)

// Range is a closed range; an end the source does not give is infinite.
type Range struct{ Lo, Hi float64 }

// Level is a needle's place against the band of healthy cars; for Resting
// against saturation; for Cycling and temperatures against what is usual.
type Level string

// The levels.
const (
	Vacuum Level = "vacuum" // below the atmosphere
	Low    Level = "low"
	Normal Level = "normal"
	High   Level = "high"
	Equal  Level = "equal" // the same on both sides
)

// Pattern is a reading in words. A case holds for every one of its Levels; if
// Swing is set the needle moves between the two Levels instead.
type Pattern struct {
	Levels []Level
	Swing  bool
}

// Want is what the source concludes. Fields that are empty claim nothing.
type Want struct {
	// Groups: the answer's group is one of these.
	Groups []diagnose.Group
	// InGroup: each of these conditions is a ranked member of one of Groups, or
	// of the answer's own group if Groups is empty.
	InGroup []car.ConditionID
	// AnyInGroup: at least one of these is.
	AnyInGroup []car.ConditionID
	// Top2: at least one of these is first or second.
	Top2 []car.ConditionID
	// NotNamed: the answer names none of these as settled.
	NotNamed []car.ConditionID
	// BandNormal: the pressures given overlap the middle 90 % of healthy cars.
	BandNormal bool
	// Liquid: "yes" if the resting pressure is saturation, so liquid remains;
	// "no" if it is too low for that.
	Liquid string
	// Sum names the sum of refrig/service whose limits Numbers holds: within
	// them the check passes, beyond them it does not.
	Sum string
	// Disputed says why we do not believe the source. Its claim, given in the
	// other fields, must then fail; when it starts to hold, look again.
	Disputed string
	// NotEnough says why the case cannot be tested.
	NotEnough string
}
