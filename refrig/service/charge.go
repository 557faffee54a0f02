package service

import (
	"math"
	"slices"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// HoseState says what is left in the charging hoses when they come off the car.
type HoseState int

// What can be left in the hoses.
const (
	HosesDrawnIn HoseState = iota // their content was drawn into the car: nothing to correct
	HosesLiquid
	HosesVapour
)

// HoseVolume returns the content of hoses of the given total length and bore, both
// in m, in m³.
func HoseVolume(length, bore float64) float64 { return math.Pi / 4 * bore * bore * length }

// ChargeInput is what a charge by weight needs to know.
type ChargeInput struct {
	Refrigerant string             // car.R134a, car.R1234yf or car.R12
	Label       float64            // kg on the under-bonnet label
	Hoses       HoseState          // what stays in the hoses
	HoseVolume  float64            // m³, see [HoseVolume]
	Temperature refrig.Temperature // of the shop
	Evaporators int                // 1 or 2
}

// ChargePlan says how much leaves the cylinder so that the label mass is in the car.
type ChargePlan struct {
	InHoses  float64  // kg that stay in the hoses
	Dispense float64  // kg to weigh out: label plus hoses
	InCar    Estimate // kg in the car afterwards, worst cases of the machine
	// Tolerance is the accuracy asked of a machine, kg. An Army manual allows two to
	// four times as much ([ToleranceArmy]): sources differ.
	Tolerance Rule
	Ambient   Rule   // K at which the machine must work
	Traps     []Rule // what misleads with two evaporators
	Warnings  []refrig.Warning
}

var (
	// ToleranceArmy is the 1–2 oz an Army manual allows, kg.
	ToleranceArmy = Rule{"tolerance_army", ounce, 2 * ounce, Published, "USArmy291"}
	// ChargeAmbient is the lowest temperature at which an Army manual charges, K.
	ChargeAmbient = Rule{"charge_ambient", fahrenheit(70), fahrenheit(70), Published, "USArmy291"}
)

// dualTraps are what misleads when a car has two evaporators; Lo and Hi carry the
// number where there is one: the fraction of charge hidden, the EU's leak limit in
// kg/year.
var dualTraps = []Rule{
	{"rear_lines_hide_shortage", 0.10, 0.20, CommonPractice, ""},
	{"flooding_valve_masks_other", 0, 0, CommonPractice, ""},
	{"rear_blower_off_moves_low_side", 0, 0, CommonPractice, ""},
	{"oil_logs_in_rear_lines", 0, 0, CommonPractice, ""},
	{"orifice_front_valve_rear", 0, 0, CommonPractice, ""},
	{"leak_limit_differs", 60 * gram, 60 * gram, Published, "EU200640"}, // R-134a only, see leakLimits
}

// Charge plans a charge by weight, the only way: the gauges do not show the charge
// between about 75 % and 110 % of the label. The mass in the hoses is their volume
// times the density of saturated liquid or vapour at the temperature of the shop.
//
// A [*refrig.RangeError] names a label outside 0.1…20 kg, a hose volume outside
// 0…2 l, a temperature outside −20…55 °C, an unknown refrigerant.
func Charge(in ChargeInput) (ChargePlan, error) {
	T := float64(in.Temperature)
	err := first(
		checkLabel(in.Label),
		check("hose volume", in.HoseVolume, 0, 2e-3, "m³", "judgement"),
		check("shop temperature", T, 253.15, 328.15, "K", "judgement"),
	)
	if err != nil {
		return ChargePlan{}, err
	}
	_, boils, err := boiling(in.Refrigerant, T)
	if err != nil {
		return ChargePlan{}, err
	}
	machine := MachineFor(in.Refrigerant)
	p := ChargePlan{Tolerance: machine.Tolerance, Ambient: machine.Ambient}
	switch in.Hoses {
	case HosesLiquid:
		p.InHoses = boils.RhoL * in.HoseVolume
	case HosesVapour:
		p.InHoses = boils.RhoV * in.HoseVolume
	}
	p.Dispense = in.Label + p.InHoses
	p.InCar = Estimate{in.Label, in.Label - p.Tolerance.Hi, in.Label + p.Tolerance.Hi}
	if in.Evaporators == 2 {
		p.Traps = slices.DeleteFunc(slices.Clone(dualTraps), func(r Rule) bool {
			return r.Code == "leak_limit_differs" && in.Refrigerant != car.R134a
		})
	}
	p.Warnings = append(p.Warnings, refrig.Warning{Code: "never_by_pressure"})
	if T < p.Ambient.Lo || T > p.Ambient.Hi {
		p.Warnings = append(p.Warnings, warn("outside_equipment_ambient", "temperature", T))
	}
	if T < ChargeAmbient.Lo {
		p.Warnings = append(p.Warnings, refrig.Warning{Code: "cold_charge", Args: map[string]float64{"temperature": T, "at_least": ChargeAmbient.Lo}})
	}
	if p.InHoses > p.Tolerance.Hi {
		p.Warnings = append(p.Warnings, refrig.Warning{Code: "hoses_exceed_tolerance", Args: map[string]float64{"mass": p.InHoses, "tolerance": p.Tolerance.Hi}})
	}
	return p, nil
}

// checkLabel accepts label charges: cars hold 350 g to 1.7 kg in the sources, vans with
// several coils and small buses more, and a coach beyond 20 kg is another trade.
func checkLabel(kg float64) error { return check("label charge", kg, 0.1, 20, "kg", "judgement") }
