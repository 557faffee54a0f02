// Package readings is the place where the work starts: two needles and the outside
// air on one side, what they mean on the other.
//
//	readings.go      the place, put together from
//	early.go         what stands there before the program has come; behind.go what waits
//	                 because it is off the screen
//	entry.go         the two needles, outside and vent air, units; whether the engine
//	                 runs, and the needles at rest; the bar that stays in view;
//	                 heat.go what a needle's pressure means as a temperature
//	settings.go      air, engine and car, with what is assumed
//	table.go         the maker's table of this car
//	measurements.go  every further measurement
//	example.go       whose readings these are, and invented cars
//	picture.go       the pressure plane, moved by tap and arrow keys
//	weather.go       both needles across the outside temperature; published.go the
//	                 published tables in it
//	loop.go          the loop with what was read where and the suspect parts
//	answer.go        verdict, ranking, pattern, reasons; announce.go reads it out
//	earlier.go       what this very car read before, when it was in order; years.go every visit over time
//	next.go          the next step, with the field of the measurement it asks for
//	share.go         link, print, cautions before coupling
package readings
