package judge

import (
	"maps"
	"math"
	"slices"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/sim"
)

// PlanScore is what three measurements bring, in bit of log-loss, averaged over
// faulty cars: chosen one after the other by expected gain, by the best order that
// is the same for every car, and by measuring everything.
type PlanScore struct {
	Cars                    int
	Start, Plan, Fixed, All float64
	FixedOrder              []car.Quantity
}

// Share is the part of the reduction of measuring everything that the plan brings.
func (s PlanScore) Share() float64 { return (s.Start - s.Plan) / math.Max(s.Start-s.All, 1e-9) }

// Planned are the measurements a plan may choose from. Weighing what is recovered
// is the most telling and the most costly; the report scores plans with and
// without it.
func Planned() []car.Quantity {
	return []car.Quantity{car.Vent, car.DischargeLine, car.SuctionLine, car.LiquidLine, car.Resting, car.Cycling,
		car.WaterTest, car.HighIdle, car.EqualiseTime}
}

// add copies reading q of a car into c; a look at idle reads both needles.
func add(c *car.Case, from car.Readings, q car.Quantity) {
	c.Readings[q] = from[q]
	if q == car.HighIdle {
		c.Readings[car.LowIdle] = from[car.LowIdle]
	}
}

func copied(c car.Case) car.Case {
	c.Readings = maps.Clone(c.Readings)
	return c
}

// PlanTrial scores plans made of the measurements in planned on the faulty cars
// among samples, starting from two needles, ambient and humidity.
func PlanTrial(m *diagnose.Model, samples []sim.Sample, planned []car.Quantity) (PlanScore, error) {
	const picks = 3
	var s PlanScore
	posterior := Posterior(m)
	var cars []*sim.Sample
	for i := range samples {
		k := car.Index(samples[i].Truth.Answer())
		if k != car.Index(car.Healthy) && k != car.Index(car.NoneOfThese) && k != car.Index(car.Gauge) {
			cars = append(cars, &samples[i])
		}
	}
	s.Cars = len(cars)
	loss := func(c car.Case, one *sim.Sample) (float64, error) {
		p, err := posterior(c)
		if err != nil {
			return 0, err
		}
		return -math.Log2(math.Max(p[car.Index(one.Truth.Answer())], 1e-6)), nil
	}
	sum := func(into *float64, c car.Case, one *sim.Sample) error {
		l, err := loss(c, one)
		*into += l / float64(len(cars))
		return err
	}
	for _, one := range cars {
		start := ReadingSets()[1].Keep(one.Case)
		plan, all := copied(start), copied(start)
		for range picks {
			next, err := m.Next(plan)
			if err != nil {
				return s, err
			}
			best := diagnose.Next{}
			for _, n := range next {
				if n.Gain > best.Gain && slices.Contains(planned, n.Quantity) {
					best = n
				}
			}
			if best.Quantity != "" {
				add(&plan, one.Case.Readings, best.Quantity)
			}
		}
		for _, q := range planned {
			add(&all, one.Case.Readings, q)
		}
		for _, k := range []struct {
			into *float64
			c    car.Case
		}{{&s.Start, start}, {&s.Plan, plan}, {&s.All, all}} {
			if err := sum(k.into, k.c, one); err != nil {
				return s, err
			}
		}
	}
	s.Fixed = math.Inf(1)
	for i := range planned {
		for j := i + 1; j < len(planned); j++ {
			for k := j + 1; k < len(planned); k++ {
				order := []car.Quantity{planned[i], planned[j], planned[k]}
				total := 0.0
				for _, one := range cars {
					c := copied(ReadingSets()[1].Keep(one.Case))
					for _, q := range order {
						add(&c, one.Case.Readings, q)
					}
					if err := sum(&total, c, one); err != nil {
						return s, err
					}
				}
				if total < s.Fixed {
					s.Fixed, s.FixedOrder = total, order
				}
			}
		}
	}
	return s, nil
}
