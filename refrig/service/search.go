package service

import (
	"slices"
	"sort"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// Place is one spot to search for a leak.
type Place struct {
	Code    string
	Access  int      // 1 in reach, 2 from below or behind a cover, 3 parts come off
	Likely  int      // 1 seldom, 2 sometimes, 3 often
	Methods []string // codes of [Method], the best first
	// Basis and Ref say what Likely rests on. Of the cars of a survey, Found of Of leaked
	// here; zero where nobody counted.
	Basis     Basis
	Ref       string
	Found, Of int
}

// places, those first that come first among equals. Who counted is named: leaking seals
// of the valve block in 22 and leaking pressure switches in 7 of 667 vehicles
// [VASA2015], and the condenser as the part most often replaced after losses that were
// no slow leak [OekoRecherche2001]. The rest is judgement after common practice: service
// valves and joints leak most, the evaporator hides best.
var places = []Place{
	{"condenser_face", 1, 3, []string{"oil_trace", "detector", "dye"}, Published, "OekoRecherche2001", 0, 0},
	{"service_ports", 1, 3, []string{"detector", "soap"}, Judgement, "", 0, 0},
	{"fittings", 1, 3, []string{"oil_trace", "detector", "dye", "soap"}, Judgement, "", 0, 0},
	{"hoses_and_crimps", 1, 2, []string{"oil_trace", "dye", "detector"}, Judgement, "", 0, 0},
	{"compressor_shaft_seal", 2, 3, []string{"oil_trace", "detector", "dye"}, Judgement, "", 0, 0},
	{"rear_lines", 2, 3, []string{"oil_trace", "dye", "detector"}, Judgement, "", 0, 0},
	{"valve_block", 2, 2, []string{"detector", "oil_trace", "dye"}, Published, "VASA2015", 22, 667},
	{"pressure_switches", 1, 1, []string{"detector", "oil_trace", "soap"}, Published, "VASA2015", 7, 667},
	{"evaporator_drain", 2, 2, []string{"evaporator", "tracer", "dye"}, Judgement, "", 0, 0},
	{"rear_evaporator", 3, 2, []string{"evaporator", "tracer", "dye"}, Judgement, "", 0, 0},
	{"compressor_body", 2, 1, []string{"oil_trace", "detector", "dye"}, Judgement, "", 0, 0},
	{"relief_valve", 2, 1, []string{"oil_trace", "detector"}, Judgement, "", 0, 0},
	{"drier_or_accumulator", 2, 1, []string{"oil_trace", "detector"}, Judgement, "", 0, 0},
}

// SearchOrder returns where to look for a leak, in the order of likelihood for the
// trouble: the most likely of the easy places first. A car with two evaporators has
// a rear one and long lines under the floor, where stones and salt reach; until somebody
// has said that there is one only, they are searched too. An electric compressor is
// sealed and has no shaft seal.
func SearchOrder(s car.Spec) []Place {
	var out []Place
	for _, p := range places {
		rear := p.Code == "rear_lines" || p.Code == "rear_evaporator"
		if rear && s.Evaporators == 1 || p.Code == "compressor_shaft_seal" && s.Compressor == car.Electric {
			continue
		}
		out = append(out, p)
	}
	sort.SliceStable(out, func(i, j int) bool {
		return out[i].Likely-out[i].Access > out[j].Likely-out[j].Access
	})
	return out
}

// EngineState says how a method wants the engine.
type EngineState string

// How a method wants the engine.
const (
	EngineOff     EngineState = "off"
	EngineRunning EngineState = "running" // to spread; the look itself is with the engine off
)

// Method is one way to find a leak.
type Method struct {
	Code     string
	Engine   EngineState
	Needs    []Note // what it needs or must mind
	Limits   []Rule // Pa gauge, K, m³, s, or kg/year for the settings of a detector
	Recovers bool   // the refrigerant must be recovered first
}

// common is what the trade minds without a source one could cite.
func common(codes ...string) []Note {
	out := make([]Note, len(codes))
	for i, c := range codes {
		out[i] = Note{c, CommonPractice, ""}
	}
	return out
}

// probing is how a probe is moved and where ([SAEJ1628]).
var probing = []Note{{"probe_below", Published, "SAEJ1628"}, {"probe_slow_and_close", Published, "SAEJ1628"}, {"no_draught", Published, "SAEJ1628"}}

// Methods returns the ways to find a leak. Pulling a vacuum is not among them: an
// Army manual says not to use it for that ([USArmy296]), and [Hold] shows why.
func Methods() []Method {
	return []Method{
		{"oil_trace", EngineOff, common("clean_after", "light_and_mirror"), nil, false},
		{"detector", EngineOff, append(slices.Clone(probing), common("detector_suits_gas", "touch_nothing")...),
			append([]Rule{SomePressure(), DetectorAmbient()}, DetectorSettings()...), false},
		{"evaporator", EngineOff, append([]Note{{"blower_then_off", Published, "SAEJ1628"}, {"probe_in_the_drain", Published, "SAEJ1628"}}, common("drain_not_wet")...),
			evaporatorTimes(), false},
		{"dye", EngineRunning, append([]Note{{"dye_standard", Published, "SAEJ2297"}, {"dye_procedure", Published, "SAEJ2298"}}, common("dye_suits_oil", "dye_once", "wipe_the_port", "run_then_look", "uv_lamp_eyewear")...), []Rule{DyeDose}, false},
		{"soap", EngineOff, common("some_pressure_left", "soap_is_coarse"), nil, false},
		{"nitrogen", EngineOff, common("regulator", "relief", "never_air_or_oxygen", "not_onto_refrigerant", "detector_is_deaf", "evacuate_after"), NitrogenLimits(), true},
		{"tracer", EngineOff, common("ready_mixed", "own_detector", "probe_above", "regulator", "not_onto_refrigerant", "evacuate_after"), nil, true},
	}
}

// evaporatorTimes are those of the search at the evaporator, s: what gathers in its case
// is let gather, with the blower off, before the probe goes in.
func evaporatorTimes() []Rule {
	return []Rule{
		{"evaporator_blower", 15, 15, Published, "SAEJ1628"},
		{"evaporator_wait", 10 * minute, 10 * minute, CommonPractice, ""},
	}
}

// NitrogenLimits are test pressures with dry nitrogen, Pa gauge. The sources
// differ: an Army manual allows more than a typical low-side rating.
func NitrogenLimits() []Rule {
	return []Rule{
		{"nitrogen_customary", 150 * psi, 150 * psi, CommonPractice, ""},
		{"nitrogen_army", 200 * psi, 250 * psi, Published, "USArmyVarious"},
	}
}

// SomePressure returns the lowest gauge pressure at which a detector search makes
// sense, Pa: below it there is too little refrigerant to come out.
func SomePressure() Rule {
	return Rule{"detector_least_pressure", 50 * psi, 50 * psi, Published, "SAEJ1628"} // printed as 340 kPa too
}

// DetectorAmbient is the temperature at which detectors are rated, K.
func DetectorAmbient() Rule {
	return Rule{"detector_ambient", 288.15, 322.15, Published, "SAEJ2791"}
}

// SearchWarnings returns what stands against searching now: too cold or too hot for
// the detector, or too little pressure.
func SearchWarnings(resting refrig.Gauge, ambient refrig.Temperature) []refrig.Warning {
	var w []refrig.Warning
	if r := SomePressure(); !(float64(resting) >= r.Lo) {
		w = append(w, warn("too_little_pressure_to_search", "at_least", r.Lo))
	}
	if r := DetectorAmbient(); !(float64(ambient) >= r.Lo && float64(ambient) <= r.Hi) {
		w = append(w, refrig.Warning{Code: "outside_detector_ambient", Args: map[string]float64{"lo": r.Lo, "hi": r.Hi}})
	}
	return w
}
