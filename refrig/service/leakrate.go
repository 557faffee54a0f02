package service

import (
	"math"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
)

// LeakRate is a climb of pressure in other words.
type LeakRate struct {
	Throughput Estimate // air entering, Pa m³/s
	// Refrigerant is what would leave through the same hole with the system charged and
	// at rest, kg/year; nil without a refrigerant. Its limits span two kinds of hole and
	// lie a factor of ten or more apart: a vacuum tells a leak, not its size in grams.
	Refrigerant *Estimate
	// Limit is the published limit beside it, kg/year.
	Limit Rule
}

// vapourViscosity is the viscosity of saturated vapour near 20 °C, Pa s. MEMORY.
var vapourViscosity = map[string]float64{car.R134a: 11.5e-6, car.R1234yf: 11.5e-6, car.R12: 12.2e-6}

// testGas is what goes through a hole in a test: its molar mass, kg/mol, and viscosity at
// 20 °C, Pa s (MEMORY).
type testGas struct{ molar, viscosity float64 }

var (
	enteringAir = testGas{28.966e-3, 18.2e-6} // [ASHRAE2017]
	nitrogen    = testGas{28.013e-3, 17.6e-6} // MEMORY
)

// throughHole returns the refrigerant, kg/s, that would leave at its saturation pressure
// ps at T through a hole that passes 1 Pa m³/s of g from the pressure p to back. With n
// the flow in mol/s, pa the atmosphere, M the molar mass and η the viscosity,
//
//	short hole (sonic):      n/n_g = 0.94 (ps/p) √(M_g/M)
//	long crack (laminar):    n/n_g = (ps² − pa²)/(p² − back²) · η_g/η
//
// (choked-nozzle and Poiseuille equations; MEMORY of any textbook on vacuum; 0.94 is
// the ratio of the critical-flow factors for κ = 1.15 and 1.40).
func throughHole(g testGas, p, back, pa, T float64, id string) (sonic, laminar float64, err error) {
	const (
		gasConstant = 8.314462618 // J/(mol K), CODATA 2018 (exact)
		critical    = 0.94
	)
	f, s, err := boiling(id, T)
	if err != nil {
		return 0, 0, err
	}
	M := f.MolarMass()
	perMole := M / (gasConstant * T)
	sonic = critical * s.P / p * math.Sqrt(g.molar/M)
	laminar = max(0, s.P*s.P-pa*pa) / (p*p - back*back) * g.viscosity / vapourViscosity[id]
	return sonic * perMole, laminar * perMole, nil
}

// leakRate returns the throughput q = V dp/dt and the refrigerant that would leave
// by the same hole. Air enters at the speed of sound into the vacuum. Small leaks are
// mostly cracks. Value is the geometric mean. The upper limit takes the upper climb,
// volume and kind of hole, the lower limit the lower ones.
func leakRate(climb Estimate, in HoldInput, T float64) (LeakRate, error) {
	volume, id := in.Volume, in.Refrigerant
	l := LeakRate{
		Throughput: Estimate{climb.Value * volume.Value, climb.Lo * volume.Lo, climb.Hi * volume.Hi},
		Limit:      leakLimits(id, in.Evaporators)[0],
	}
	if id == "" {
		return l, nil
	}
	pa := float64(air.AtmosphericPressure(in.Altitude))
	sonic, laminar, err := throughHole(enteringAir, pa, 0, pa, T, id)
	if err != nil {
		return LeakRate{}, err
	}
	l.Refrigerant = &Estimate{
		Value: l.Throughput.Value * year * math.Sqrt(sonic*laminar),
		Lo:    l.Throughput.Lo * year * min(sonic, laminar),
		Hi:    l.Throughput.Hi * year * max(sonic, laminar),
	}
	return l, nil
}
