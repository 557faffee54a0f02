package cycle_test

import (
	"math"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
)

// randomCase draws a car of any kind, any weather a workshop sees and any fault
// at any severity: the ground that robustness is claimed on. The draws are wider
// than those package diagnose makes, on purpose.
func randomCase(seed uint64) (*cycle.Plant, cycle.Fault, cycle.Conditions, error) {
	r := fleet.NewRand(seed)
	p, err := fleet.Draw(r, car.Spec{Refrigerant: []string{car.R134a, car.R1234yf, car.R12}[r.IntN(3)]}, 1.3)
	if err != nil {
		return nil, cycle.Fault{}, cycle.Conditions{}, err
	}
	return p, randomFault(r, p), randomConditions(r), nil
}

func uniform(r *fleet.Rand, lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

func geometric(r *fleet.Rand, lo, hi float64) float64 {
	return lo * math.Pow(hi/lo, r.Float64())
}

func randomConditions(r *fleet.Rand) cycle.Conditions {
	c := cycle.Conditions{
		Ambient: uniform(r, 281, 320), PAtm: uniform(r, 75e3, 103e3), RPM: uniform(r, 650, 3000),
		Blower: uniform(r, 0.35, 1), Recirc: r.Float64() < 0.3, WaterOn: r.Float64() < 0.1,
	}
	dew := math.Min(uniform(r, 265, 300), c.Ambient-0.5) // outdoor dew points seldom pass 27 °C
	c.Humidity = air.PSatWater(dew) / air.PSatWater(c.Ambient)
	if r.Float64() < 0.4 {
		c.RamAir = uniform(r, 0, 0.5)
	}
	c.BonnetShut = r.Float64() < 0.2
	if r.Float64() < 0.4 {
		c.DoorsShut, c.Minutes = true, geometric(r, 0.5, 60)
	}
	return c
}

// randomFault draws no fault, one fault or, now and then, two.
func randomFault(r *fleet.Rand, p *cycle.Plant) cycle.Fault {
	f := cycle.Sound()
	size := p.Charge / 0.6
	n := 1
	if r.Float64() < 0.15 {
		n = 2
	}
	for range n {
		switch r.IntN(14) {
		case 0: // none
		case 1:
			f.Charge = uniform(r, 0.25, 0.95)
		case 2:
			f.Charge = uniform(r, 1.05, 1.75)
		case 3:
			f.AirPressure = geometric(r, 5e3, 300e3)
		case 4:
			f.CondAir = geometric(r, 0.2, 0.9)
			f.CondHeat = uniform(r, 0, 20)
			if r.Float64() < 0.3 { // at idle only
				f.CondAir, f.IdleAir = 1, geometric(r, 0.2, 0.9)
			}
		case 5:
			f.EvapAir = geometric(r, 0.15, 0.9)
		case 6:
			f.LiquidArea = size * geometric(r, 0.08e-6, 2e-6)
		case 7:
			f.SuctionArea = size * geometric(r, 8e-6, 60e-6)
		case 8:
			f.MeterArea = geometric(r, 0.08, 3)
		case 9:
			if p.Metering == car.ExpansionValve {
				f.ValveStuck, f.ValveOpening = true, geometric(r, 0.03, 1.6)
			}
		case 10:
			f.LeakArea = size * geometric(r, 0.5e-6, 5e-6)
			f.EtaV = uniform(r, 0.6, 1)
		case 11:
			f.Speed = uniform(r, 0.2, 0.95)
		case 12:
			f.StrokeStuck = geometric(r, 0.06, 1)
		case 13:
			f.CutShift, f.FinShift = uniform(r, -110e3, 110e3), uniform(r, -9, 9)
			f.NoCut = r.Float64() < 0.2
		}
	}
	return f
}
