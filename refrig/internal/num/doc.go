// Package num holds the root finder of the model. It has a limit of iterations,
// fails with a [refrig.ConvergenceError] that carries the last iterate, and
// never returns NaN as a success.
package num
