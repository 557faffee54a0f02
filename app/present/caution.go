package present

import (
	"slices"

	"twoneedles/refrig/car"
)

// Step is a part of the work that has cautions of its own.
type Step string

// The steps, in the order of the work. All but the first are those of a job.
const (
	StepRead     Step = "read" // coupling the gauges and reading them
	StepFind     Step = "find"
	StepRecover  Step = "recover"
	StepRepair   Step = "repair"
	StepEvacuate Step = "evacuate"
	StepCharge   Step = "charge"
	StepProve    Step = "prove"
)

// caution is one caution and where it belongs. Its words are caution.<code>.
type caution struct {
	code  string
	steps []Step
	only  func(car.Spec) bool // nil: every car
}

var everyStep = []Step{StepRead, StepFind, StepRecover, StepRepair, StepEvacuate, StepCharge, StepProve}

// An unknown refrigerant or compressor may be the one that needs the caution.
func mayBurn(c car.Spec) bool     { return c.Refrigerant == car.R1234yf || c.Refrigerant == "" }
func highVoltage(c car.Spec) bool { return c.Compressor == car.Electric }

// cautions holds every caution, the gravest first at each step. Which step a
// caution belongs to is where the hand is when it matters (judgement).
var cautions = []caution{
	{"high_voltage", []Step{StepRead, StepFind, StepRecover, StepRepair, StepEvacuate, StepCharge, StepProve}, highVoltage},
	{"goggles_gloves", []Step{StepRead, StepFind, StepRecover, StepRepair, StepCharge, StepProve}, nil},
	{"couple_engine_off", []Step{StepRead, StepProve}, nil},
	{"fans_belts", []Step{StepRead, StepFind, StepProve}, nil},
	{"hot_parts", []Step{StepRead, StepRecover, StepRepair, StepProve}, nil},
	{"high_valve_can", []Step{StepCharge}, nil},
	{"no_air_no_oxygen", []Step{StepFind}, nil},
	{"nitrogen", []Step{StepFind}, nil},
	{"uv_eyewear", []Step{StepFind}, nil},
	{"flammable", []Step{StepRead, StepFind, StepRecover, StepRepair, StepCharge}, mayBurn},
	{"flame_makes_poison", []Step{StepFind, StepRecover, StepRepair, StepCharge}, nil},
	{"never_vent", []Step{StepFind, StepRecover, StepRepair, StepCharge}, nil},
	{"certified", []Step{StepRecover, StepRepair, StepCharge}, nil},
	{"recover_before_opening", []Step{StepRepair}, nil},
	{"identify_first", []Step{StepRecover}, nil},
	{"cylinder", []Step{StepRecover}, nil},
	{"poe_only", []Step{StepRepair, StepCharge}, highVoltage},
	{"vapour_into_suction", []Step{StepCharge}, nil},
	{"stop_if_rising", []Step{StepRead, StepCharge, StepProve}, nil},
	{"pump_oil", []Step{StepEvacuate}, nil},
	{"label_outranks", everyStep, nil},
	{"professional", everyStep, nil},
}

// Cautions returns the codes of the cautions of a step on this car, the gravest
// first. A car of unknown refrigerant gets the caution for the flammable one.
func Cautions(s Step, c car.Spec) []string {
	var codes []string
	for _, x := range cautions {
		if slices.Contains(x.steps, s) && (x.only == nil || x.only(c)) {
			codes = append(codes, x.code)
		}
	}
	return codes
}

// Caution returns the text of a caution.
func (w *Words) Caution(code string) string { return w.Text("caution."+code, nil) }
