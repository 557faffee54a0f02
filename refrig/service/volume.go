package service

import "twoneedles/refrig/car"

// largestVolume is what a system of 20 kg, the largest label taken, holds at the most, and
// a quarter more, m³; the upper limit of an estimate reaches half as far again.
const largestVolume = 0.1

// Volume returns the inner volume of a system in m³ with worst-case limits, for the
// mass left in it and for leak rates. No source that could be read gives inner
// volumes of vehicle systems, so all of it is judgement:
//
// With a label charge, V = charge / 260 kg/m³: 0.55 kg in the 2.1 l that condenser
// (0.65 l), evaporator (0.6 l), receiver (0.36 l) and lines (0.5 l) of a middling
// car add up to; hoses, receivers and the filling rule differ between cars, hence
// −30 %, +45 %.
//
// Without a label, by size: 1.4, 2.1 and 3.1 l from the middle of the usual charges
// 350–550, 500–750 and 700–1000 g (common practice) over the same density, and half
// as much again for a second evaporator with its lines; −45 %, +70 %.
func Volume(s car.Spec) Estimate {
	if s.LabelCharge > 0 {
		v := s.LabelCharge / 260
		return Estimate{v, 0.70 * v, 1.45 * v}
	}
	v := 2.1e-3
	switch s.Size {
	case car.SizeSmall:
		v = 1.4e-3
	case car.SizeLarge:
		v = 3.1e-3
	}
	if s.Evaporators == 2 {
		v *= 1.5
	}
	return Estimate{v, 0.55 * v, 1.70 * v}
}
