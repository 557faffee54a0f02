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

// leakRate returns the throughput q = V dp/dt and the refrigerant that would leave
// by the same hole at the saturation pressure ps. Air enters at the speed of sound
// into the vacuum; with n the flow in mol/s, M the molar mass and η the viscosity,
//
//	short hole (sonic):      n/n_air = 0.94 (ps/pa) √(M_air/M)
//	long crack (laminar):    n/n_air = (ps² − pa²)/pa² · η_air/η
//
// (choked-nozzle and Poiseuille equations; MEMORY of any textbook on vacuum; 0.94 is
// the ratio of the critical-flow factors for κ = 1.15 and 1.40). Small leaks are
// mostly cracks. Value is the geometric mean. The upper limit takes the upper climb,
// volume and kind of hole, the lower limit the lower ones.
func leakRate(climb Estimate, in HoldInput, T float64) (LeakRate, error) {
	const (
		gasConstant = 8.314462618 // J/(mol K), CODATA 2018 (exact)
		airMolar    = 28.966e-3   // kg/mol [ASHRAE2017]
		airVisc     = 18.2e-6     // Pa s at 20 °C, MEMORY
		critical    = 0.94
	)
	volume, id := in.Volume, in.Refrigerant
	l := LeakRate{
		Throughput: Estimate{climb.Value * volume.Value, climb.Lo * volume.Lo, climb.Hi * volume.Hi},
		Limit:      leakLimits(id, in.Evaporators)[0],
	}
	if id == "" {
		return l, nil
	}
	if err := checkRefrigerant(id); err != nil {
		return LeakRate{}, err
	}
	ps, err := saturationPressure(id, T)
	if err != nil {
		return LeakRate{}, err
	}
	M, err := molarMass(id)
	if err != nil {
		return LeakRate{}, err
	}
	pa := float64(air.AtmosphericPressure(in.Altitude))
	sonic := critical * ps / pa * math.Sqrt(airMolar/M)
	laminar := max(0, ps*ps/(pa*pa)-1) * airVisc / vapourViscosity[id]
	perThroughput := M / (gasConstant * T) * year // kg/year per Pa m³/s at equal mol/s
	l.Refrigerant = &Estimate{
		Value: l.Throughput.Value * perThroughput * math.Sqrt(sonic*laminar),
		Lo:    l.Throughput.Lo * perThroughput * min(sonic, laminar),
		Hi:    l.Throughput.Hi * perThroughput * max(sonic, laminar),
	}
	return l, nil
}
