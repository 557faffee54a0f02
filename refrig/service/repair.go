package service

import (
	"slices"

	"twoneedles/refrig/car"
)

// Note is something to prepare or mind, by code.
type Note struct {
	Code  string
	Basis Basis
	Ref   string
}

// RepairInput is what is done to the circuit.
type RepairInput struct {
	Car      car.Spec
	Replaced []Part
	Opened   bool // though no part of it was replaced
	// Broken says that the compressor failed inside and shed metal or black sludge.
	Broken bool
}

// opens tells whether the refrigerant circuit is open at some moment of the work.
func (in RepairInput) opens() bool { return in.Opened || in.Broken || len(in.Replaced) > 0 }

func (in RepairInput) replaces(part Part) bool { return slices.Contains(in.Replaced, part) }

// repairNote is a [Note] with when it holds; nil holds wherever the circuit is opened.
type repairNote struct {
	Note
	when func(RepairInput) bool
}

// at holds where one of the parts is replaced.
func at(parts ...Part) func(RepairInput) bool {
	return func(in RepairInput) bool { return slices.ContainsFunc(parts, in.replaces) }
}

// Failure of the compressor: what it shed sits in every narrow place, and the new one
// pumps it on. The condenser and the metering device catch most of it.
func broken(in RepairInput) bool { return in.Broken }

// beltDriven holds for a new compressor that may have a belt and a clutch.
func beltDriven(in RepairInput) bool {
	return in.replaces(Compressor) && in.Car.Compressor != car.Electric
}

// A drier is spent once its packing has met the air of a shop, and it is in none of the
// other parts: so it is asked for whatever is opened, not only on request.
func wantsDrier(in RepairInput) bool {
	return !in.replaces(ReceiverPart) && !in.replaces(Accumulator)
}

// repairNotes in the order of the work: before, at the parts, when closing.
var repairNotes = []repairNote{
	{Note{"recover_first", Published, "CFR82"}, nil},
	{Note{"cap_open_lines", CommonPractice, ""}, nil},
	{Note{"no_welding_or_steam", Published, "USArmy291"}, nil},

	{Note{"replace_drier", CommonPractice, ""}, func(in RepairInput) bool { return wantsDrier(in) && !in.Broken }},
	{Note{"drier_after_failure", CommonPractice, ""}, func(in RepairInput) bool { return in.Broken && wantsDrier(in) }},
	{Note{"metering_after_failure", CommonPractice, ""}, func(in RepairInput) bool { return in.Broken && !in.replaces(Metering) }},
	{Note{"condenser_after_failure", CommonPractice, ""}, func(in RepairInput) bool { return in.Broken && !in.replaces(Condenser) }},
	{Note{"flush_or_filter_after_failure", CommonPractice, ""}, broken},
	{Note{"never_flush_these", CommonPractice, ""}, broken},

	{Note{"drain_and_measure", CommonPractice, ""}, at(Compressor, Accumulator)},
	{Note{"look_for_metal", CommonPractice, ""}, func(in RepairInput) bool { return in.replaces(Compressor) && !in.Broken }},
	{Note{"belt_and_clutch_gap", CommonPractice, ""}, beltDriven},
	{Note{"turn_by_hand", CommonPractice, ""}, beltDriven},
	{Note{"protect_fins", CommonPractice, ""}, at(Condenser, Evaporator, RearUnit)},
	{Note{"free_airflow_and_seals", CommonPractice, ""}, at(Condenser)},
	{Note{"drier_in_condenser", CommonPractice, ""}, func(in RepairInput) bool { return in.replaces(Condenser) && wantsDrier(in) }},
	{Note{"free_condensate_drain", CommonPractice, ""}, at(Evaporator, RearUnit)},
	{Note{"case_seals_and_sensor", CommonPractice, ""}, at(Evaporator, RearUnit)},
	{Note{"never_a_used_evaporator", Published, "SAEJ2842"}, func(in RepairInput) bool { return at(Evaporator, RearUnit)(in) && mayHoldYF(in.Car) }},
	{Note{"catch_coolant", CommonPractice, ""}, at(RearUnit)},
	{Note{"rear_lines_hold_oil", CommonPractice, ""}, at(RearUnit)},
	{Note{"screen_shows_debris", CommonPractice, ""}, at(Metering)},
	{Note{"direction_of_flow", CommonPractice, ""}, at(Metering)},
	{Note{"bulb_contact_and_insulation", CommonPractice, ""}, at(Metering)},
	{Note{"valve_block_seals", CommonPractice, ""}, at(Metering, Evaporator, RearUnit, Seals)},
	{Note{"routing_and_chafing", CommonPractice, ""}, at(Hose)},
	{Note{"switch_may_sit_on_a_valve", CommonPractice, ""}, at(Switch)},
	{Note{"core_tool_or_empty", CommonPractice, ""}, at(ServicePort)},
	{Note{"caps_seal", CommonPractice, ""}, at(ServicePort)},
	{Note{"open_last_close_first", CommonPractice, ""}, at(ReceiverPart, Accumulator)},

	{Note{"new_orings_oiled", CommonPractice, ""}, nil},
	{Note{"seals_of_the_right_kind", CommonPractice, ""}, nil},
	{Note{"makers_torque", CommonPractice, ""}, nil},
	{Note{"oil_from_sealed_can", Published, "USArmy291"}, nil}, // an opened can of PAG is scrap
}

// RepairNotes returns what to prepare and mind, in the order of the work: nothing while
// the circuit stays closed. Whatever opens it asks for a new drier and new seals. An
// unknown part is misuse and panics.
func RepairNotes(in RepairInput) []Note {
	for _, p := range in.Replaced {
		if !known(p) {
			panic("service: unknown part " + string(p))
		}
	}
	if !in.opens() {
		return nil
	}
	var out []Note
	for _, n := range repairNotes {
		if n.when == nil || n.when(in) {
			out = append(out, n.Note)
		}
	}
	return out
}

// RepairNoteCodes returns the codes of all notes, so that words can be tied to them.
func RepairNoteCodes() []string {
	out := make([]string, len(repairNotes))
	for i, n := range repairNotes {
		out[i] = n.Code
	}
	return out
}
