// Package job holds what survives the page: everything the user typed, as it
// was typed, with the units it was typed in. It never holds a result; results
// are computed again from it.
//
// Reading order:
//
//	job.go      Job: inputs only
//	case.go     Job → diagnose.Case, with a Problem per doubtful input
//	numbers.go  the numbers of the repair, the hold test, the car at rest
//	earlier.go  the visits of a car in order, as rulers for it later
//	past.go     the same as they go along with a job that is handed on
//	table.go    the maker's table of this car, read and drawn through
//	units.go    the same job in other units
//	scope.go    cars that are recognised and not judged
//	policy.go   per field: kept in the browser, in a link, in a file
//	restore.go  anything from outside → Job, old versions brought up
//	clean.go    what a Job from outside may hold
//	link.go     Job ⇄ URL fragment
//	store.go    the list of jobs over a tiny Storage; package keep is the one that lasts
//	entry.go    what a list shows of a job, and by what it is found
//	difference.go  where two states of a job differ
//	file.go     export and import, CSV
//	confirmed.go  causes found at the car, as a file that refrig/learn reads
//	examples.go invented cars to start from
//
// SCHEMA.md documents the file.
package job
