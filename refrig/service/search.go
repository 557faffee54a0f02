package service

import (
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
}

// places in no particular order; Access and Likely are judgement after common
// practice: service valves and joints leak most, the evaporator hides best.
var places = []Place{
	{"service_ports", 1, 3, []string{"detector", "soap"}},
	{"fittings", 1, 3, []string{"oil_trace", "detector", "dye", "soap"}},
	{"condenser_face", 1, 3, []string{"oil_trace", "detector", "dye"}},
	{"hoses_and_crimps", 1, 2, []string{"oil_trace", "dye", "detector"}},
	{"pressure_switches", 1, 2, []string{"detector", "oil_trace", "soap"}},
	{"compressor_shaft_seal", 2, 3, []string{"oil_trace", "detector", "dye"}},
	{"compressor_body", 2, 1, []string{"oil_trace", "detector", "dye"}},
	{"relief_valve", 2, 1, []string{"oil_trace", "detector"}},
	{"drier_or_accumulator", 2, 1, []string{"oil_trace", "detector"}},
	{"valve_block", 2, 2, []string{"detector", "oil_trace", "dye"}},
	{"evaporator_drain", 2, 2, []string{"detector", "dye"}},
	{"rear_lines", 2, 3, []string{"oil_trace", "dye", "detector"}},
	{"rear_evaporator", 3, 2, []string{"detector", "dye"}},
}

// SearchOrder returns where to look for a leak, in the order of likelihood for the
// trouble: the most likely of the easy places first. A car with two evaporators has
// a rear one and long lines under the floor, where stones and salt reach; an
// electric compressor is sealed and has no shaft seal.
func SearchOrder(s car.Spec) []Place {
	var out []Place
	for _, p := range places {
		rear := p.Code == "rear_lines" || p.Code == "rear_evaporator"
		if rear && s.Evaporators != 2 || p.Code == "compressor_shaft_seal" && s.Compressor == car.Electric {
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
	EngineAny     EngineState = "any"
)

// Method is one way to find a leak.
type Method struct {
	Code     string
	Engine   EngineState
	Needs    []string // codes of what it needs or must mind
	Limits   []Rule   // unit: Pa gauge for pressures, kg/year for detector settings
	Recovers bool     // the refrigerant must be recovered first
}

// Methods returns the ways to find a leak. Pulling a vacuum is not among them: an
// Army manual says not to use it for that ([USArmy296]), and [Hold] shows why.
func Methods() []Method {
	return []Method{
		{"oil_trace", EngineOff, []string{"clean_after", "light_and_mirror"}, nil, false},
		{"detector", EngineOff, []string{"probe_below", "no_draught", "touch_nothing", "some_pressure_left"}, DetectorSettings(), false},
		{"dye", EngineRunning, []string{"dye_suits_oil", "run_then_look", "uv_lamp_eyewear"}, nil, false},
		{"soap", EngineOff, []string{"some_pressure_left"}, nil, false},
		{"nitrogen", EngineOff, []string{"regulator", "relief", "never_air_or_oxygen", "not_onto_refrigerant", "detector_is_deaf", "evacuate_after"}, NitrogenLimits(), true},
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
	return Rule{"detector_least_pressure", 50 * psi, 50 * psi, CommonPractice, ""}
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
		w = append(w, refrig.Warning{Code: "too_little_pressure_to_search", Args: map[string]float64{"at_least": r.Lo}})
	}
	if r := DetectorAmbient(); !(float64(ambient) >= r.Lo && float64(ambient) <= r.Hi) {
		w = append(w, refrig.Warning{Code: "outside_detector_ambient", Args: map[string]float64{"lo": r.Lo, "hi": r.Hi}})
	}
	return w
}
