package practice

import (
	"math"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// Answer is what a student commits to.
type Answer struct {
	Condition car.ConditionID // "" is "cannot tell yet"
	// Confidence is the chance the student gives the condition, Least…Most.
	Confidence float64
}

// CannotTell reports whether the answer claims nothing.
func (a Answer) CannotTell() bool { return a.Condition == "" }

// Least and Most bound a stated confidence. Nobody is surer of a car than forty
// nine in fifty, and a logarithm needs an end. judgement
const (
	Least = 0.02
	Most  = 0.98
)

// Confidences are the steps the screen offers. judgement: what people can tell
// apart.
var Confidences = []float64{0.25, 0.5, 0.75, 0.9, Most}

func (a Answer) check() error {
	if a.CannotTell() || a.Confidence >= Least && a.Confidence <= Most {
		return nil
	}
	v := a.Confidence
	if math.IsNaN(v) || math.IsInf(v, 0) {
		v = -1
	}
	return &refrig.RangeError{Quantity: "confidence", Value: v, Min: Least, Max: Most, Source: "judgement"}
}

// Points is the logarithmic score of naming one of n conditions with the stated
// confidence c, the rest of the chance spread evenly over the others:
//
//	100 log₂(n c) / log₂ n                   if right
//	100 log₂(n (1 − c)/(n − 1)) / log₂ n     if wrong
//
// 100 is certain and right, 0 is knowing nothing (c = 1/n), below 0 is worse
// than saying nothing. The logarithmic score is proper: whoever believes p gets
// most on average by saying c = p, and by naming the condition with the highest
// p [Good1952].
func Points(n int, c float64, right bool) float64 {
	if n < 2 || !(c > 0 && c < 1) {
		panic("practice: Points of no choice or no chance")
	}
	k := float64(n)
	share := c
	if !right {
		share = (1 - c) / (k - 1)
	}
	return 100 * math.Log2(k*share) / math.Log2(k)
}

// EvenPoints is what "cannot tell yet" earns where it is right: the average of
// an honest even bet. Who is less than half sure of any condition does better by
// saying so than by naming one; and the diagnosis calls that case, no condition
// at one half, CannotTell as well.
func EvenPoints(n int) float64 { return (Points(n, 0.5, true) + Points(n, 0.5, false)) / 2 }
