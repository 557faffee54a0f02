package service

// Note is something to prepare or mind, by code.
type Note struct {
	Code  string
	Basis Basis
	Ref   string
}

// everyPart holds wherever the system is opened.
var everyPart = []Note{
	{"recover_first", Published, "CFR82"},
	{"new_orings_oiled", CommonPractice, ""},
	{"makers_torque", CommonPractice, ""},
	{"cap_open_lines", CommonPractice, ""},
	{"no_welding_or_steam", Published, "USArmy291"},
	{"oil_from_sealed_can", Published, "USArmy291"}, // an opened can of PAG is scrap
}

var byPart = map[Part][]Note{
	Condenser:    {{"protect_fins", CommonPractice, ""}, {"free_airflow_and_seals", CommonPractice, ""}, {"debris_needs_new_condenser", CommonPractice, ""}},
	Evaporator:   {{"protect_fins", CommonPractice, ""}, {"free_condensate_drain", CommonPractice, ""}, {"case_seals_and_sensor", CommonPractice, ""}},
	RearUnit:     {{"catch_coolant", CommonPractice, ""}, {"free_condensate_drain", CommonPractice, ""}, {"protect_fins", CommonPractice, ""}, {"rear_lines_hold_oil", CommonPractice, ""}},
	ReceiverPart: {{"open_last_close_first", CommonPractice, ""}},
	Accumulator:  {{"open_last_close_first", CommonPractice, ""}, {"drain_and_measure", CommonPractice, ""}},
	Metering:     {{"direction_of_flow", CommonPractice, ""}, {"screen_shows_debris", CommonPractice, ""}, {"bulb_contact_and_insulation", CommonPractice, ""}},
	Hose:         {{"routing_and_chafing", CommonPractice, ""}},
	Compressor:   {{"drain_and_measure", CommonPractice, ""}, {"belt_and_clutch_gap", CommonPractice, ""}, {"turn_by_hand", CommonPractice, ""}, {"flush_or_filter_after_failure", CommonPractice, ""}},
	ServicePort:  {{"caps_seal", CommonPractice, ""}},
}

// RepairNotes returns what to prepare and mind when part is replaced or opened: what
// holds for every part, then its own. openLong adds a new drier: its desiccant is
// spent once the system has stood open. An unknown part is misuse and panics.
func RepairNotes(part Part, openLong bool) []Note {
	own, ok := byPart[part]
	if !ok {
		panic("service: unknown part " + string(part))
	}
	notes := append(append([]Note(nil), everyPart...), own...)
	if openLong && part != ReceiverPart && part != Accumulator {
		notes = append(notes, Note{"replace_drier", CommonPractice, ""})
	}
	return notes
}
