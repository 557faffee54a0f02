package service

import (
	"slices"

	"twoneedles/refrig/car"
)

// Machine is what is asked of the machine that recovers, recycles and charges.
type Machine struct {
	Display     Rule // kg that the recovered mass shown may be off
	Oil         Rule // m³ that the recovered oil shown may be off
	RecoverWarm Rule // fraction that must come out within 30 minutes at 21–24 °C
	RecoverCold Rule // the same at 10–13 °C
	Tolerance   Rule // kg that the charge may be off
	Ambient     Rule // K at which it must work
}

// machineR134a is a machine for R-134a ([SAEJ2788], [SAEJ2810]).
var machineR134a = Machine{
	Display:     Rule{"recovered_mass_display", 30 * gram, 30 * gram, Published, "SAEJ2788"},
	Oil:         Rule{"recovered_oil_measure", 20 * ml, 20 * ml, Published, "SAEJ2788"},
	RecoverWarm: Rule{"recovery_warm", 0.95, 1, Published, "SAEJ2788"},
	RecoverCold: Rule{"recovery_cold", 0.85, 1, Published, "SAEJ2810"},
	Tolerance:   Rule{"tolerance_sae", 15 * gram, 15 * gram, Published, "SAEJ2788"},
	Ambient:     Rule{"equipment_ambient", 283.15, 322.15, Published, "SAEJ2788"},
}

// MachineFor returns what is asked of a machine for the refrigerant. Of the standard for
// R-1234yf only the share recovered and the tolerance of the charge are known
// ([SAEJ2843]), of machines for R-12 nothing: there the figures for R-134a stand
// in, as judgement.
func MachineFor(refrigerant string) Machine {
	m := machineR134a
	switch refrigerant {
	case "", car.R134a:
		return m
	case car.R1234yf:
		m.RecoverWarm.Ref, m.Tolerance.Ref = "SAEJ2843", "SAEJ2843"
		m.Display, m.Oil, m.RecoverCold, m.Ambient = m.Display.judged(), m.Oil.judged(), m.RecoverCold.judged(), m.Ambient.judged()
		return m
	}
	return Machine{m.Display.judged(), m.Oil.judged(), m.RecoverWarm.judged(), m.RecoverCold.judged(), m.Tolerance.judged(), m.Ambient.judged()}
}

// judged is the same rule where its source does not reach.
func (r Rule) judged() Rule {
	r.Basis, r.Ref = Judgement, ""
	return r
}

// gasNote is a [Note] on what a refrigerant asks of the work, with where it belongs.
type gasNote struct {
	Note
	step Step
	cars func(car.Spec) bool // nil: every car
}

// gasNotes in the order of the work. What the law of the US asks is said to be so.
var gasNotes = []gasNote{
	{Note{"sealant_before_coupling", CommonPractice, ""}, StepRecover, nil},
	{Note{"identify_98", Published, "SAEJ2843"}, StepRecover, mayHoldYF},
	{Note{"machine_yf", Published, "CFR82"}, StepRecover, mayHoldYF},
	{Note{"machine_both", Published, "SAEJ3030"}, StepRecover, mayHoldYF},
	{Note{"machine_for_electric", Published, "SAEJ2788"}, StepRecover, mayBeElectric},
	{Note{"contaminated_elsewhere", Published, "SAEJ2851"}, StepRecover, nil},
	{Note{"trained_yf", Published, "SAEJ2845"}, StepRecover, mayHoldYF},
	{Note{"never_r134a_into_yf", CommonPractice, ""}, StepCharge, mayHoldYF},
	{Note{"leak_check_first", Published, "SAEJ2843"}, StepCharge, mayHoldYF},
	{Note{"ports_and_label", Published, "SAEJ639"}, StepCharge, nil},
	{Note{"us_buyers", Published, "CFR82154c"}, StepCharge, nil},
	{Note{"us_records", Published, "CFR82"}, StepCharge, nil},
}

// GasNotes returns what the refrigerant of this car asks at a step. What may hold of a
// car that is not known is said too.
func GasNotes(step Step, s car.Spec) []Note {
	var out []Note
	for _, n := range gasNotes {
		if n.step == step && (n.cars == nil || n.cars(s)) {
			out = append(out, n.Note)
		}
	}
	return slices.Clip(out)
}
