// Package claim is all that is claimed of an answer. Every place takes it from here, so
// that no two of them can say different things of one answer; a test holds it against
// random and published cases, in every language. It knows words and reports, and no page.
//
// Reading order:
//
//	claim.go   a report → the verdict, its sentences, what is ranked in the open, the next step
//	reason.go  the part of one reading in it
//	rest.go    two needles of a car at rest, or of one of which that is not known
package claim
