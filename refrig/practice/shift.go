package practice

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/sim"
)

// Shift is what a condition does to one reading of one car: the reading with it
// and without it, by the model and free of any instrument's error.
type Shift struct {
	Quantity     car.Quantity
	Sound, Found car.Reading
	// Way is 1 where the reading is higher with the condition, −1 where it is lower,
	// by enough to be noticed, and 0 where nobody would see a difference.
	Way int
}

// shifting are the readings a shift is told of, in the order they are told, and by
// how much each must move to be noticed.
var shifting = []struct {
	id     car.Quantity
	of     func(*sim.Truth) sim.Needle
	notice float64
}{
	{car.Low, func(t *sim.Truth) sim.Needle { return t.Low }, noticeLow},
	{car.High, func(t *sim.Truth) sim.Needle { return t.High }, noticeHigh},
	{car.Vent, func(t *sim.Truth) sim.Needle { return still(t.Vent) }, noticeVent},
	{car.DischargeLine, func(t *sim.Truth) sim.Needle { return still(t.Discharge) }, noticeDischarge},
	{car.SuctionLine, func(t *sim.Truth) sim.Needle { return still(t.Suction) }, noticeLine},
	{car.LiquidLine, func(t *sim.Truth) sim.Needle { return still(t.Liquid) }, noticeLine},
	{car.HighIdle, func(t *sim.Truth) sim.Needle { return still(t.HighIdle) }, noticeHigh},
	{car.Resting, func(t *sim.Truth) sim.Needle { return still(t.Resting) }, noticeLow},
}

func still(v float64) sim.Needle { return sim.Needle{Mean: v, Lo: v, Hi: v} }

func readingOf(n sim.Needle) car.Reading {
	if n.Swings {
		return car.Reading{Value: n.Mean, Lo: n.Lo, Hi: n.Hi, Swing: true}
	}
	return car.Reading{Value: n.Mean}
}

// Shifts compares the puzzle's car with the same car sound, in the same weather.
// Where the gauges are what is wrong, it compares both needles with what is truly in
// the car. A sound car has none. The readings are rounded as the student's are.
func (p *Puzzle) Shifts() []Shift {
	switch p.Truth.Cause {
	case car.Healthy:
		return nil
	case car.Gauge:
		return p.misread()
	}
	var out []Shift
	for _, k := range shifting {
		sound, found := k.of(&p.Sound), k.of(&p.Truth)
		out = append(out, Shift{k.id, rounded(k.id, readingOf(sound)), rounded(k.id, readingOf(found)), way(found.Mean-sound.Mean, k.notice)})
	}
	return out
}

// misread compares what the gauges show with what they should.
func (p *Puzzle) misread() []Shift {
	var out []Shift
	for _, k := range shifting[:2] {
		truly, shows := k.of(&p.Truth), p.Case.Readings[k.id]
		mid := shows.Value
		if shows.Swing {
			mid = (shows.Lo + shows.Hi) / 2
		}
		out = append(out, Shift{k.id, rounded(k.id, readingOf(truly)), shows, way(mid-truly.Mean, k.notice)})
	}
	return out
}

func way(d, notice float64) int {
	switch {
	case math.Abs(d) < notice:
		return 0
	case d > 0:
		return 1
	}
	return -1
}

// Causes lists what was done to the puzzle's car: one condition, two, or none.
func (p *Puzzle) Causes() []car.ConditionID {
	switch t := &p.Truth; {
	case t.Second != "":
		return []car.ConditionID{t.Cause, t.Second}
	case t.Cause == car.Healthy:
		return nil
	default:
		return []car.ConditionID{t.Cause}
	}
}
