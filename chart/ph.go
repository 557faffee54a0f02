package chart

import (
	"errors"

	"twoneedles/chart/svg"
	"twoneedles/refrig/unit"
)

// DomePoint is saturation at one pressure.
type DomePoint struct {
	P      float64 // Pa absolute
	HL, HV float64 // liquid and vapour, J/kg
}

// StateName names a state round the loop in the trade's words; its text is
// chart.state.<name>.
type StateName string

// The states, in the order of the flow.
const (
	CompressorIn  StateName = "compressor_in"
	CompressorOut StateName = "compressor_out"
	CondenserOut  StateName = "condenser_out"
	EvaporatorIn  StateName = "evaporator_in"
	EvaporatorOut StateName = "evaporator_out"
)

// CycleState is one state of the loop.
type CycleState struct {
	Name StateName
	P, H float64 // Pa absolute, J/kg
}

// Isotherm is a line of one temperature.
type Isotherm struct {
	T      float64      // K
	Points [][2]float64 // {J/kg, Pa absolute}
}

// Cycle is what the pressure–enthalpy picture shows. Superheat and Subcooling
// are marked where they are positive.
type Cycle struct {
	Dome       []DomePoint  // by rising pressure
	States     []CycleState // in the order of the flow; the last leads to the first
	Isotherms  []Isotherm
	Superheat  float64 // K, leaving the evaporator
	Subcooling float64 // K, leaving the condenser
}

// PH draws the cycle on enthalpy across and the logarithm of absolute pressure
// up.
func PH(cy Cycle, o Options) (Figure, error) {
	if err := o.Check(); err != nil {
		return Figure{}, err
	}
	if err := cy.check(); err != nil {
		return Figure{}, err
	}
	lo, hi := cy.pressures()
	args := []any{
		"low", o.absoluteText(lo), "high", o.absoluteText(hi),
		"superheat", o.differenceText(cy.Superheat), "subcooling", o.differenceText(cy.Subcooling),
	}
	key := "chart.ph.summary"
	if cy.Superheat <= 0 {
		key += ".wet"
	}
	summary := o.Words(key, args...)
	c := svg.New(o.ID, o.Words("chart.ph.title"), summary, 360, 330)
	cy.draw(c, &o)
	return o.Finish(c, summary, cy.table(&o))
}

func (cy *Cycle) check() error {
	// Enthalpies are those of [refrig.State]; the limits are wide of every
	// state the equations of the three refrigerants cover.
	const minH, maxH = -2e5, 2e6
	if len(cy.Dome) < 3 {
		return errors.New("chart: the dome needs three points or more")
	}
	if len(cy.States) < 3 {
		return errors.New("chart: the cycle needs three states or more")
	}
	for i, d := range cy.Dome {
		if err := within("saturation pressure", "Pa", 1e2, 2*maxGauge, d.P); err != nil {
			return err
		}
		if err := within("enthalpy", "J/kg", minH, maxH, d.HL, d.HV); err != nil {
			return err
		}
		if i > 0 && d.P <= cy.Dome[i-1].P {
			return errors.New("chart: the pressures of the dome do not rise")
		}
	}
	for _, s := range cy.States {
		if err := within("pressure", "Pa", 1e2, 2*maxGauge, s.P); err != nil {
			return err
		}
		if err := within("enthalpy", "J/kg", minH, maxH, s.H); err != nil {
			return err
		}
	}
	for _, t := range cy.Isotherms {
		if err := CheckTemperatures("temperature", t.T); err != nil {
			return err
		}
		for _, q := range t.Points {
			if err := within("enthalpy", "J/kg", minH, maxH, q[0]); err != nil {
				return err
			}
			if err := within("pressure", "Pa", 1, 1e9, q[1]); err != nil {
				return err
			}
		}
	}
	return within("temperature difference", "K", -200, 200, cy.Superheat, cy.Subcooling)
}

func (cy *Cycle) pressures() (lo, hi float64) {
	s := svg.NoSpan()
	for _, q := range cy.States {
		s.Add(q.P)
	}
	return s.Lo, s.Hi
}

func (cy *Cycle) table(o *Options) Table {
	t := Table{
		Caption: o.Words("chart.ph.title"),
		Head: []string{
			o.Words("chart.col.state"),
			o.Words("chart.axis.absolute", "unit", o.unitName(unit.GaugePressure)),
			o.Words("chart.axis.enthalpy", "unit", o.unitName(unit.Enthalpy)),
		},
	}
	for _, s := range cy.States {
		t.Rows = append(t.Rows, []string{
			o.Words("chart.state." + string(s.Name)), o.pressureNumber(s.P), o.Writer().Numbers(s.H, s.H, unit.Enthalpy),
		})
	}
	return t
}
