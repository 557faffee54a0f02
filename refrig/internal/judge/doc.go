// Package judge counts how often package diagnose is right and whether it is as
// sure as it should be, on simulated cars (package sim) never used in fitting.
//
//	trial.go  [Trial]: hits, log-loss, calibration, healthy cars accused, by [ReadingSet]
//	plan.go   [PlanTrial]: what the proposed measurements bring
//	pair.go   [PairTrial]: cars with two faults at once
//	worlds.go worlds unlike the one the model was fitted to
//	brute.go  [Brute]: Bayes' rule over simulated cars with nothing in between, the
//	          witness of the fitted posterior
//
// Its tests hold the claims of diagnose's doc.go on a few thousand cars; the command
// refrig/diagnose/cmd/report measures the same on more and writes testdata/report.
// Nothing of it is in the page: it knows the model only by what it answers.
package judge
