package sim_test

import (
	"math"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/sim"
)

// What stays with a car must show in pairs: a sound car's needles on two visits go
// together, another car's of the same kind do not. Read in its own weather each time,
// so the share of the variance that stays is only part of what could stay; 0.25 is
// below what 600 pairs gave (a regression bound), and far from the other car's, for
// which the standard error of a correlation of 200 pairs is 0.07.
func TestACarResemblesItself(t *testing.T) {
	w := sim.World{Mixed: true, Spec: car.Spec{Refrigerant: car.R134a, Metering: car.ExpansionValve, Compressor: car.Fixed}}
	together := func(wrong sim.Wrong, n int) float64 {
		r := fleet.NewRand(11)
		var a, b []float64
		for len(a) < n {
			k, err := w.DrawPairAs(r, wrong)
			if err != nil || k.Truth.Cause != car.Healthy {
				continue
			}
			then, ok := k.Case.Earlier[0].Readings[car.High]
			now, okNow := k.Case.Readings[car.High]
			if !ok || !okNow || now.Swing {
				continue
			}
			// What weather does to the high side is, in first order, a proportion to the
			// outside temperature: 35 kPa a kelvin here.
			a = append(a, then.Value-35e3*(k.Case.Earlier[0].Weather.Ambient-300))
			b = append(b, now.Value-35e3*(k.Case.Weather.Ambient-300))
		}
		return correlation(a, b)
	}
	if got := together(sim.NotWrong, 250); got < 0.25 {
		t.Errorf("the same car's high sides correlate by %.2f", got)
	}
	if got := together(sim.AnotherCar, 250); math.Abs(got) > 0.21 {
		t.Errorf("another car's high sides correlate by %.2f", got)
	}
}

func correlation(a, b []float64) float64 {
	n := float64(len(a))
	var ma, mb, aa, bb, ab float64
	for i := range a {
		ma, mb = ma+a[i]/n, mb+b[i]/n
	}
	for i := range a {
		aa += (a[i] - ma) * (a[i] - ma)
		bb += (b[i] - mb) * (b[i] - mb)
		ab += (a[i] - ma) * (b[i] - mb)
	}
	return ab / math.Sqrt(aa*bb)
}

// Earlier visits hold steady readings, a weather and a date, and the charge only of
// the latest.
func TestPairsAreComplete(t *testing.T) {
	w := sim.World{Mixed: true}
	r := fleet.NewRand(5)
	visits := map[int]int{}
	for range 150 {
		k, err := w.DrawPair(r)
		if err != nil {
			continue
		}
		visits[len(k.Case.Earlier)]++
		for i, v := range k.Case.Earlier {
			if v.Weather.Ambient < 270 || v.Months < 0.5 || v.Refrigerant != k.Case.Car.Refrigerant || (i > 0 && v.Charge != 0) {
				t.Fatalf("visit %d: %+v", i, v)
			}
			for q, x := range v.Readings {
				if x.Swing || !sim.ReadThen(q) || math.IsNaN(x.Value) {
					t.Fatalf("visit %d holds %s %+v", i, q, x)
				}
			}
		}
		before := k.Case.Readings[car.Vent]
		k.AgainPair(r)
		if k.Case.Readings[car.Vent] == before {
			t.Error("read again, the vent shows the very same")
		}
	}
	if visits[1] == 0 || visits[2] == 0 || visits[3] == 0 || visits[0] != 0 {
		t.Errorf("numbers of visits: %v", visits)
	}
}

// Shortage takes time. Of undamaged cars 6.9 % of the charge is gone after a year on
// average [OekoRecherche2003], so a car full by weight a month ago is hardly short,
// and after five years it is likelier short than a car of unknown history.
func TestLeakOddsGrow(t *testing.T) {
	last := 0.0
	for _, months := range []float64{0, 1, 6, 14, 36, 60, 120} {
		for _, charge := range []float64{1, 0} {
			short, empty := sim.LeakOdds(months, charge)
			if !(short > 0 && empty > 0 && short < 3 && empty < 12) {
				t.Errorf("%g months: %g, %g", months, short, empty)
			}
			if charge == 1 {
				if short < last {
					t.Errorf("odds of a shortage fall to %g at %g months", short, months)
				}
				last = short
			}
		}
		full, _ := sim.LeakOdds(months, 1)
		perhaps, _ := sim.LeakOdds(months, 0)
		if perhaps < full {
			t.Errorf("%g months: an unweighed car is less likely short (%g) than a weighed one (%g)", months, perhaps, full)
		}
	}
	month, _ := sim.LeakOdds(1, 1)
	years, _ := sim.LeakOdds(60, 1)
	if month > 0.05 || years < 1 {
		t.Errorf("after a month %g, after five years %g", month, years)
	}
}
