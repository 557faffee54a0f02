package diagnose

import (
	"sync"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/internal/nets"
	"twoneedles/refrig/sim"
)

// driftSteps are the severities of a drift line.
var driftSteps = []float64{0, 0.25, 0.5, 0.75, 1}

// drifts keeps the lines of the last car and weather: they do not depend on the
// needles, and a keystroke mostly changes those.
type drifts struct {
	mu    sync.Mutex
	key   driftKey
	plant *cycle.Plant
	sound cycle.Result
	lines map[car.ConditionID][]DriftPoint
}

type driftKey struct {
	car car.Spec
	run cycle.Conditions
}

// of returns the drift of each of conds that is a steady state, solved for the
// median car and moved so that its sound state lies at centre. A severity without
// a solution is left out; a car without one has no drifts.
func (d *drifts) of(c *car.Case, sc *nets.Scaler, centre [2]float64, conds []car.ConditionID) []Drift {
	d.mu.Lock()
	defer d.mu.Unlock()
	if k := (driftKey{c.Car, conditionsOf(c, sc)}); d.lines == nil || k != d.key {
		plant, err := fleet.Typical(c.Car)
		if err != nil {
			return nil
		}
		sound, err := cycle.Solve(plant, cycle.Sound(), k.run)
		if err != nil {
			return nil
		}
		d.key, d.plant, d.sound, d.lines = k, plant, sound, map[car.ConditionID][]DriftPoint{}
	}
	rl := (centre[0] + sc.Atm) / (d.sound.Low + sc.Atm)
	rh := (centre[1] + sc.Atm) / (d.sound.High + sc.Atm)
	var out []Drift
	for _, id := range conds {
		if !sim.IsSteady(id) {
			continue
		}
		line := Drift{Condition: id, Points: []DriftPoint{{0, centre[0], centre[1]}}}
		for _, p := range d.line(id) {
			line.Points = append(line.Points, DriftPoint{p.Severity, (p.Low+sc.Atm)*rl - sc.Atm, (p.High+sc.Atm)*rh - sc.Atm})
		}
		out = append(out, line)
	}
	return out
}

// line solves the median car for each severity of a condition.
func (d *drifts) line(id car.ConditionID) []DriftPoint {
	if l, ok := d.lines[id]; ok {
		return l
	}
	var line []DriftPoint
	for _, s := range driftSteps {
		f, _ := sim.Effect(id, d.plant, s, fleet.NewRand(7)) // the same draw for every severity: one line
		if res, err := cycle.Solve(d.plant, f, d.key.run); err == nil {
			line = append(line, DriftPoint{0.1 + 0.9*s, res.Low, res.High})
		}
	}
	d.lines[id] = line
	return line
}

// minutesShut is how long a cabin with its doors shut has been cooled when the
// gauges are read. Judgement.
const minutesShut = 8

func conditionsOf(c *car.Case, sc *nets.Scaler) cycle.Conditions {
	k := cycle.Conditions{Ambient: c.Weather.Ambient, Humidity: c.Weather.Humidity, PAtm: sc.Atm,
		RPM: c.Running.RPM, Blower: c.Running.Blower, Recirc: c.Running.Recirc}
	if c.Running.Doors == car.DoorsClosed {
		k.DoorsShut, k.Minutes = true, minutesShut
	}
	return k
}
