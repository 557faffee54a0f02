// Package learn lets confirmed jobs speak: cars whose condition was found at the car,
// not guessed from the gauges. It reads them from files (read.go), learns a shop's own
// odds and where its sound readings stand (learn.go), puts that into numbers for people
// (told.go), and judges the answers on them (validate.go). It stands above package
// diagnose, whose networks it leaves alone: what is learnt is a few numbers
// ([diagnose.Lessons]).
//
// Two learn by it: the page from the jobs its device keeps ([Of] a job, once, and all of
// them [Together]), and whoever puts files of several shops together ([Learn], which
// answers every job to learn how sharp the answers should be besides).
//
// # What is learnt from what
//
// The odds before anything is read: a Dirichlet distribution round the shares the model
// starts from ([diagnose.Model.Shares]: the survey counts of sim/priors.csv, less what is
// within reserve), worth as many jobs as PriorJobs, and the conditions found. A shop with
// few jobs keeps the survey's odds, one with hundreds has its own. They are taken only
// where they foretell what was found better than the survey's, each find from the others.
//
// Where low side, high side and vent of sound cars stand: a normal model in which a shop's
// (its gauges', its thermometer's, its cars') offset is drawn round nought with OffsetSd,
// and each car round that with the spread of its kind. Cars read again after a repair that
// was proved count here, and not among the conditions found. An offset is taken only where
// the readings speak against there being none.
//
// Nothing is learnt from fewer than LeastJobs, and nothing beyond what
// [diagnose.Model.With] allows. The constants are judgement, and what they do was tried in
// worlds unlike home (TestLittleDoesNoHarmAndMuchHelps).
//
// # The file
//
// Comma-separated values in UTF-8, a heading line, then a line a car:
//
//	month             2026-07; no day, no place, no name
//	refrigerant       R134a, R1234yf, R12 or empty
//	metering          orifice_tube, expansion_valve or empty
//	compressor        fixed, variable, electric or empty
//	outside_C         temperature of the air at the condenser, °C
//	humidity_percent  relative; empty if not measured
//	altitude_m        empty for sea level
//	rpm               engine speed; empty if not known
//	low_kPa, high_kPa gauge pressures; a swing as 150/310; empty if not read
//	vent_C            empty if not read
//	found             what was found at the car: a code of package car
//	after             yes for a sound car read after its repair was proved, else empty
//
// Columns may stand in any order; others are refused, so that a name typed into a file
// by mistake is not read by mistake. A line that cannot be is refused with its number
// and its field, as is a line that was there before; the rest is kept.
package learn
