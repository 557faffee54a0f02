package chart

import (
	"twoneedles/chart/svg"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// PlaneAt is the way back from the picture of [Plane]: the pressures in Pa gauge
// at the point that lies at the fractions x of its width, from the left, and y
// of its height, from the top. ok is false outside the axes.
func PlaneAt(p diagnose.Plane, r Reading, leaders []car.ConditionID, o Options, x, y float64) (low, high float64, ok bool) {
	v := planeView{plane: p, now: r, leaders: leaders, kind: "plane"}
	if o.Check() != nil || v.check() != nil {
		return 0, 0, false
	}
	l, h := v.limits(&o, v.drifts())
	a := planeArea
	fx := (x*planeW - a.X0) / (a.X1 - a.X0)
	fy := (a.Y1 - y*planeH) / (a.Y1 - a.Y0)
	if !(fx >= 0 && fx <= 1 && fy >= 0 && fy <= 1) {
		return 0, 0, false
	}
	return l.Lo + fx*l.Size(), h.Lo + fy*h.Size(), true
}

// planeW and planeH are the size of the plane's canvas, planeArea is where its
// axes stand.
const planeW, planeH = 360, 340

var planeArea = svg.Rect{X0: 52, Y0: 34, X1: 348, Y1: 292}
