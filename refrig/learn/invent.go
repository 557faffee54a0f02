//go:build !js

package learn

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/sim"
)

// InventedWorld is where the invented shops stand: condensers, compressors and gauges
// other than those the networks were fitted to, and other things that break. It is what
// the learning is tried on, and says nothing of real shops. Judgement throughout.
func InventedWorld() sim.World {
	return sim.World{
		Change: func(p *cycle.Plant) {
			p.EtaV0 *= 0.9
			p.CondUAAir *= 0.8
			p.CondUARef *= 0.8
			p.CondPreheat += 3
		},
		Mistake: func(in *sim.Instruments) { in.LowZero += 12e3; in.HighZero += 20e3 },
	}
}

// inventedOdds are factors on the survey's odds: an old, dusty town where people top up
// by themselves.
var inventedOdds = map[car.ConditionID]float64{
	car.Undercharge: 0.35, car.Overcharge: 4, car.Air: 3, car.CondenserAirflow: 2.5,
	car.Healthy: 0.6, car.WeakCompressor: 1.5, car.WrongRefrigerant: 2,
}

// InventCar draws a car of the invented world with a condition by its odds.
func InventCar(r *fleet.Rand) (sim.Sample, error) {
	spec := fleet.Complete(r, car.Spec{})
	p := sim.PriorOf(spec)
	for id, f := range inventedOdds {
		p[car.Index(id)] *= f
	}
	return inventOf(r, car.Conditions()[sim.Pick(p, r)], spec)
}

func inventOf(r *fleet.Rand, id car.ConditionID, spec car.Spec) (sim.Sample, error) {
	w := InventedWorld()
	return w.DrawOf(r, id, spec, 1)
}

// provedShare is how many invented jobs end with a reading of the repaired car.
const provedShare = 0.8

// Invent writes a file of n invented jobs, and of cars read after their repair besides.
func Invent(w io.Writer, n int, seed uint64) error {
	out := csv.NewWriter(w)
	if err := out.Write(Columns()); err != nil {
		return err
	}
	r := fleet.NewRand(seed)
	write := func(s *sim.Sample, found car.ConditionID, after string) error {
		c := &s.Case
		kPa := func(q car.Quantity) string {
			v := c.Readings[q]
			if v.Swing {
				return fmt.Sprintf("%.0f/%.0f", v.Lo/1e3, v.Hi/1e3)
			}
			return fmt.Sprintf("%.0f", v.Value/1e3)
		}
		return out.Write([]string{fmt.Sprintf("2026-%02d", 5+r.IntN(5)), c.Car.Refrigerant, c.Car.Metering.Code(), c.Car.Compressor.Code(),
			fmt.Sprintf("%.1f", c.Weather.Ambient-273.15), fmt.Sprintf("%.0f", 100*c.Weather.Humidity), fmt.Sprintf("%.0f", math.Max(c.Weather.Altitude, 0)), fmt.Sprintf("%.0f", c.Running.RPM),
			kPa(car.Low), kPa(car.High), fmt.Sprintf("%.1f", c.Readings[car.Vent].Value-273.15), string(found), after})
	}
	for k := 0; k < n; {
		s, err := InventCar(r)
		if err != nil {
			continue
		}
		k++
		if err := write(&s, s.Truth.Answer(), ""); err != nil {
			return err
		}
		if r.Float64() >= provedShare {
			continue
		}
		if s, err = inventOf(r, car.Healthy, fleet.Complete(r, car.Spec{})); err != nil {
			continue
		}
		if err := write(&s, car.Healthy, "yes"); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}
