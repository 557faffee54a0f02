// Package num holds the two root finders of the model. Both have a limit of
// iterations and fail with a [refrig.ConvergenceError] that carries the last
// iterate; neither returns NaN as a success.
package num
