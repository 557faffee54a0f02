package service

import (
	"twoneedles/refrig"
	"twoneedles/refrig/air"
)

// EvacuationInput is what the vacuum gauge shows.
type EvacuationInput struct {
	Pressure refrig.Pressure // absolute
	// ReadingError is how far the gauge may be off, Pa: [NeedleError] or
	// [ElectronicError] of the reading. 0 takes the reading as exact.
	ReadingError float64
	Ambient      refrig.Temperature // of the coldest part of the car
	Altitude     float64            // m
}

// Evacuation says what the vacuum does to water and whether it is deep enough.
type Evacuation struct {
	Atmosphere refrig.Pressure
	Vacuum     refrig.Gauge // the reading as a compound gauge shows it; negative
	Deepest    refrig.Gauge // a perfect vacuum as it shows it here; negative
	// Boils is the temperature at which water boils at the reading, K, with worst
	// cases of the gauge. Below the triple point it is where ice sublimes.
	Boils refrig.Temperature
	Range Estimate // of Boils, K
	// Coarse is set where the gauge may be off by more than it reads: the vacuum may be
	// perfect, and Range.Lo says nothing.
	Coarse bool
	// WaterBoils is "yes", "no", or "unclear" where the gauge is too coarse to say.
	WaterBoils string
	Targets    []VacuumTarget
	PumpTime   []Rule // s, after the vacuum is reached
	Warnings   []refrig.Warning
}

// VacuumTarget is one published depth and how the reading compares.
type VacuumTarget struct {
	Rule      Rule // Pa absolute: reached at or below Hi
	Reached   bool
	Unclear   bool         // the gauge is too coarse to show the figure, so Reached is not said
	Possible  bool         // false where the air here is too thin for the figure as printed
	OnGauge   refrig.Gauge // the figure as a compound gauge shows it, or would
	Corrected bool         // the figure was lowered for the altitude, as its source says
}

const (
	// NeedleError is how far a compound gauge's needle may be off in its vacuum range,
	// Pa: class 1.6 of a 100 kPa vacuum scale ([EN837]; judgement that the scale is
	// 100 kPa; with a pressure scale of 1 MPa beside it, it may be ten times that).
	NeedleError = 1600.0
	// electronicShare is the error of an electronic vacuum gauge, of its reading:
	// judgement, the order of its makers' statements.
	electronicShare = 0.10
)

// ElectronicError returns how far an electronic vacuum gauge may be off at p, Pa.
func ElectronicError(p refrig.Pressure) float64 { return electronicShare*float64(p) + 1*micron }

// PumpTimes are how long to pump after the vacuum is reached, s. They differ.
func PumpTimes() []Rule {
	return []Rule{
		{"pump_customary", 30 * minute, 60 * minute, CommonPractice, ""},
		{"pump_army_least", 30 * minute, 30 * minute, Published, "USArmy296"},
		{"pump_army_long", 90 * minute, 90 * minute, Published, "USArmy2420"},
		{"pump_army_r12", 45 * minute, 45 * minute, Published, "USArmy280"},
	}
}

// Evacuate judges a vacuum: the temperature at which water boils at it
// ([HylandWexler1983]), which must lie below that of the coldest part for the water
// to leave; and the depths that sources ask for, at this altitude.
//
// A [*refrig.RangeError] names a pressure outside 0…local atmosphere, a reading error
// outside 0…50 kPa, an ambient outside −20…55 °C or an altitude without a road.
func Evacuate(in EvacuationInput) (Evacuation, error) {
	if err := air.CheckAltitude(in.Altitude); err != nil {
		return Evacuation{}, err
	}
	atm := air.AtmosphericPressure(in.Altitude)
	p, T := float64(in.Pressure), float64(in.Ambient)
	err := first(
		check("vacuum", p, 0, float64(atm), "Pa", "ISO2533"),
		check("reading error", in.ReadingError, 0, 50e3, "Pa", "judgement"),
		check("ambient temperature", T, 253.15, 328.15, "K", "judgement"),
	)
	if err != nil {
		return Evacuation{}, err
	}
	e := Evacuation{
		Atmosphere: atm,
		Vacuum:     in.Pressure.Gauge(atm),
		Deepest:    -refrig.Gauge(atm),
		Boils:      refrig.Temperature(air.TSatWater(p)),
		Range: Estimate{air.TSatWater(p),
			air.TSatWater(p - in.ReadingError), air.TSatWater(min(p+in.ReadingError, float64(atm)))},
		WaterBoils: "unclear",
		PumpTime:   PumpTimes(),
	}
	switch {
	case e.Range.Hi < T:
		e.WaterBoils = "yes"
	case e.Range.Lo >= T:
		e.WaterBoils = "no"
	}
	// A vacuum deep enough for ice is good only if there is no water left to freeze:
	// pulled fast from a wet system, it turns the water to ice that leaves slowly. A needle
	// cannot tell.
	switch e.Coarse = in.ReadingError > p; {
	case e.Coarse:
		e.Warnings = append(e.Warnings, warn("gauge_too_coarse", "error", in.ReadingError))
	case p < air.PSatWater(273.16):
		e.Warnings = append(e.Warnings, warn("below_triple_point", "temperature", float64(e.Boils)))
	}
	for _, t := range vacuumTargets(in.Altitude) {
		t.Unclear = in.ReadingError > t.Rule.Hi && p-in.ReadingError <= t.Rule.Hi && t.Possible
		t.Reached = p <= t.Rule.Hi && !t.Unclear
		if t.Possible {
			t.OnGauge = refrig.Pressure(t.Rule.Hi).Gauge(atm)
		}
		e.Targets = append(e.Targets, t)
	}
	return e, nil
}

// vacuumTargets returns the depths that sources ask for as absolute pressures at an
// altitude in m.
func vacuumTargets(altitude float64) []VacuumTarget {
	atm := float64(air.AtmosphericPressure(altitude))
	// inches turns a figure in inHg below the atmosphere into a span of Pa absolute.
	inches := func(code string, deep, shallow float64, ref string) VacuumTarget {
		return VacuumTarget{
			Rule:     Rule{code, max(0, atm-deep*inHg), max(0, atm-shallow*inHg), Published, ref},
			Possible: shallow*inHg < atm,
			OnGauge:  -refrig.Gauge(shallow * inHg),
		}
	}
	lower := max(0, altitude/foot/1000) // 1 inHg less for every 1000 ft [USArmy296]
	army := inches("army_corrected", 29-lower, 28-lower, "USArmy296")
	army.Corrected = true
	return []VacuumTarget{
		inches("army_as_printed", 29, 28, "USArmy296"),
		army,
		inches("sae_test_method", 28, 28, "SAEJ2788"),
		{Rule: Rule{"micron_customary", 500 * micron, 1000 * micron, CommonPractice, ""}, Possible: true},
	}
}
