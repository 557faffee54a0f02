package present

import "twoneedles/refrig/unit"

// FieldID names one input of the page. Readings carry the name of their
// car.Quantity. It is stable: saved jobs and links hold it.
type FieldID string

// The inputs that are no readings; readings use the quantity's own name.
const (
	Ambient     FieldID = "ambient"
	Humidity    FieldID = "humidity"
	Altitude    FieldID = "altitude"
	EngineSpeed FieldID = "rpm"
	Blower      FieldID = "blower"
	LabelCharge FieldID = "label_charge"
	ServiceLow  FieldID = "service_low"
	ServiceHigh FieldID = "service_high"
	// Inputs of the repair.
	MassAtStart        FieldID = "mass_at_start"      // charge when the leak began
	LeakMonths         FieldID = "leak_months"        // time over which charge was lost
	MassOut            FieldID = "mass_out"           // recovered, as the machine shows it
	MassIn             FieldID = "mass_in"            // charged, as the machine or scale shows it
	OilOut             FieldID = "oil_out"            // oil that came out with the recovery
	OilIn              FieldID = "oil_in"             // oil put back
	HoldTime           FieldID = "hold_time"          // since the pump stopped
	HoldPressure       FieldID = "hold_pressure"      // vacuum gauge, absolute
	PumpTime           FieldID = "pump_time"          // how long the pump ran
	HoseLength         FieldID = "hose_length"        // charging hose
	HoseBore           FieldID = "hose_bore"          // its inner diameter
	SystemVolume       FieldID = "system_volume"      // refrigerant side
	VacuumReached      FieldID = "vacuum_reached"     // at the end of pumping, absolute
	DrainedCompressor  FieldID = "drained_compressor" // oil poured out of the old part
	DrainedAccumulator FieldID = "drained_accumulator"
	NewCompressorOil   FieldID = "new_compressor_oil" // that the new part came with
	LabelOil           FieldID = "label_oil"          // of the whole system
	DyeIn              FieldID = "dye_in"             // put in, counts as oil
	R12Charge          FieldID = "r12_charge"         // label of an R-12 car to be converted
	LeakPressure       FieldID = "leak_pressure"      // of a test with gas, at its start
	RetestEnd          FieldID = "retest_end"         // the same at its end
	RetestTime         FieldID = "retest_time"        // between the two
	RetestStartTemp    FieldID = "retest_start_temp"
	RetestEndTemp      FieldID = "retest_end_temp"
	RestingHigh        FieldID = "resting_high"   // high side, engine off; the low side is the reading resting
	Soak               FieldID = "soak"           // temperature of a car at rest
	OutTemp            FieldID = "recovery_temp"  // of the system when recovery ended
	OutPressure        FieldID = "recovery_final" // gauge pressure when recovery ended
)

// Span is a closed range in SI units.
type Span struct{ Lo, Hi float64 }

// Contains tells whether x lies in s, ends included.
func (s Span) Contains(x float64) bool { return s.Lo <= x && x <= s.Hi }

// Field says what an input measures and what may be typed into it.
type Field struct {
	ID   FieldID
	Kind unit.Kind
	// Limit is what the instrument or the physics can give; beyond it a number
	// is refused. Usual is what a car gives, healthy or not; beyond it the page
	// asks whether another unit was meant. Typical is what most cars give; it
	// only breaks the tie for a number typed with a decimal point.
	Limit, Usual, Typical Span
	// As is the unit of a bare number where that is not the person's choice for its
	// kind: it is the unit in which people time or count this.
	As    unit.Unit
	Swing bool // lowest and highest may be typed
	Bound bool // a pegged needle may be typed
}

// celsius and psi keep the table below readable.
func celsius(lo, hi float64) Span { return Span{lo + 273.15, hi + 273.15} }
func psi(lo, hi float64) Span     { return Span{lo * unit.PaPerPSI, hi * unit.PaPerPSI} }

// fields is the table of all inputs. The limits are judgement unless a source
// is named: they only decide when to ask, never what the answer is. None is wider
// than what diagnose takes, so that a refusal is said beside its field (a test). Gauges are
// taken to end at 30 inHg and 500 psi (low side with retard 250 psi), which is
// common practice; one size more is accepted.
var fields = func() map[FieldID]Field {
	vac := -30 * unit.PaPerInHg / unit.PaPerPSI // the dial's end, 0.3 % beyond a perfect vacuum at sea level
	low := Field{Kind: unit.GaugePressure, Limit: psi(vac, 350), Usual: psi(vac, 130), Typical: psi(12, 75), Swing: true, Bound: true}
	high := Field{Kind: unit.GaugePressure, Limit: psi(vac, 700), Usual: psi(35, 520), Typical: psi(90, 450), Swing: true, Bound: true}
	line := func(lo, hi, usualLo, usualHi float64) Field {
		return Field{Kind: unit.Temperature, Limit: celsius(lo, hi), Usual: celsius(usualLo, usualHi), Typical: celsius(usualLo, usualHi), Swing: true}
	}
	mass := Field{Kind: unit.Mass, Limit: Span{0, 40}, Usual: Span{0, 3}, Typical: Span{0.2, 2}} // front and rear, older systems up to 1.7 kg: common practice
	oil := Field{Kind: unit.Volume, Limit: Span{0, 2e-3}, Usual: Span{0, 5e-4}, Typical: Span{0, 5e-4}}
	wholeOil := oil
	wholeOil.Limit.Hi, wholeOil.Usual, wholeOil.Typical = 5e-3, Span{5e-5, 5e-4}, Span{5e-5, 5e-4} // a coach holds 4.3 l [MakersOil]
	label := mass
	label.Limit, label.Usual.Lo = Span{0.1, 20}, 0.15 // a small bus; what is diagnosed ends at job.LargestDiagnosed
	r12 := label
	r12.Limit.Hi = 4

	list := map[FieldID]Field{
		"low": low, "high": high, "low_idle": low, "high_idle": high,
		"water_test": high, "fan_test": high,
		"resting": {Kind: unit.GaugePressure, Limit: psi(vac, 500), Usual: psi(-1, 250), Typical: psi(20, 200)},
		"vent":    line(-40, 90, -8, 55), "suction_line": line(-50, 120, -25, 60),
		"discharge_line": line(-40, 200, 20, 160), "liquid_line": line(-40, 120, 5, 95),
		"condenser_in": line(-40, 200, 20, 150), "condenser_out": line(-40, 120, 5, 95),
		"cycling":       {Kind: unit.Rate, Limit: Span{0, 60}, Usual: Span{0, 30}, Typical: Span{0, 15}},
		"sight_glass":   {Kind: unit.Choice},
		"equalise_time": {Kind: unit.Duration, As: unit.Second, Limit: Span{0, 7200}, Usual: Span{0, 3600}, Typical: Span{0, 1200}, Bound: true},
		"recovered":     mass,

		Ambient:     {Kind: unit.Temperature, Limit: celsius(-15, 60), Usual: celsius(8, 55), Typical: celsius(15, 46)},
		Humidity:    {Kind: unit.Fraction, Limit: Span{0, 1}, Usual: Span{0.03, 1}, Typical: Span{0.1, 0.98}},
		Altitude:    {Kind: unit.Length, Limit: Span{-430, 5000}, Usual: Span{-430, 4500}, Typical: Span{-100, 3500}},
		EngineSpeed: {Kind: unit.Speed, Limit: Span{0, 6000}, Usual: Span{400, 4000}, Typical: Span{550, 2500}},
		Blower:      {Kind: unit.Fraction, Limit: Span{0.05, 1}, Usual: Span{0.1, 1}, Typical: Span{0.1, 1}},
		LabelCharge: label,
		ServiceLow:  {Kind: unit.GaugePressure, Limit: low.Limit, Usual: psi(5, 80), Typical: psi(10, 75), Swing: true},
		ServiceHigh: {Kind: unit.GaugePressure, Limit: high.Limit, Usual: psi(70, 500), Typical: psi(90, 450), Swing: true},

		MassAtStart: mass, MassOut: mass, MassIn: mass,
		LeakMonths: {Kind: unit.Months, Limit: Span{0, 480}, Usual: Span{0, 240}, Typical: Span{0, 240}},
		OilOut:     oil, OilIn: oil,
		HoldTime:          {Kind: unit.Duration, Limit: Span{0, 48 * 3600}, Usual: Span{0, 12 * 3600}, Typical: Span{0, 7200}},
		HoldPressure:      {Kind: unit.AbsolutePressure, Limit: Span{0, 120e3}, Usual: Span{0, 101.325e3}, Typical: Span{5, 5e3}},
		VacuumReached:     {Kind: unit.AbsolutePressure, Limit: Span{0, 120e3}, Usual: Span{0, 101.325e3}, Typical: Span{5, 5e3}},
		DrainedCompressor: oil, DrainedAccumulator: oil, NewCompressorOil: oil, LabelOil: wholeOil, DyeIn: oil, R12Charge: r12,
		PumpTime:        {Kind: unit.Duration, Limit: Span{0, 48 * 3600}, Usual: Span{0, 24 * 3600}, Typical: Span{600, 7200}},
		HoseLength:      {Kind: unit.Length, Limit: Span{0, 30}, Usual: Span{0, 10}, Typical: Span{0.5, 5}},
		HoseBore:        {Kind: unit.Bore, Limit: Span{0, 0.03}, Usual: Span{0.001, 0.015}, Typical: Span{0.003, 0.01}},
		SystemVolume:    {Kind: unit.Volume, Limit: Span{0, 0.1}, Usual: Span{2e-4, 1e-2}, Typical: Span{1e-3, 6e-3}},
		LeakPressure:    {Kind: unit.GaugePressure, Limit: psi(0, 700), Usual: psi(0, 250), Typical: psi(30, 150)},
		RetestEnd:       {Kind: unit.GaugePressure, Limit: psi(vac, 700), Usual: psi(0, 250), Typical: psi(30, 150)},
		RetestTime:      {Kind: unit.Duration, Limit: Span{0, 48 * 3600}, Usual: Span{60, 24 * 3600}, Typical: Span{300, 7200}},
		RetestStartTemp: {Kind: unit.Temperature, Limit: celsius(-40, 90), Usual: celsius(-10, 60), Typical: celsius(0, 50)},
		RetestEndTemp:   {Kind: unit.Temperature, Limit: celsius(-40, 90), Usual: celsius(-10, 60), Typical: celsius(0, 50)},
		RestingHigh:     {Kind: unit.GaugePressure, Limit: psi(vac, 500), Usual: psi(-1, 250), Typical: psi(20, 200)}, // as resting
		Soak:            {Kind: unit.Temperature, Limit: celsius(-40, 90), Usual: celsius(-10, 60), Typical: celsius(0, 50)},
		OutTemp:         {Kind: unit.Temperature, Limit: celsius(-40, 90), Usual: celsius(-10, 60), Typical: celsius(0, 50)},
		OutPressure:     {Kind: unit.GaugePressure, Limit: psi(vac, 300), Usual: psi(vac, 100), Typical: psi(vac, 20)},
	}
	for id, f := range list {
		f.ID = id
		list[id] = f
	}
	return list
}()

// Unit returns the unit in which a bare number is read.
func (f Field) Unit(u unit.Units) unit.Unit {
	if f.As != "" {
		return f.As
	}
	return u.For(f.Kind)
}

// FieldOf returns the input named id; ok is false if there is none.
func FieldOf(id FieldID) (f Field, ok bool) {
	f, ok = fields[id]
	return f, ok
}
