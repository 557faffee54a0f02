package cycle_test

import (
	"errors"
	"math"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
)

// Any weather and any fault on any car gives a finite state that closes, or an
// error of a known type.
func FuzzSolve(f *testing.F) {
	f.Add(uint64(1), 308.0, 0.4, 101325.0, 1500.0, 1.0, 1.0, 1.0, 1.0, 0.0, 0.0)
	f.Add(uint64(2), 250.0, 1.0, 60000.0, 7000.0, 0.03, 0.02, 4.0, 0.05, 1e-8, 1e-6)
	f.Add(uint64(3), 332.0, 0.0, 110e3, 250.0, 1.4, 4.5, 0.03, 4.0, 1e-5, 5e-6)
	f.Add(uint64(4), math.NaN(), 0.5, 101325.0, 1500.0, 1.0, 1.0, 1.0, 1.0, 0.0, 0.0)
	f.Add(uint64(5), 308.0, 0.5, 101325.0, math.Inf(1), 0.0, -1.0, 1.0, 1.0, 0.0, -1.0)
	f.Fuzz(func(t *testing.T, seed uint64, ambient, humidity, pAtm, rpm, blower, charge, condAir, evapAir, liquid, suction float64) {
		p, err := fleet.Draw(fleet.NewRand(seed), car.Spec{}, 1)
		if err != nil {
			t.Skip()
		}
		ft := cycle.Sound()
		ft.Charge, ft.CondAir, ft.EvapAir, ft.LiquidArea, ft.SuctionArea = charge, condAir, evapAir, liquid, suction
		c := cycle.Conditions{Ambient: ambient, Humidity: humidity, PAtm: pAtm, RPM: rpm, Blower: blower}
		r, err := cycle.Solve(p, ft, c)
		var ranged *refrig.RangeError
		var conv *refrig.ConvergenceError
		var audit *cycle.AuditError
		switch {
		case err == nil:
			for _, x := range []float64{r.Low, r.High, r.Vent, r.DischargeLine, r.Subcooling, r.MassFlow, r.Cooling, r.Power, r.CyclesPerMin, r.HighSwing[0], r.HighSwing[1], r.LowSwing[0], r.LowSwing[1]} {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Errorf("not finite: %+v", r)
				}
			}
		case !errors.As(err, &ranged) && !errors.As(err, &conv) && !errors.As(err, &audit):
			t.Errorf("an error of no type: %v", err)
		}
	})
}

// What the equations are not for is refused by name.
func TestSolveRefuses(t *testing.T) {
	p := typical(t, orifice, car.R134a)
	bad := func(what string, change func(f *cycle.Fault, c *cycle.Conditions)) {
		f, c := cycle.Sound(), hot
		change(&f, &c)
		_, err := cycle.Solve(p, f, c)
		var r *refrig.RangeError
		if !errors.As(err, &r) || r.Quantity != what {
			t.Errorf("%s: got %v", what, err)
		}
	}
	bad("outside temperature", func(f *cycle.Fault, c *cycle.Conditions) { c.Ambient = 35 }) // °C for K
	bad("atmospheric pressure", func(f *cycle.Fault, c *cycle.Conditions) { c.PAtm = 0 })
	bad("engine speed", func(f *cycle.Fault, c *cycle.Conditions) { c.RPM = math.NaN() })
	bad("blower setting", func(f *cycle.Fault, c *cycle.Conditions) { c.Blower = 0 })
	bad("charge over label charge", func(f *cycle.Fault, c *cycle.Conditions) { *f = cycle.Fault{} }) // not a sound car
	defer func() {
		if recover() == nil {
			t.Error("a plant of unknown kind is solved")
		}
	}()
	_, _ = cycle.Solve(&cycle.Plant{}, cycle.Sound(), hot)
}
