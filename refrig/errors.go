package refrig

import "fmt"

// RangeError reports a value outside the range in which an equation, a table or
// an instrument holds. The caller finds it through wrapping with [errors.As].
type RangeError struct {
	Quantity string  // what it is, in the field's words: "evaporating temperature"
	Value    float64 // what was given, in Unit
	Min, Max float64 // the limits, in Unit
	Unit     string  // "K", "Pa"; "" for a ratio
	Source   string  // reference key of the limit, or "judgement"
}

func (e *RangeError) Error() string {
	u := e.Unit
	if u != "" {
		u = " " + u
	}
	s := fmt.Sprintf("%s %.6g%s is outside %.6g to %.6g%s", e.Quantity, e.Value, u, e.Min, e.Max, u)
	if e.Source != "" {
		s += " [" + e.Source + "]"
	}
	return s
}

// UnknownError reports a name that is none of those known: a refrigerant, a choice.
type UnknownError struct {
	What  string   // what it names: "refrigerant"
	Value string   // what was given
	Known []string // what may be given
}

func (e *UnknownError) Error() string {
	return fmt.Sprintf("%s %q is none of %q", e.What, e.Value, e.Known)
}

// ConvergenceError reports an iteration that stopped at its limit. Last holds
// the last iterate, so that a failure can be looked at.
type ConvergenceError struct {
	What       string    // what was being solved
	Iterations int       // how many steps were spent
	Residual   float64   // size of what was left, in the solver's scaled measure
	Last       []float64 // the last iterate
}

func (e *ConvergenceError) Error() string {
	return fmt.Sprintf("%s did not converge in %d iterations (residual %.3g, last iterate %.6g)",
		e.What, e.Iterations, e.Residual, e.Last)
}
