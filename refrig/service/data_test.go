package service_test

import (
	"slices"
	"strings"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/service"
)

func TestSearchOrder(t *testing.T) {
	has := func(ps []service.Place, code string) bool {
		return slices.ContainsFunc(ps, func(p service.Place) bool { return p.Code == code })
	}
	one := service.SearchOrder(car.Spec{Evaporators: 1, Compressor: car.Fixed})
	two := service.SearchOrder(car.Spec{Evaporators: 2, Compressor: car.Electric})
	if has(one, "rear_lines") || !has(two, "rear_lines") || !has(two, "rear_evaporator") {
		t.Error("rear places belong to two evaporators")
	}
	if !has(service.SearchOrder(car.Spec{}), "rear_lines") {
		t.Error("not knowing the car is no reason to leave the rear out")
	}
	if !has(one, "compressor_shaft_seal") || has(two, "compressor_shaft_seal") {
		t.Error("an electric compressor has no shaft seal")
	}
	methods := map[string]bool{}
	for _, m := range service.Methods() {
		methods[m.Code] = true
	}
	for i, p := range two {
		for _, m := range p.Methods {
			if !methods[m] {
				t.Errorf("%s wants the unknown method %s", p.Code, m)
			}
		}
		if i > 0 && p.Likely-p.Access > two[i-1].Likely-two[i-1].Access {
			t.Errorf("%s comes after %s", p.Code, two[i-1].Code)
		}
	}
	// What was counted: the condenser first [OekoRecherche2001]; leaking seals of the valve
	// block are likelier than leaking switches, 22 to 7 of 667 vehicles [VASA2015].
	if two[0].Code != "condenser_face" {
		t.Errorf("%s is searched first", two[0].Code)
	}
	for _, p := range two {
		if _, ok := refrig.Ref(p.Ref); ok != (p.Basis == service.Published) {
			t.Errorf("%s is %s and cites %q", p.Code, p.Basis, p.Ref)
		}
		for _, q := range two {
			if p.Of > 0 && p.Of == q.Of && p.Found > q.Found && p.Likely <= q.Likely {
				t.Errorf("%s was found in %d, %s in %d of %d, yet is called no likelier", p.Code, p.Found, q.Code, q.Found, p.Of)
			}
		}
	}
	rows := map[string]string{}
	for _, row := range table(t, "../../testdata/surveys/surveys.csv") {
		rows[row[0]] = strings.Join(row[1:], " ")
	}
	if !strings.Contains(rows["K016"], "22 of 667") || !strings.Contains(rows["K017"], "7 leaks") || !strings.Contains(rows["K054"], "28.8 g (5.3 %) to 81.9 g") {
		t.Error("the surveys do not say what is cited")
	}
	if w := codes(service.SearchWarnings(100e3, refrig.Celsius(5))); !w["too_little_pressure_to_search"] || !w["outside_detector_ambient"] {
		t.Errorf("cold and empty: %v", w)
	}
	if w := service.SearchWarnings(500e3, refrig.Celsius(25)); w != nil {
		t.Errorf("all well, yet %v", w)
	}
}

// What [SAEJ1628] asks of a search with a detector is there with its source, and each
// method says what spoils it. 50 psi are 340 kPa as the standard prints it.
func TestSearchMethods(t *testing.T) {
	needs := map[string]service.Note{}
	for _, m := range service.Methods() {
		seen := map[string]bool{}
		for _, n := range m.Needs {
			needs[m.Code+" "+n.Code] = n
			if _, ok := refrig.Ref(n.Ref); ok != (n.Basis == service.Published) || seen[n.Code] {
				t.Errorf("%s %s: %s cites %q, or is there twice", m.Code, n.Code, n.Basis, n.Ref)
			}
			seen[n.Code] = true
		}
		if gas := m.Code == "nitrogen" || m.Code == "tracer"; m.Recovers != gas {
			t.Errorf("%s: refrigerant recovered first: %v", m.Code, m.Recovers)
		}
	}
	for _, must := range []string{"detector probe_below", "detector probe_slow_and_close", "evaporator blower_then_off", "evaporator probe_in_the_drain"} {
		if needs[must].Ref != "SAEJ1628" {
			t.Errorf("%s is missing or without its source", must)
		}
	}
	for _, must := range []string{"tracer own_detector", "tracer probe_above", "tracer not_onto_refrigerant", "nitrogen detector_is_deaf",
		"dye dye_once", "dye wipe_the_port", "dye dye_suits_oil", "dye uv_lamp_eyewear"} {
		if needs[must].Code == "" {
			t.Errorf("%s is missing", must)
		}
	}
	near(t, "least pressure, kPa", service.SomePressure().Lo/1000, 340, 5)
}

// Figures of the standard for R-134a are not shown as if they held for another gas: of the
// one for R-1234yf two are known (memory), the rest is judgement.
func TestMachinesOfOtherGases(t *testing.T) {
	for _, gas := range []string{car.R1234yf, car.R12} {
		m := service.MachineFor(gas)
		for _, r := range []service.Rule{m.Display, m.Oil, m.RecoverWarm, m.RecoverCold, m.Tolerance, m.Ambient} {
			if r.Ref == "SAEJ2788" || r.Ref == "SAEJ2810" || (r.Ref != "") != (r.Basis == service.Published) {
				t.Errorf("%s: %+v", gas, r)
			}
		}
	}
	if m := service.MachineFor(car.R1234yf); m.Tolerance.Ref != "SAEJ2843" || m.Tolerance.Hi != 0.015 || m.RecoverWarm.Lo != 0.95 {
		t.Errorf("R-1234yf: %+v", m)
	}
	p, err := service.Charge(service.ChargeInput{Refrigerant: car.R1234yf, Label: 0.45, Temperature: refrig.Celsius(25)})
	if err != nil || p.Tolerance.Ref != "SAEJ2843" {
		t.Errorf("%+v, %v", p.Tolerance, err)
	}
}

// What R-1234yf and electric compressors ask is said to their cars and to cars that are
// not known, and to no other; sealant is looked for before any machine is coupled.
func TestGasNotes(t *testing.T) {
	has := func(step service.Step, s car.Spec, code string) bool {
		return slices.ContainsFunc(service.GasNotes(step, s), func(n service.Note) bool { return n.Code == code })
	}
	old := car.Spec{Refrigerant: car.R134a, Compressor: car.Fixed}
	yf := car.Spec{Refrigerant: car.R1234yf, Compressor: car.Electric}
	for code, step := range map[string]service.Step{"identify_98": service.StepRecover, "machine_yf": service.StepRecover, "machine_both": service.StepRecover,
		"trained_yf": service.StepRecover, "machine_for_electric": service.StepRecover,
		"never_r134a_into_yf": service.StepCharge, "leak_check_first": service.StepCharge} {
		if has(step, old, code) || !has(step, yf, code) || !has(step, car.Spec{}, code) {
			t.Errorf("%s: R-134a %v, R-1234yf %v, not known %v", code, has(step, old, code), has(step, yf, code), has(step, car.Spec{}, code))
		}
	}
	if n := service.GasNotes(service.StepRecover, old); n[0].Code != "sealant_before_coupling" {
		t.Errorf("before coupling comes %s", n[0].Code)
	}
	for _, step := range service.Steps() {
		for _, n := range service.GasNotes(step, car.Spec{}) {
			if _, ok := refrig.Ref(n.Ref); ok != (n.Basis == service.Published) {
				t.Errorf("%s is %s and cites %q", n.Code, n.Basis, n.Ref)
			}
		}
	}
}

// Whatever opens the circuit, and nothing else, asks for recovery, a new drier, new seals
// and capped lines, without another tap (common practice).
func TestOpeningTheCircuitAsksForDrierAndSeals(t *testing.T) {
	has := func(in service.RepairInput, code string) bool {
		return slices.ContainsFunc(service.RepairNotes(in), func(n service.Note) bool { return n.Code == code })
	}
	if n := service.RepairNotes(service.RepairInput{}); n != nil {
		t.Errorf("nothing was opened, yet %v", n)
	}
	opened := []service.RepairInput{{Opened: true}}
	for _, p := range service.Parts() {
		opened = append(opened, service.RepairInput{Replaced: []service.Part{p}})
	}
	for _, in := range opened {
		if service.RepairNotes(in)[0].Code != "recover_first" {
			t.Errorf("%v: recovery does not come first", in.Replaced)
		}
		for _, code := range []string{"new_orings_oiled", "seals_of_the_right_kind", "cap_open_lines"} {
			if !has(in, code) {
				t.Errorf("%v: %s is missing", in.Replaced, code)
			}
		}
		own := slices.Equal(in.Replaced, []service.Part{service.ReceiverPart}) || slices.Equal(in.Replaced, []service.Part{service.Accumulator})
		if has(in, "replace_drier") == own {
			t.Errorf("%v: replace the drier: %v", in.Replaced, !own)
		}
	}
}

// A compressor that failed inside leaves its metal in drier, metering device and
// condenser: each is asked for until it is among the parts, and the lines are flushed.
func TestAfterACompressorFailure(t *testing.T) {
	in := service.RepairInput{Car: car.Spec{Compressor: car.Fixed}, Replaced: []service.Part{service.Compressor}}
	has := func(code string) bool {
		return slices.ContainsFunc(service.RepairNotes(in), func(n service.Note) bool { return n.Code == code })
	}
	if !has("look_for_metal") || has("flush_or_filter_after_failure") || !has("turn_by_hand") {
		t.Error("a new compressor: look for metal before flushing")
	}
	in.Broken = true
	for _, c := range []struct {
		code string
		part service.Part
	}{{"drier_after_failure", service.ReceiverPart}, {"drier_after_failure", service.Accumulator},
		{"metering_after_failure", service.Metering}, {"condenser_after_failure", service.Condenser}} {
		in.Replaced = []service.Part{service.Compressor}
		if !has(c.code) || !has("flush_or_filter_after_failure") || has("replace_drier") {
			t.Errorf("failed inside: %v", service.RepairNotes(in))
		}
		in.Replaced = append(in.Replaced, c.part)
		if has(c.code) {
			t.Errorf("%s is replaced, yet %s", c.part, c.code)
		}
	}
	in.Car.Compressor = car.Electric
	if has("turn_by_hand") || has("belt_and_clutch_gap") {
		t.Error("an electric compressor has no hub to turn")
	}
	in = service.RepairInput{Car: car.Spec{Refrigerant: car.R134a}, Replaced: []service.Part{service.Evaporator}}
	if has("never_a_used_evaporator") {
		t.Error("R-134a: a used evaporator is not forbidden")
	}
	if in.Car.Refrigerant = ""; !has("never_a_used_evaporator") {
		t.Error("not knowing the refrigerant is no reason to leave it out")
	}
}

// Which caution stands at which step, from what is done there: hoses hang on the car or
// come off, something runs, gas can come out, hands are near high voltage. Judgement, by
// what hurts whom; the law and the sources stand with each caution.
func TestCautionsStandWhereTheyBite(t *testing.T) {
	yf, plain := car.Spec{Refrigerant: car.R1234yf, Compressor: car.Electric}, car.Spec{Refrigerant: car.R134a, Compressor: car.Variable}
	type step = service.Step
	const (
		read, resting, find, recovery, repair = service.StepRead, service.StepResting, service.StepFind, service.StepRecover, service.StepRepair
		retest, evacuate, charge, prove       = service.StepRetest, service.StepEvacuate, service.StepCharge, service.StepProve
	)
	all := service.Steps()
	for _, c := range []struct {
		code  string
		at    []step // and at no other
		ofAll bool   // of every car, not of R-1234yf or high voltage only
		why   string
	}{
		{"goggles_and_gloves", all, true, "hoses come on and off, joints are opened"},
		{"uncoupling", []step{read, resting, recovery, retest, evacuate, charge, prove}, true, "a hose comes off"},
		{"frostbite_aid", []step{read, resting, find, recovery, repair, evacuate, charge, prove}, true, "refrigerant can come out"},
		{"fans_and_belts", []step{read, find, charge, prove}, true, "belts turn, and fans start by themselves while one searches"},
		{"hot_parts", []step{read, find, charge, prove}, true, "the engine runs or has run"},
		{"ventilate_doors_open", []step{read, charge, prove}, true, "the engine runs"},
		{"mildly_flammable", []step{read, resting, find, recovery, repair, charge, prove}, false, "R-1234yf can come out"},
		{"pump_can_ignite", []step{recovery, evacuate}, false, "a pump is a source of ignition"},
		{"high_voltage_isolate", []step{find, recovery, repair, retest, evacuate}, false, "hands near the cables of a car at rest"},
		{"high_voltage_keep_off", []step{read, resting, charge, prove}, false, "the compressor may start"},
		{"gas_sinks", []step{find, recovery, repair, charge}, true, "gas gathers low down"},
		{"no_flame_toxic_gas", []step{find, recovery, repair, charge}, true, "gas meets flames"},
		{"never_compressed_air", []step{find, retest}, true, "somebody reaches for the air hose"},
		{"never_oxygen", []step{find, retest}, true, "somebody mistakes the cylinder"},
		{"regulate_nitrogen", []step{find, retest}, true, "a cylinder holds a hundred times what a coil bears"},
		{"never_vent", []step{recovery}, true, "it is let out here or nowhere"},
		{"high_valve_closed_running", []step{charge}, true, "a can bursts"},
		{"no_liquid_into_suction", []step{charge}, true, "liquid breaks the compressor"},
		{"label_and_manual_outrank", all, true, "always"},
	} {
		for _, s := range all {
			has := func(of car.Spec) bool {
				return slices.ContainsFunc(service.Cautions(s, of), func(n service.Note) bool { return n.Code == c.code })
			}
			want := slices.Contains(c.at, s)
			if has(yf) != want || has(car.Spec{}) != want || has(plain) != (want && c.ofAll) {
				t.Errorf("%s at %s: R-1234yf electric %v, not known %v, R-134a %v; it belongs there: %v (%s)",
					c.code, s, has(yf), has(car.Spec{}), has(plain), want, c.why)
			}
		}
	}
	// R-744 is asked about until the refrigerant is known.
	for _, s := range []step{read, resting, recovery} {
		if n := service.Cautions(s, car.Spec{}); !slices.ContainsFunc(n, func(n service.Note) bool { return n.Code == "r744_stop" }) {
			t.Errorf("%s: nothing keeps a hose off R-744", s)
		}
	}
	// A code stands once at a step.
	for _, s := range all {
		seen := map[string]bool{}
		for _, n := range service.Cautions(s, car.Spec{}) {
			if seen[n.Code] {
				t.Errorf("%s twice at %s", n.Code, s)
			}
			seen[n.Code] = true
		}
	}
}

func TestNotesAndCautions(t *testing.T) {
	find := func(step service.Step, s car.Spec, code string) bool {
		return slices.ContainsFunc(service.Cautions(step, s), func(n service.Note) bool { return n.Code == code })
	}
	for _, s := range service.Steps() {
		if !find(s, car.Spec{}, "label_and_manual_outrank") {
			t.Errorf("%s: who outranks us is missing", s)
		}
	}
	yf, old := car.Spec{Refrigerant: car.R1234yf, Compressor: car.Electric}, car.Spec{Refrigerant: car.R12, Compressor: car.Fixed}
	if !find(service.StepCharge, yf, "mildly_flammable") || find(service.StepCharge, old, "mildly_flammable") {
		t.Error("only R-1234yf is mildly flammable")
	}
	if !find(service.StepRepair, yf, "high_voltage_isolate") || find(service.StepRepair, old, "high_voltage_isolate") {
		t.Error("only an electric compressor has high voltage")
	}
	// Not knowing the car is no reason to leave a caution out.
	if !find(service.StepCharge, car.Spec{}, "mildly_flammable") || !find(service.StepRepair, car.Spec{}, "high_voltage_isolate") {
		t.Error("unknown car: caution missing")
	}
}

// TestRulesAreSourced: whatever is "published" names an entry of the bibliography, and
// spans are in order.
func TestRulesAreSourced(t *testing.T) {
	var rules []service.Rule
	rules = append(rules, service.PumpTimes()...)
	rules = append(rules, service.NitrogenLimits()...)
	rules = append(rules, service.DetectorSettings()...)
	rules = append(rules, service.SomePressure(), service.DetectorAmbient(), service.ToleranceArmy,
		service.ChargeAmbient, service.ReserveUsual, service.ReserveSmall, service.PublishedVent)
	m := service.MachineFor(car.R134a)
	rules = append(rules, m.Display, m.Oil, m.RecoverWarm, m.RecoverCold, m.Tolerance, m.Ambient)
	for _, c := range service.Criteria() {
		rules = append(rules, c.Rule)
	}
	p, err := service.Retrofit(1)
	if err != nil {
		t.Fatal(err)
	}
	rules = append(append(append(rules, p.Rules...), p.HighSide...), p.Steps...)
	seen := map[string]bool{}
	for _, r := range rules {
		if seen[r.Code] {
			t.Errorf("two rules are called %s", r.Code)
		}
		seen[r.Code] = true
		if r.Lo > r.Hi {
			t.Errorf("%s: %v to %v", r.Code, r.Lo, r.Hi)
		}
		if _, ok := refrig.Ref(r.Ref); ok != (r.Basis == service.Published) {
			t.Errorf("%s is %s and cites %q", r.Code, r.Basis, r.Ref)
		}
	}
	for _, s := range service.Steps() {
		for _, n := range service.Cautions(s, car.Spec{}) {
			if _, ok := refrig.Ref(n.Ref); ok != (n.Basis == service.Published) {
				t.Errorf("%s is %s and cites %q", n.Code, n.Basis, n.Ref)
			}
		}
	}
}
