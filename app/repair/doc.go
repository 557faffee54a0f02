// Package repair is the Job place, the work after the answer with its sums, and the
// customer's sheet about it.
//
//	work.go      what the place keeps: which steps are open, what is done
//	repair.go    one card a step, in the order of the work
//	find.go recover.go retest.go evacuate.go charge.go    the steps; find.go has the check at
//	             rest, charge.go the proof
//	hold.go      the hold test after the vacuum; clock.go a clock that runs beside it
//	log.go       the car watched over time: readings, clicks of the clutch
//	record.go    notes, who and whose; visits.go the car's earlier visits; files.go what leaves and comes; qr.go
//	sums/        what was typed as the inputs of refrig/service, a package of its own
//	parts.go     how a sum, a check and a source are shown; controls.go texts, chips and menus
//	customer.go  one sheet in plain words, also for somebody who was sent it
package repair
