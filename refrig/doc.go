// Package refrig holds the words shared by everything below it: pressures that
// know whether they are gauge or absolute, temperatures, typed failures,
// warnings and the bibliography.
//
// Reading order of the subpackages:
//
//	eos       properties of refrigerants from their Helmholtz energy equations
//	fast      the same properties from tables held to eos by a tested error
//	air       moist air, the standard atmosphere, saturation of water
//	car       what a technician knows of a car, its weather and how it runs
//	unit      units of the trade, numbers as they are typed and written
//	cycle     car + weather + fault → what gauges and thermometers would show
//	fleet     draws cars: sizes and settings with their spread
//	makers    the fleet held against makers' published tables and fitted to them
//	sim       draws a car with a condition and reads it
//	diagnose  readings → how likely each condition is, why, what to measure next
//	catalogue what a person can read about each condition
//	service   the sums of a repair
//	learn     what confirmed jobs teach the diagnosis
//	practice  hidden faults to read, marked honestly
//
// Units are SI: Pa, K, kg, m, s, J. A float64 whose unit is not in its type
// carries it in its name or its doc comment. Pressures are absolute unless the
// type is [Gauge]. Conversions to psi, bar, °F and the like are package unit's.
//
// What the model is not: it is not a model of any particular make of car, it
// knows no transient longer than a clutch cycle, and it has never seen a
// measured car. Each subpackage says what that costs.
package refrig
