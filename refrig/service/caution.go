package service

import (
	"slices"

	"twoneedles/refrig/car"
)

// Step is a step of the job. Its value is its stable code.
type Step string

// The steps, in order.
const (
	StepRead     Step = "read"
	StepResting  Step = "resting"
	StepFind     Step = "find"
	StepRecover  Step = "recover"
	StepRepair   Step = "repair"
	StepRetest   Step = "retest" // gas under pressure, before anything is evacuated
	StepEvacuate Step = "evacuate"
	StepCharge   Step = "charge"
	StepProve    Step = "prove"
)

// Steps returns the steps in order.
func Steps() []Step {
	return []Step{StepRead, StepResting, StepFind, StepRecover, StepRepair, StepRetest, StepEvacuate, StepCharge, StepProve}
}

// caution is a [Note] with where it belongs.
type caution struct {
	Note
	steps []Step
	cars  func(car.Spec) bool // nil: every car
}

// Where hoses hang on the car, where its engine or compressor runs, where refrigerant can
// come out, where hands are near orange cables with the car at rest, and near those of a
// compressor that may start. A caution that bites at one of them stands at all its steps.
var (
	coupled  = []Step{StepRead, StepResting, StepRecover, StepRetest, StepEvacuate, StepCharge, StepProve}
	running  = []Step{StepRead, StepCharge, StepProve}
	gasOut   = []Step{StepRead, StepResting, StepFind, StepRecover, StepRepair, StepCharge, StepProve}
	isolated = []Step{StepFind, StepRecover, StepRepair, StepRetest, StepEvacuate}
	live     = []Step{StepRead, StepResting, StepCharge, StepProve}
)

// and adds steps to a list.
func and(steps []Step, more ...Step) []Step { return append(slices.Clone(steps), more...) }

// cautions in the order in which they are shown: what can hurt at once comes first.
// One that depends on the car is also shown while the car is not known.
var cautions = []caution{
	{Note{"goggles_and_gloves", Published, "USArmyVarious"}, and(coupled, StepFind, StepRepair), nil},
	{Note{"fans_and_belts", CommonPractice, ""}, and(running, StepFind), nil},
	{Note{"hot_parts", CommonPractice, ""}, and(running, StepFind), nil},
	{Note{"ventilate_doors_open", CommonPractice, ""}, running, nil}, // exhaust in a shop
	{Note{"high_voltage_isolate", CommonPractice, ""}, isolated, mayBeElectric},
	{Note{"high_voltage_keep_off", CommonPractice, ""}, live, mayBeElectric},
	{Note{"r744_stop", CommonPractice, ""}, []Step{StepRead, StepResting, StepRecover}, func(s car.Spec) bool { return s.Refrigerant == "" }},
	{Note{"mildly_flammable", Published, "Flammability2010"}, gasOut, mayHoldYF},
	{Note{"pump_can_ignite", CommonPractice, ""}, []Step{StepRecover, StepEvacuate}, mayHoldYF},
	{Note{"no_flame_toxic_gas", Published, "USArmyVarious"}, []Step{StepFind, StepRecover, StepRepair, StepCharge}, nil},
	{Note{"gas_sinks", CommonPractice, ""}, []Step{StepFind, StepRecover, StepRepair, StepCharge}, nil},
	{Note{"identify_first", CommonPractice, ""}, []Step{StepResting, StepRecover}, nil},
	{Note{"never_compressed_air", Published, "CFR82"}, []Step{StepFind, StepRetest}, nil},
	{Note{"never_oxygen", CommonPractice, ""}, []Step{StepFind, StepRetest}, nil},
	{Note{"regulate_nitrogen", CommonPractice, ""}, []Step{StepFind, StepRetest}, nil},
	{Note{"uv_eyewear", CommonPractice, ""}, []Step{StepFind}, nil},
	{Note{"never_vent", Published, "CFR82154"}, []Step{StepRecover}, nil},
	{Note{"certified_person", Published, "CFR82"}, []Step{StepRecover, StepCharge}, nil},
	{Note{"eu_certified_person", Published, "EU2024573"}, []Step{StepRecover, StepCharge}, nil},
	{Note{"empty_before_opening", Published, "CFR82"}, []Step{StepRepair}, nil},
	{Note{"no_welding_or_steam", Published, "USArmy291"}, []Step{StepRepair}, nil},
	{Note{"engine_cool", CommonPractice, ""}, []Step{StepRepair}, nil},
	{Note{"vacuum_is_no_leak_test", Published, "USArmy296"}, []Step{StepEvacuate}, nil},
	{Note{"no_compressor_in_vacuum", CommonPractice, ""}, []Step{StepEvacuate}, nil},
	{Note{"high_valve_closed_running", CommonPractice, ""}, []Step{StepCharge}, nil},
	{Note{"no_liquid_into_suction", Published, "USArmy296"}, []Step{StepCharge}, nil},
	{Note{"never_by_pressure", Published, "USArmy291"}, []Step{StepCharge}, nil},
	{Note{"uncoupling", CommonPractice, ""}, coupled, nil},
	{Note{"frostbite_aid", CommonPractice, ""}, and(gasOut, StepEvacuate), nil},
	{Note{"label_and_manual_outrank", Judgement, ""}, Steps(), nil},
}

// mayBeElectric and mayHoldYF are true of a car that is or may be of the kind.
func mayBeElectric(s car.Spec) bool {
	return s.Compressor == car.Electric || s.Compressor == car.CompressorUnknown
}

func mayHoldYF(s car.Spec) bool { return s.Refrigerant == car.R1234yf || s.Refrigerant == "" }

// Cautions returns what can hurt at a step with this car, the worst first.
func Cautions(step Step, s car.Spec) []Note {
	var out []Note
	for _, c := range cautions {
		if slices.Contains(c.steps, step) && (c.cars == nil || c.cars(s)) {
			out = append(out, c.Note)
		}
	}
	return out
}
