package service

import (
	"slices"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// Part is a part of the refrigerant circuit that can be replaced. Its value is its
// stable code.
type Part string

// The parts.
const (
	Condenser    Part = "condenser"
	Evaporator   Part = "evaporator"
	RearUnit     Part = "rear_unit"
	ReceiverPart Part = "receiver_drier"
	Accumulator  Part = "accumulator"
	Metering     Part = "metering_device"
	Hose         Part = "hose"
	Compressor   Part = "compressor"
	ServicePort  Part = "service_port"
	Seals        Part = "seals"
	Switch       Part = "switch" // pressure or temperature switch, sensor
)

// Parts returns every part.
func Parts() []Part {
	return []Part{Condenser, Evaporator, RearUnit, ReceiverPart, Accumulator, Metering, Hose, Compressor, ServicePort, Seals, Switch}
}

// partOil is the oil a new part takes with it, m³: the span of what is said, and the
// middle of it.
type partOil struct {
	Rule
	Usual float64
}

// oilByPart is what makers print for parts of their cars, each row of which stands in
// testdata/makers/oil_by_part.csv: the span is that of the rows, Usual their median.
// They differ by a factor of three, so the figure for the car at hand outranks every
// line. Where the old part's oil can be drained and measured, OilToAdd uses it.
var oilByPart = map[Part]partOil{
	Condenser:    {Rule{"oil_condenser", 15 * ml, 50 * ml, Published, "MakersOil"}, 40 * ml},
	Evaporator:   {Rule{"oil_evaporator", 20 * ml, 80 * ml, Published, "MakersOil"}, 52.5 * ml},
	RearUnit:     {Rule{"oil_evaporator", 20 * ml, 80 * ml, Published, "MakersOil"}, 52.5 * ml},
	ReceiverPart: {Rule{"oil_receiver_drier", 0, 40 * ml, Published, "MakersOil"}, 15 * ml},
	Hose:         {Rule{"oil_hose", 5 * ml, 20 * ml, Published, "MakersOil"}, 10 * ml},
	Accumulator:  {Rule{"oil_accumulator_above_drained", 60 * ml, 60 * ml, CommonPractice, ""}, 60 * ml},
}

var (
	// oilCompressor is the least a new compressor should hold, m³.
	oilCompressor = Rule{"oil_compressor_least", 30 * ml, 60 * ml, CommonPractice, ""}
	// oilLargeLeak is the oil that leaves with a sudden large leak, m³; one maker prints 80 ml.
	oilLargeLeak = Rule{"oil_large_leak", 60 * ml, 90 * ml, CommonPractice, ""}
	// OilFilling is what new compressors of cars come with, m³: mostly the oil of the
	// whole system.
	OilFilling = Rule{"oil_filling", 80 * ml, 200 * ml, Published, "MakersOil"}
	// DyeDose is one dose of dye for a car, m³. It is oil with colour in it.
	DyeDose = Rule{"dye_dose", 7 * ml, 8 * ml, CommonPractice, ""}
)

// OilInput is what happened to the oil. Amounts are in m³; one that is missing from a
// map was not measured.
type OilInput struct {
	Replaced  []Part
	Drained   map[Part]float64 // poured out of the old accumulator or compressor
	Filled    map[Part]float64 // that the new compressor came with
	LargeLeak bool             // it left suddenly, with oil
	Flushed   bool             // the whole circuit: no oil is left in it
	Recovered float64          // that the machine took out with the refrigerant
	Label     float64          // of the whole system, on the label or in the manual; 0 unknown
}

// OilLine is one reason to add oil.
type OilLine struct {
	Part Part // "" for the leak, for recovered oil and for a flushed circuit
	Rule Rule
	Add  Estimate // m³; the value is the usual amount, the limits are those of the rule
}

// CompressorOil is what is to be done with the oil of a new compressor.
type CompressorOil struct {
	Keep  Estimate // m³ that it should hold when it is fitted
	Drain Estimate // m³ to pour out of it first; zero where what it came with is not known
}

// OilPlan is the oil to add from the bottle.
type OilPlan struct {
	Lines      []OilLine
	Add        Estimate       // m³ in all, never more than the label leaves room for
	Compressor *CompressorOil // nil unless it is replaced and the old one was measured
	Warnings   []refrig.Warning
}

// OilToAdd adds up the oil that left the system:
//
//	recovered oil: the same amount, new ([CFR82])
//	part replaced: what makers print for such a part
//	accumulator:   what the old one held + 60 ml
//	compressor:    what the old one held (B), at least 30–60 ml, less what the new one
//	               came with (A)
//	flushed:       the whole filling of the label, less what the new compressor keeps
//
// Most new compressors come with the oil of a whole system ([OilFilling]). Then nothing
// is added for it, and C = A − B is poured out of it before it is fitted. Without A the
// line reaches down to nothing, without B it cannot be worked out: warnings ask for
// both, and for the old accumulator's.
//
// The filling on the label caps the sum, and what a new compressor keeps. Without it a
// sum that exceeds what some cars hold in all leaves a warning: too little oil kills the
// compressor, too much fills the evaporator.
//
// A [*refrig.RangeError] names an amount outside 0…1 l, a label outside 0…5 l (a coach).
// An unknown part is misuse and panics.
func OilToAdd(in OilInput) (OilPlan, error) {
	var p OilPlan
	err := first(
		check("recovered oil", in.Recovered, 0, 1e-3, "m³", "judgement"),
		check("oil of the new compressor", in.Filled[Compressor], 0, 1e-3, "m³", "judgement"),
		check("oil on the label", in.Label, 0, 5e-3, "m³", "judgement"),
	)
	for _, v := range in.Drained {
		err = first(err, check("drained oil", v, 0, 1e-3, "m³", "judgement"))
	}
	if err != nil {
		return p, err
	}
	var kept Estimate // of the filling that the new compressor came with
	if !in.Flushed && in.Recovered > 0 {
		p.add(OilLine{Rule: Rule{"oil_recovered", in.Recovered, in.Recovered, Published, "CFR82"}, Add: exactly(in.Recovered)})
	}
	for _, part := range in.Replaced {
		if !known(part) {
			panic("service: unknown part " + string(part))
		}
		if part == Compressor {
			kept = p.compressor(in)
			continue
		}
		r, ok := oilByPart[part]
		if !ok || in.Flushed {
			continue // holds next to no oil, or is counted in the whole
		}
		drained, measured := in.Drained[part]
		if part == Accumulator && !measured {
			p.warn("drain_and_measure_accumulator", nil)
		}
		p.add(OilLine{part, r.Rule, Estimate{drained + r.Usual, drained + r.Lo, drained + r.Hi}})
	}
	switch {
	case in.Flushed && in.Label > 0:
		p.add(OilLine{Rule: Rule{"oil_whole_filling", in.Label, in.Label, CommonPractice, ""},
			Add: Estimate{in.Label - kept.Value, in.Label - kept.Hi, in.Label - kept.Lo}.notNegative()})
	case in.Flushed:
		p.warn("flushed_needs_label", nil)
	case in.LargeLeak:
		p.add(OilLine{Rule: oilLargeLeak, Add: Estimate{(oilLargeLeak.Lo + oilLargeLeak.Hi) / 2, oilLargeLeak.Lo, oilLargeLeak.Hi}})
	}
	p.cap(in.Label, kept)
	return p, nil
}

// compressor plans the oil of a new compressor, and returns how much of what it came
// with it keeps.
func (p *OilPlan) compressor(in OilInput) (kept Estimate) {
	old, drained := in.Drained[Compressor]
	came, known := in.Filled[Compressor]
	if !known {
		p.warn("measure_new_compressor", map[string]float64{"oil_least": OilFilling.Lo, "oil_most": OilFilling.Hi})
	}
	if in.Flushed { // its share is in the whole, whatever the old one held
		if known && in.Label > 0 {
			p.Compressor = &CompressorOil{Keep: exactly(min(came, in.Label)), Drain: exactly(max(0, came-in.Label))}
			return p.Compressor.Keep
		}
		return Estimate{Hi: OilFilling.Hi}
	}
	r := oilCompressor
	keep := Estimate{max(old, (r.Lo+r.Hi)/2), max(old, r.Lo), max(old, r.Hi)}
	if in.Label > 0 && keep.Hi > in.Label { // an old one that was overfilled is no measure
		if keep.Lo > in.Label {
			p.warn("oil_beyond_label", map[string]float64{"oil_sum": keep.Lo, "oil_label": in.Label})
		}
		keep = Estimate{min(keep.Value, in.Label), min(keep.Lo, in.Label), in.Label}
	}
	line := OilLine{Part: Compressor, Rule: r, Add: Estimate{Hi: keep.Hi}}
	if known {
		line.Add = Estimate{keep.Value - came, keep.Lo - came, keep.Hi - came}.notNegative()
		kept = Estimate{min(came, keep.Value), min(came, keep.Lo), min(came, keep.Hi)}
	}
	if !drained {
		p.warn("drain_and_measure_compressor", nil)
		line.Add.Hi = max(line.Add.Lo, line.Add.Hi)
	} else {
		p.Compressor = &CompressorOil{Keep: keep}
		if known {
			p.Compressor.Drain = Estimate{came - keep.Value, came - keep.Hi, came - keep.Lo}.notNegative()
		}
	}
	p.add(line)
	return kept
}

// cap holds the sum to what the label leaves room for.
func (p *OilPlan) cap(label float64, kept Estimate) {
	if label == 0 {
		if p.Add.Hi > OilFilling.Lo {
			p.warn("oil_without_label", map[string]float64{"oil_sum": p.Add.Hi, "oil_least": OilFilling.Lo})
		}
		return
	}
	room := max(0, label-kept.Lo)
	switch {
	case p.Add.Lo > room:
		p.warn("oil_beyond_label", map[string]float64{"oil_sum": p.Add.Lo, "oil_label": label})
	case p.Add.Hi > room:
		p.warn("oil_capped", map[string]float64{"oil_label": label})
	}
	p.Add = Estimate{min(p.Add.Value, room), min(p.Add.Lo, room), min(p.Add.Hi, room)}
}

func (p *OilPlan) add(l OilLine) {
	p.Lines = append(p.Lines, l)
	p.Add = Estimate{p.Add.Value + l.Add.Value, p.Add.Lo + l.Add.Lo, p.Add.Hi + l.Add.Hi}
}

// warn adds a warning, once.
func (p *OilPlan) warn(code string, args map[string]float64) {
	if slices.ContainsFunc(p.Warnings, func(w refrig.Warning) bool { return w.Code == code }) {
		return
	}
	p.Warnings = append(p.Warnings, refrig.Warning{Code: code, Args: args})
}

func known(part Part) bool { return slices.Contains(Parts(), part) }

// OilAdvice is the kind of oil for a compressor.
type OilAdvice struct {
	Kind string // "pag", "pag_yf", "poe", "mineral", or "ask_label" where it depends
	// Grades are the ISO viscosity grades in use, mm²/s at 40 °C; the maker names one.
	Grades   []float64
	Basis    Basis
	Ref      string
	Warnings []refrig.Warning

	may []string // the kinds that the label can name, where it is to be asked
}

// Suits tells whether oil of the kind may go in; where the label is to be asked, whether
// it could name it.
func (a OilAdvice) Suits(kind string) bool { return a.Kind == kind || slices.Contains(a.may, kind) }

// OilFor returns the kind of oil a compressor takes. High-voltage compressors need
// polyol ester or the maker's own oil, because PAG lets current through: as little
// as 1 % of it is the customary limit. R-1234yf takes a PAG made for it. R-12 systems were filled with mineral oil
// (MEMORY); converted ones carry what the conversion label says.
func OilFor(c car.Compressor, refrigerant string) OilAdvice {
	switch {
	case c == car.Electric:
		return OilAdvice{Kind: "poe", Basis: CommonPractice,
			Warnings: []refrig.Warning{warn("pag_conducts", "fraction", 0.01)}} // common practice
	case refrigerant == car.R12:
		return OilAdvice{Kind: "mineral", Basis: CommonPractice,
			Warnings: []refrig.Warning{{Code: "converted_follow_label"}}}
	case c == car.CompressorUnknown:
		may := map[string][]string{car.R134a: {"pag", "poe"}, car.R1234yf: {"pag_yf", "poe"}, "": {"pag", "pag_yf", "poe", "mineral"}}
		return OilAdvice{Kind: "ask_label", Basis: CommonPractice, may: may[refrigerant],
			Warnings: []refrig.Warning{warn("pag_conducts_electric", "fraction", 0.01)}}
	}
	kind := "pag"
	if refrigerant == car.R1234yf {
		kind = "pag_yf"
	}
	return OilAdvice{Kind: kind, Grades: []float64{46, 100, 150}, Basis: CommonPractice, // ISO VG; common practice
		Warnings: []refrig.Warning{{Code: "opened_pag_is_scrap"}}} // [USArmy291]
}
