package cycle_test

import (
	"strings"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
)

// The three kinds of car whose signs differ.
const (
	orifice  = "orifice tube, accumulator, cycling clutch"
	valve    = "expansion valve, receiver, fixed compressor"
	variable = "expansion valve, receiver, variable compressor"
)

func typical(t testing.TB, kind, refrigerant string) *cycle.Plant {
	t.Helper()
	s := car.Spec{Refrigerant: refrigerant, Metering: car.ExpansionValve, Compressor: car.Fixed}
	switch kind {
	case orifice:
		s.Metering = car.OrificeTube
	case variable:
		s.Compressor = car.Variable
	}
	p, err := fleet.Typical(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// hot is the day on which the earlier model was tried; mild a spring day, on
// which controls are at work in a sound car.
var (
	hot  = cycle.Conditions{Ambient: 308.15, Humidity: 0.4, PAtm: 101325, RPM: 1500, Blower: 1}
	mild = cycle.Conditions{Ambient: 288.15, Humidity: 0.5, PAtm: 101325, RPM: 1500, Blower: 1}
)

func solve(t testing.TB, p *cycle.Plant, c cycle.Conditions, change func(*cycle.Fault)) cycle.Result {
	t.Helper()
	f := cycle.Sound()
	if change != nil {
		change(&f)
	}
	r, err := cycle.Solve(p, f, c)
	if err != nil {
		t.Fatalf("%+v: %v", f, err)
	}
	return r
}

// faults are the changes that the tables below name.
var faults = map[string]func(*cycle.Fault){
	"charge 85 %":              func(f *cycle.Fault) { f.Charge = 0.85 },
	"charge 70 %":              func(f *cycle.Fault) { f.Charge = 0.70 },
	"charge 50 %":              func(f *cycle.Fault) { f.Charge = 0.50 },
	"charge 30 %":              func(f *cycle.Fault) { f.Charge = 0.30 },
	"charge 150 %":             func(f *cycle.Fault) { f.Charge = 1.50 },
	"air 100 kPa":              func(f *cycle.Fault) { f.AirPressure = 100e3 },
	"condenser air 60 %":       func(f *cycle.Fault) { f.CondAir = 0.6 },
	"condenser air 35 %":       func(f *cycle.Fault) { f.CondAir = 0.35 },
	"leaking compressor valve": func(f *cycle.Fault) { f.LeakArea = 4.5e-6; f.EtaV = 0.65 },
	"slipping belt":            func(f *cycle.Fault) { f.Speed = 0.6 },
	"evaporator air 50 %":      func(f *cycle.Fault) { f.EvapAir = 0.5 },
	"restriction":              func(f *cycle.Fault) { f.LiquidArea = 0.8e-6 },
	"severe restriction":       func(f *cycle.Fault) { f.LiquidArea = 0.25e-6 },
	"orifice too large":        func(f *cycle.Fault) { f.MeterArea = 2.5 },
	"orifice plugged":          func(f *cycle.Fault) { f.MeterArea = 0.4 },
	"orifice nearly shut":      func(f *cycle.Fault) { f.MeterArea = 0.1 },
	"valve stuck open":         func(f *cycle.Fault) { f.ValveStuck = true; f.ValveOpening = 1.4 },
	"valve stuck closed":       func(f *cycle.Fault) { f.ValveStuck = true; f.ValveOpening = 0.15 },
	"suction hose kinked":      func(f *cycle.Fault) { f.SuctionArea = 15e-6 },
	"stuck at minimum":         func(f *cycle.Fault) { f.StrokeStuck = 0.1 },
	"stuck at maximum":         func(f *cycle.Fault) { f.StrokeStuck = 1 },
	"switch too low":           func(f *cycle.Fault) { f.CutShift = -80e3; f.FinShift = -6 },
}

// sign is one published statement: on this car this fault moves these readings
// this way. A reading with 0 hardly moves, one that is left out the source does
// not speak of or speaks of both ways.
type sign struct {
	source string
	car    string
	fault  string
	want   string // "low- high+ superheat+ …"
	note   string // where the kind of car changes the sign, or the source is stretched
}

const (
	sketch = "judgement: an earlier, throw-away model of ours with other sizes and laws" // agreement with it is no evidence from cars
	rossi  = "[RossiBraun1997], memory"                                                  // a fixed-orifice rooftop unit: signs by evaporating and condensing temperature
	denton = "[Denton], read"
)

var signs = []sign{
	// Undercharge. The car decides when it shows: not until the store is empty.
	{sketch, orifice, "charge 85 %", "low0 high0 vent0 discharge+", "the store gives: needles stay, only the discharge line tells"},
	{sketch, orifice, "charge 70 %", "low0 high0 vent0 discharge+", "same"},
	{"[USArmy387], read; [RossiBraun1997], memory; vent common practice", orifice, "charge 50 %", "low- high- vent+ discharge+ superheat+", ""},
	{"[USArmy387], read; [RossiBraun1997], memory; vent common practice", orifice, "charge 30 %", "high- vent+ discharge+ superheat+", "the clutch now cycles and hides the low side"},
	{sketch, valve, "charge 70 %", "low0 high0 vent0", "on a valve the low side first rises a little: see TestLowSideFirstRises"},
	{sketch, variable, "charge 70 %", "low0 high0 vent0", "a variable compressor hides it until the receiver is empty"},
	{rossi, orifice, "charge 50 %", "evaporating- superheat+ condensing- subcooling- discharge+", ""},
	{"[USArmy387], read", orifice, "charge 50 %", "low- high-", ""},
	{"[USArmy387], read", valve, "charge 30 %", "low- high-", "a valve holds the low side longer; at half charge it has moved by 7 kPa only"},
	{"[USArmy387], read", variable, "charge 50 %", "low- high-", ""},
	// Overcharge.
	{sketch, orifice, "charge 150 %", "low0 high0 vent0 discharge-", "the accumulator swallows it"},
	{"[USArmy255], read", valve, "charge 150 %", "low0 high+", "low side normal, high side high"},
	{"common practice", valve, "charge 150 %", "subcooling+", "shows in subcooling first"},
	{denton + "; subcooling common practice", variable, "charge 150 %", "subcooling+ high+", ""},
	// Air.
	{"[USArmy307] and " + denton + "; vent common practice", orifice, "air 100 kPa", "low+ high+ vent+", ""},
	{"[USArmy307] and " + denton, valve, "air 100 kPa", "low+ high+", "low side normal to high"},
	{"[USArmy307] and " + denton, variable, "air 100 kPa", "high+", ""},
	// Condenser airflow.
	{"[AutoHeating2009], read; discharge [RossiBraun1997], memory", orifice, "condenser air 60 %", "low+ high+ vent+ discharge+", ""},
	{"[AutoHeating2009], read; discharge [RossiBraun1997], memory", orifice, "condenser air 35 %", "low+ high+ vent+ discharge+", ""},
	{rossi, orifice, "condenser air 60 %", "evaporating+ condensing+ subcooling- discharge+", "superheat: see disagreements"},
	{"[AutoHeating2009] and " + denton, valve, "condenser air 60 %", "low+ high+", ""},
	{"[AutoHeating2009] and " + denton, variable, "condenser air 60 %", "low+ high+", "the set point would pin the low side on a cooler day"},
	// Compressor.
	{"[USArmy387], read; discharge [RossiBraun1997], memory; vent common practice", orifice, "leaking compressor valve", "low+ high- vent+ discharge+", ""},
	{rossi, orifice, "leaking compressor valve", "evaporating+ superheat- condensing- subcooling- discharge+", ""},
	{"[USArmy387], read", valve, "leaking compressor valve", "low+ high-", ""},
	{"[USArmy387], read", variable, "leaking compressor valve", "low+ high-", ""},
	{"[USArmy307], read", orifice, "slipping belt", "low+ high-", ""},
	{"[USArmy307], read", valve, "slipping belt", "low+ high-", ""},
	{"[USArmy307], read", variable, "slipping belt", "low+ high-", ""},
	{"common practice", variable, "stuck at minimum", "low+ high- vent+", "only this car can have it"},
	// Evaporator airflow.
	{"common practice; discharge [RossiBraun1997], memory", orifice, "evaporator air 50 %", "high- vent- discharge-", "best seen on the high side"},
	{rossi, orifice, "evaporator air 50 %", "evaporating- superheat- condensing- subcooling- discharge-", ""},
	{"common practice", valve, "evaporator air 50 %", "low- high- vent-", ""},
	{"common practice", variable, "evaporator air 50 %", "high- vent-", "the control takes stroke back: the low side falls less than with a fixed compressor"},
	// Restriction before the metering device: the sign of the high side depends on
	// the car and on how severe it is.
	{sketch, orifice, "restriction", "low- high+ vent+ discharge+", "no receiver: the charge backs up in the condenser and the high side rises"},
	{sketch, orifice, "severe restriction", "high- vent+ discharge+", "the clutch cycles and the high side falls"},
	{"common practice", valve, "restriction", "low- high- vent+", "the receiver takes the charge: the high side only falls"},
	{sketch, variable, "restriction", "high- vent+", "the set point hides the low side too"},
	{rossi, orifice, "severe restriction", "superheat+ condensing- subcooling+ discharge+", ""},
	{"[USArmy303] and [USArmy360], read", orifice, "restriction", "low- high+", "low side low, high side high"},
	// Metering device.
	{sketch, orifice, "orifice too large", "low+ high- vent+ discharge-", ""},
	{"[USArmy303], read", valve, "valve stuck closed", "low- high-", "low side low to vacuum, high side low to normal"},
	{"common practice", valve, "valve stuck open", "low+", "high side normal; low or high are quoted as well"},
	{"common practice", variable, "valve stuck open", "low+", ""},
	{"[USArmy303] and common practice", variable, "valve stuck closed", "high- vent+", "low side pinned at the set point: it falls by the suction line's drop only"},
	{"common practice", orifice, "orifice nearly shut", "low-", ""},
	// Suction side.
	{"[USArmy303] and [USArmy360], read", valve, "suction hose kinked", "low- vent+", "the low port lies after the kink"},
	{"[USArmy303] and [USArmy360], read", orifice, "suction hose kinked", "low- vent+", "less so: the clutch cycles"},
}

// mildSigns are statements on controls, which need a day on which they work.
var mildSigns = []sign{
	{"common practice", variable, "stuck at maximum", "low- high+", "ices the coil; a fixed compressor has no stroke to stick"},
	{"[AutoHeating2009], read", orifice, "switch too low", "low-", "low side low; high side: see mildDisagreements"},
	{"[AutoHeating2009], read", valve, "switch too low", "low-", "low side normal to low"},
}

var mildDisagreements = []sign{
	{"[AutoHeating2009], read", orifice, "switch too low", "high0", "a clutch that stays in longer lifts the mean of the high side from that of a cycling car; at no point does it leave the normal range"},
}

// disagreements are published signs that this model does not give, with the
// reason. Each must keep disagreeing: when one starts to agree, it belongs above.
var disagreements = []sign{
	{rossi, orifice, "condenser air 60 %", "superheat-", "a rooftop unit has no accumulator; here the coil's outlet stays as wet as the bleed hole lets through"},
	{rossi, orifice, "restriction", "condensing-", "without a receiver the charge that the coil loses floods the condenser; the same source's unit holds it elsewhere. the earlier model and the Army's lists say high"},
	{"[USArmy303] and [USArmy360], read", valve, "restriction", "high+", "with a receiver the charge is stored there, common practice"},
	{denton, orifice, "charge 150 %", "low+ high+", "the accumulator is not full before +70 %; both needles move by about 1 %"},
	{denton, valve, "charge 150 %", "low+", "colder liquid needs less coil: the low side falls by 2 %; the high side does rise"},
	{"common practice", orifice, "orifice plugged", "high-", "low to normal is quoted; here it acts as a restriction does and the charge backs up"},
	{sketch, orifice, "air 100 kPa", "discharge0", "the earlier model found the same discharge temperature; against 330 kPa more the compression must end hotter"},
	{"[USArmy303], read", valve, "leaking compressor valve", "low-", "the heavy-truck list has both sides low; two other Army lists and the physics have the low side high"},
}

func TestSignsOfFaults(t *testing.T) {
	for _, c := range []struct {
		rows  []sign
		day   cycle.Conditions
		agree bool
	}{{signs, hot, true}, {mildSigns, mild, true}, {disagreements, hot, false}, {mildDisagreements, mild, false}} {
		for _, row := range c.rows {
			p := typical(t, row.car, car.R134a)
			sound, faulty := solve(t, p, c.day, nil), solve(t, p, c.day, faults[row.fault])
			for _, w := range strings.Fields(row.want) {
				name, want := w[:len(w)-1], w[len(w)-1]
				a, b := quantity(&sound, name), quantity(&faulty, name)
				got := moves(name, a, b, want)
				switch {
				case c.agree && !got:
					t.Errorf("%s says %s moves %s by '%c' on %s; here from %.4g to %.4g %s", row.source, row.fault, name, want, row.car, a, b, row.note)
				case !c.agree && got:
					t.Errorf("%s and the model now agree that %s moves %s by '%c' on %s (%.4g to %.4g): take the row off the disagreements", row.source, row.fault, name, want, row.car, a, b)
				case !c.agree:
					t.Logf("disagrees: %s, %s, %s: %s from %.4g to %.4g, the source says '%c': %s", row.source, row.car, row.fault, name, a, b, want, row.note)
				}
			}
		}
	}
}

// quantity is a reading in kPa gauge, °C or K.
func quantity(r *cycle.Result, name string) float64 {
	switch name {
	case "low":
		return r.Low / 1e3
	case "high":
		return r.High / 1e3
	case "evaporating":
		return r.Evaporating - 273.15
	case "condensing":
		return r.Condensing - 273.15
	case "superheat":
		return r.EvapSuperheat
	case "subcooling":
		return r.Subcooling
	case "vent":
		return r.Vent - 273.15
	case "discharge":
		return r.DischargeLine - 273.15
	}
	panic("no quantity " + name)
}

// moves reports whether b lies off a in direction want. A claim of '+' or '-' is
// met by a small move, far above the solver's noise, because a sign is what it
// claims; '0' by anything that nobody at the car would see: 1 psi, 5 psi, a
// kelvin, a few in the discharge line, whose temperature a clamp reads from
// outside.
func moves(name string, a, b float64, want byte) bool {
	small, unseen := 0.3, 1.0 // K
	switch name {
	case "low":
		small, unseen = 3, 7 // kPa
	case "high":
		small, unseen = 20, 34 // kPa
	case "discharge":
		small, unseen = 1, 2.5
	}
	switch want {
	case '+':
		return b > a+small
	case '-':
		return b < a-small
	case '0':
		return b < a+unseen && b > a-unseen
	}
	panic("no such sign")
}

// On a valve system the low side first rises as charge is lost: bubbles in the
// liquid take capacity from the coil before the valve runs out of travel. No source
// was found; an earlier model of ours did the same (judgement). Far too little to
// read: the sign alone is claimed.
func TestLowSideFirstRises(t *testing.T) {
	p := typical(t, valve, car.R134a)
	at := func(q float64) float64 {
		return solve(t, p, hot, func(f *cycle.Fault) { f.Charge = q }).Low
	}
	if full, less, empty := at(1), at(0.75), at(0.35); !(less > full && empty < full) {
		t.Errorf("low side %.0f Pa at the label, %.0f at 75 %%, %.0f at 35 %%", full, less, empty)
	}
}
