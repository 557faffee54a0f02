package chart

import (
	"fmt"
	"math"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// The tests stand outside the package, as they look at the pictures of package loop too;
// this is what they and the few inside have in common.

// Size of the pressure plane.
const PlaneW, PlaneH = planeW, planeH

// SamplePlane is an invented one.
func SamplePlane() diagnose.Plane {
	centre := [2]float64{215e3, 1.55e6}
	region := func(level, a, b float64) diagnose.Region {
		r := diagnose.Region{Level: level}
		for k := range 24 {
			t := 2 * math.Pi * float64(k) / 24
			u, v := math.Cos(t), math.Sin(t)
			r.Outline = append(r.Outline, [2]float64{centre[0] + a*(u+0.12*v*v), centre[1] + b*(0.55*u+0.8*v)})
		}
		return r
	}
	drift := func(c car.ConditionID, dLow, dHigh, bend float64) diagnose.Drift {
		d := diagnose.Drift{Condition: c}
		for k := range 6 {
			s := float64(k) / 5
			d.Points = append(d.Points, diagnose.DriftPoint{
				Severity: s,
				Low:      centre[0] + dLow*s + bend*s*(1-s),
				High:     centre[1] + dHigh*s*s,
			})
		}
		return d
	}
	return diagnose.Plane{
		Regions: []diagnose.Region{region(0.9, 70e3, 330e3), region(0.5, 36e3, 165e3)},
		Centre:  centre,
		Drifts: []diagnose.Drift{
			drift(car.CondenserAirflow, 110e3, 900e3, 30e3),
			drift(car.Undercharge, -150e3, -800e3, -20e3),
			drift(car.WeakCompressor, 210e3, -620e3, 20e3),
			drift(car.Restriction, -170e3, -180e3, 0),
			drift(car.Overcharge, 60e3, 700e3, 0),
			drift(car.Air, 90e3, 1000e3, 20e3),
		},
	}
}

// InTen stands in for the page's way to say a probability.
func InTen(p float64) string { return fmt.Sprintf("%.0f in 10", 10*p) }

func allInTen(ps []float64) (all []string) {
	for _, p := range ps {
		all = append(all, InTen(p))
	}
	return all
}

// English are the page's own words: what is judged here is what people see. Only
// tests look up to the page.
var English = present.English().T

func InKPa() unit.Units {
	u := unit.Metric()
	u.Pressure = unit.KPa
	return u
}

func SampleOptions(id string, u unit.Units) Options {
	return Options{ID: id, Units: u, Words: English, Chances: allInTen}
}
