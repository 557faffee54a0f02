package svg

import "math"

// Span is the extent of values.
type Span struct{ Lo, Hi float64 }

// NoSpan is that of none yet.
func NoSpan() Span { return Span{math.Inf(1), math.Inf(-1)} }

// Add takes them in.
func (s *Span) Add(values ...float64) {
	for _, v := range values {
		s.Lo, s.Hi = min(s.Lo, v), max(s.Hi, v)
	}
}

// Empty tells whether there were none.
func (s Span) Empty() bool { return s.Lo > s.Hi }

// Size is its length.
func (s Span) Size() float64 { return s.Hi - s.Lo }

// Round widens s to whole steps of a unit of that size, about twenty to the axis.
func (s Span) Round(unit float64) Span {
	step := Step(s.Size()/unit, 20) * unit
	return Span{math.Floor(s.Lo/step) * step, math.Ceil(s.Hi/step) * step}
}

// Padded returns s at least least wide and with a margin of part of its size;
// what was positive stays so, because a scale below zero would say vacuum.
func (s Span) Padded(least, part float64) Span {
	mid := (s.Lo + s.Hi) / 2
	half := max(s.Size(), least) / 2 * (1 + 2*part)
	p := Span{mid - half, mid + half}
	if s.Lo >= 0 && p.Lo < 0 {
		p = Span{0, p.Hi}
	}
	return p
}
