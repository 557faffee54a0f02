package service

import (
	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// Part is a part that can be replaced. Its value is its stable code.
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
)

// Parts returns every part.
func Parts() []Part {
	return []Part{Condenser, Evaporator, RearUnit, ReceiverPart, Accumulator, Metering, Hose, Compressor, ServicePort}
}

// oilByPart is the oil a new part takes with it, m³, all common practice; the
// maker's figure for the car outranks every line. Where the old part's oil can be
// drained and measured, OilToAdd uses it.
var oilByPart = map[Part]Rule{
	Condenser:    {"oil_condenser", 30 * ml, 60 * ml, CommonPractice, ""},
	Evaporator:   {"oil_evaporator", 40 * ml, 90 * ml, CommonPractice, ""},
	RearUnit:     {"oil_evaporator", 40 * ml, 90 * ml, CommonPractice, ""},
	ReceiverPart: {"oil_receiver_drier", 15 * ml, 30 * ml, CommonPractice, ""},
	Accumulator:  {"oil_accumulator_above_drained", 60 * ml, 60 * ml, CommonPractice, ""},
	Hose:         {"oil_hose", 10 * ml, 15 * ml, CommonPractice, ""},
	Compressor:   {"oil_compressor_least", 30 * ml, 60 * ml, CommonPractice, ""},
}

// oilLargeLeak is the oil that leaves with a sudden large leak, m³.
var oilLargeLeak = Rule{"oil_large_leak", 60 * ml, 90 * ml, CommonPractice, ""}

// OilInput is what happened to the oil.
type OilInput struct {
	Replaced  []Part
	Drained   map[Part]float64 // m³ measured out of the old accumulator or compressor
	LargeLeak bool             // it left suddenly, with oil
	Recovered float64          // m³ that the machine took out with the refrigerant
}

// OilLine is one reason to add oil.
type OilLine struct {
	Part   Part // "" for the leak and for recovered oil
	Rule   Rule
	Lo, Hi float64 // m³
}

// OilPlan is the oil to add.
type OilPlan struct {
	Lines    []OilLine
	Lo, Hi   float64 // m³ in all
	Warnings []refrig.Warning
}

// OilToAdd adds up the oil that left the system:
//
//	recovered oil: the same amount, new ([CFR82])
//	part replaced: the customary amount for it
//	accumulator:   what the old one held + 60 ml
//	compressor:    what the old one held, at least 30–60 ml
//
// Without the drained amount an accumulator or a compressor leaves a warning: too
// little oil kills the compressor, too much fills the evaporator.
//
// A [*refrig.RangeError] names an amount outside 0…1 l. An unknown part is misuse
// and panics.
func OilToAdd(in OilInput) (OilPlan, error) {
	var p OilPlan
	if err := check("recovered oil", in.Recovered, 0, 1e-3, "m³", "judgement"); err != nil {
		return p, err
	}
	if in.Recovered > 0 {
		p.add(OilLine{Rule: Rule{"oil_recovered", in.Recovered, in.Recovered, Published, "CFR82"}, Lo: in.Recovered, Hi: in.Recovered})
	}
	for _, part := range in.Replaced {
		if !known(part) {
			panic("service: unknown part " + string(part))
		}
		drained, measured := in.Drained[part]
		if err := check("drained oil", drained, 0, 1e-3, "m³", "judgement"); err != nil {
			return OilPlan{}, err
		}
		r, ok := oilByPart[part]
		if !ok {
			continue // holds next to no oil
		}
		line := OilLine{Part: part, Rule: r, Lo: r.Lo, Hi: r.Hi}
		switch {
		case part == Accumulator && measured:
			line.Lo, line.Hi = drained+r.Lo, drained+r.Hi
		case part == Compressor && measured:
			line.Lo, line.Hi = max(drained, r.Lo), max(drained, r.Hi)
		case part == Accumulator || part == Compressor:
			p.Warnings = append(p.Warnings, refrig.Warning{Code: "drain_and_measure_" + string(part)})
		}
		p.add(line)
	}
	if in.LargeLeak {
		p.add(OilLine{Rule: oilLargeLeak, Lo: oilLargeLeak.Lo, Hi: oilLargeLeak.Hi})
	}
	return p, nil
}

func (p *OilPlan) add(l OilLine) {
	p.Lines = append(p.Lines, l)
	p.Lo += l.Lo
	p.Hi += l.Hi
}

func known(part Part) bool {
	for _, p := range Parts() {
		if p == part {
			return true
		}
	}
	return false
}

// OilAdvice is the kind of oil for a compressor.
type OilAdvice struct {
	Kind string // "pag", "poe", "mineral", or "ask_label" where it depends
	// Grades are the ISO viscosity grades in use, mm²/s at 40 °C; the maker names one.
	Grades   []float64
	Basis    Basis
	Ref      string
	Warnings []refrig.Warning
}

// OilFor returns the kind of oil a compressor takes. High-voltage compressors need
// polyol ester or the maker's own oil, because PAG lets current through: as little
// as 1 % of it is the customary limit. R-12 systems were filled with mineral oil
// (MEMORY); converted ones carry what the conversion label says.
func OilFor(c car.Compressor, refrigerant string) OilAdvice {
	switch {
	case c == car.Electric:
		return OilAdvice{Kind: "poe", Basis: CommonPractice,
			Warnings: []refrig.Warning{{Code: "pag_conducts", Args: map[string]float64{"fraction": 0.01}}}} // common practice
	case refrigerant == car.R12:
		return OilAdvice{Kind: "mineral", Basis: CommonPractice,
			Warnings: []refrig.Warning{{Code: "converted_follow_label"}}}
	case c == car.CompressorUnknown:
		return OilAdvice{Kind: "ask_label", Basis: CommonPractice,
			Warnings: []refrig.Warning{{Code: "pag_conducts", Args: map[string]float64{"fraction": 0.01}}}}
	}
	return OilAdvice{Kind: "pag", Grades: []float64{46, 100, 150}, Basis: CommonPractice, // ISO VG; common practice
		Warnings: []refrig.Warning{{Code: "opened_pag_is_scrap"}}} // [USArmy291]
}
