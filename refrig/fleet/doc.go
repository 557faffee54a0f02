// Package fleet draws cars: plants whose sizes, settings and efficiencies are
// spread as they are from one workshop bay to the next.
//
// # Where the numbers are from
//
// Medians are judgement in the range of what is sold. Three things were set with
// makers' tables of sound cars in view, in the middle and not cell by cell: a
// compressor of 135 cm³ and a coil's air of 0.125 kg/s, without which the low side
// and the vents of our cars were too warm from 30 °C up; fans that step up with the
// high side and hot air that returns to it, without which the high side was too low
// on a mild day and at idle. So agreement of our bands with such tables in level is
// calibration, not validation; their shape against weather, the differences between
// refrigerants and the response to faults were tuned to nothing but what the tests
// of package cycle name (both ends of the charge curve). Spreads are judgement
// unless a line says otherwise. Every number of a plant is one row of the table in
// sizes.go, with its spread and its source; calibration.csv then shifts and widens
// some of them to what makers' tables say (calibration.go).
//
// What varies together is the size of the whole system: one factor scales
// displacement, air flows, conductances and volumes; each then varies on its own
// by its own row. Everything else is drawn independently, which real makers do
// not do (a large compressor comes with a large condenser beyond that factor), so
// the fleet is if anything too wide.
//
// # What is drawn
//
// [Complete] answers the questions that a [car.Spec] leaves open, by how common
// the answers are. [Draw] draws the sizes and then the label charge, not as a
// number of its own but as what fills the store of this plant to a drawn level at
// a design condition ([cycle.Size]): so the charge reserve, which decides whether
// a shortage can be seen, is spread as well. [Typical] is the car with every size
// at its median. The same seed gives the same car on every machine; a test holds
// a table of them, natively and in wasm.
//
// [DrawUnder] draws cars that obey other laws than the standard ones, to see how
// the diagnosis fares on cars that our equations do not describe.
//
// # Beside published tables
//
// testdata/golden/cycle/published_bands.txt sets every published range of normal
// pressures beside what the fleet shows in that weather and says why they differ.
// In short: the high side agrees with the one table that was read, though ours
// rises more steeply with outside air; that table's low side is the bottom of a
// clutch cycle, which our cars, taking hot outside air at full blower, do not
// reach on warm days; cards without a source contradict both. None of it was
// tuned away.
//
// # What this is not
//
// A sample of real cars. It has no makes or model years, no correlation between
// age and wear, and no electric car with a second evaporator for its battery.
package fleet
