package explore

import (
	"math"

	"twoneedles/chart"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fast"
	"twoneedles/refrig/unit"
)

// domes keeps what the pressure–enthalpy picture shows of a refrigerant alone;
// it does not change while dials are turned.
type domes struct {
	of    *fast.Fluid
	units unit.Units
	dome  []chart.DomePoint
	lines []chart.Isotherm
}

// cycle is the loop as the picture takes it. The five states are where a
// technician can put a thermometer.
func (d *domes) cycle(fl *fast.Fluid, r *cycle.Result, u unit.Units) chart.Cycle {
	if d.of != fl || d.units != u {
		*d = domes{of: fl, units: u, dome: domeOf(fl), lines: isotherms(fl, u)}
	}
	p := r.States // suction line, discharge line, condenser outlet, metering device outlet
	out := fl.Sat(p[3].P)
	return chart.Cycle{
		Dome: d.dome,
		States: []chart.CycleState{
			{Name: chart.CompressorIn, P: p[0].P, H: p[0].H},
			{Name: chart.CompressorOut, P: p[1].P, H: p[1].H},
			{Name: chart.CondenserOut, P: p[2].P, H: p[2].H},
			{Name: chart.EvaporatorIn, P: p[3].P, H: p[3].H},
			// The definition of EvapSuperheat, turned round.
			{Name: chart.EvaporatorOut, P: p[3].P, H: out.HV + r.EvapSuperheat*out.CpV},
		},
		Isotherms:  d.lines,
		Superheat:  held(r.EvapSuperheat),
		Subcooling: held(r.Subcooling),
	}
}

// held keeps a difference within what the picture takes; a flooded evaporator
// has a large negative superheat, which is not marked.
func held(k float64) float64 { return min(max(k, -190), 190) }

// domeFrom is the lowest pressure drawn, below every low side that is not a deep
// vacuum; the tables end a little below the critical point.
const (
	domeFrom   = 60e3 // Pa
	domePoints = 48
	crownSteps = 8
)

func domeOf(fl *fast.Fluid) []chart.DomePoint {
	var out []chart.DomePoint
	crit := fl.PCrit()
	top := fl.Sat(crit).P // clamped to the end of the tables
	for i := range domePoints {
		p := domeFrom * math.Pow(top/domeFrom, float64(i)/(domePoints-1))
		s := fl.Sat(p)
		out = append(out, chart.DomePoint{P: p, HL: s.HL, HV: s.HV})
	}
	// From there liquid and vapour meet at the critical point, their difference
	// going with about the cube root of the distance from it, as near every
	// critical point; for the eye alone.
	last := out[domePoints-1]
	mid, half := (last.HL+last.HV)/2, (last.HV-last.HL)/2
	for i := 1; i <= crownSteps; i++ {
		f := float64(i) / crownSteps
		w := half * math.Cbrt(1-f)
		out = append(out, chart.DomePoint{P: top + f*(crit-top), HL: mid - w, HV: mid + w})
	}
	return out
}

// isotherms are three temperatures a student can place: about freezing, about a
// hot day, about a hot pipe; on round numbers of the unit.
func isotherms(fl *fast.Fluid, u unit.Units) []chart.Isotherm {
	temps := []float64{273.15, 313.15, 353.15} // 0, 40, 80 °C
	if u.Temperature == unit.Fahrenheit {
		temps = []float64{unit.Fahrenheit.ToSI(32), unit.Fahrenheit.ToSI(100), unit.Fahrenheit.ToSI(180)} // 32, 100, 180 °F
	}
	var out []chart.Isotherm
	for _, t := range temps {
		if t > fl.TCrit()-3 {
			continue
		}
		sat := fl.PSat(t)
		line := chart.Isotherm{T: t}
		top := fl.PCrit()
		for i := 0; i <= 6; i++ { // liquid: down to saturation
			p := top * math.Pow(sat/top, float64(i)/6)
			line.Points = append(line.Points, [2]float64{fl.LiquidH(p, t), p})
		}
		for i := 0; i <= 40; i++ { // vapour: on from saturation
			p := sat * math.Pow(domeFrom/sat, float64(i)/40)
			line.Points = append(line.Points, [2]float64{fl.VapourH(p, t), p})
		}
		out = append(out, line)
	}
	return out
}
