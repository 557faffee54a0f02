package service

import (
	"sort"

	"twoneedles/refrig"
	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/eos"
)

// RestingInput is a car at rest with both gauges on it.
type RestingInput struct {
	Car         car.Spec
	Low, High   refrig.Gauge       // one reading may be entered twice
	Temperature refrig.Temperature // of the car
	Altitude    float64            // m
	// Soaked says that all parts have had time to reach that temperature.
	Soaked bool
	// LowError, HighError and TemperatureError are worst cases; 0 takes
	// [LowGaugeError], [HighGaugeError] and [ThermometerError].
	LowError, HighError refrig.Gauge
	TemperatureError    refrig.TempDiff
}

const (
	// LowGaugeError and HighGaugeError are class 1.6 of a scale of 1 MPa and of
	// 3.5 MPa, Pa [EN837]; that the gauges are of this class is judgement.
	LowGaugeError  refrig.Gauge = 0.016 * 1.0e6
	HighGaugeError refrig.Gauge = 0.016 * 3.5e6
	// ThermometerError is how well the temperature of a whole car is known, K
	// (judgement).
	ThermometerError refrig.TempDiff = 2
)

// RestingFinding is what two needles at rest say.
type RestingFinding string

// The findings.
const (
	RestingEmpty     RestingFinding = "empty"     // no pressure above the atmosphere
	RestingVacuum    RestingFinding = "vacuum"    // below the atmosphere: evacuated, and no air came in
	RestingNoLiquid  RestingFinding = "no_liquid" // below saturation: only vapour is left
	RestingSaturated RestingFinding = "saturated" // liquid is left; how much, no gauge can tell
	RestingAbove     RestingFinding = "above"     // air, a hot part, or another gas
	RestingUnequal   RestingFinding = "unequal"   // the needles differ: not yet at rest, a closed coupler, a gauge off
	RestingWhich     RestingFinding = "which"     // refrigerant not known: see the look-alikes
)

// Resting is the outcome of the check at rest.
type Resting struct {
	Finding    RestingFinding
	Atmosphere refrig.Pressure
	// Reading is what both gauges allow, Pa gauge, worst cases.
	Reading Estimate
	// Saturation is what the refrigerant shows if any liquid is left, Pa gauge, worst
	// cases of the thermometer; nil if the refrigerant is not known.
	Saturation *Estimate
	// MassLeft is the vapour in the system, kg, worst cases of gauges and volume; set
	// only where no liquid is left.
	MassLeft *Estimate
	// AirFraction is the share of molecules in the gas space that would be air if air
	// is the reason, 0…1, worst cases; set only if Finding is RestingAbove.
	AirFraction *Estimate
	// HotPart is the temperature some part with liquid in it would have if heat is the
	// reason, K; 0 unless Finding is RestingAbove.
	HotPart refrig.Temperature
	// TankTest is the highest pressure at which a published test still calls a tank of
	// this refrigerant free of air, Pa gauge; nil where none is printed.
	TankTest   *Rule
	LookAlikes []LookAlike
	Thumb      *Thumb // nil if the refrigerant is not known
	Warnings   []refrig.Warning
}

// LookAlike is a refrigerant that would show the same pressure.
type LookAlike struct {
	ID         string // eos identifier: "R134a", …, "R152a", "R290", "R600a"
	Saturation refrig.Gauge
}

// Thumb is the trade's rule "about as many psi as degrees Fahrenheit" beside physics.
type Thumb struct {
	Rule  Rule         // Pa gauge
	Error refrig.Gauge // rule less saturation; negative if the rule is low
	Good  bool         // within [ThumbGood]
}

// ThumbGood is how near the rule of thumb must come to be called good, Pa: 5 psi, the
// width of what a needle shows at rest (judgement).
const ThumbGood = 5 * psi

// lookAlikes are the refrigerants a car may hold: the three it may be labelled for
// and those found in wrong or mixed charges.
var lookAlikes = []string{car.R134a, car.R1234yf, car.R12, "R152a", "R290", "R600a"}

// AtRest compares both needles, engine off, with the saturation pressure ps of the
// refrigerant at the temperature of the car above the local atmosphere:
//
//	p < 0         evacuated and not filled
//	p ≈ 0         empty
//	p < ps        no liquid: mass = vapour density(p, T) · volume
//	p = ps        liquid is left. The pressure says nothing about how much
//	p > ps        air (share y = (p − ps)/p of the molecules), heat, or another gas
//
// each decided by the worst cases of gauges and thermometer: it is "saturated" unless
// these exclude it. Air is taken to add its pressure to that of the refrigerant (the
// refrigerant's own, a little raised by the air on the liquid, is less than 1 % off).
//
// A [*refrig.RangeError] names a gauge outside −101 kPa…4 MPa, a temperature outside
// −30…55 °C, an altitude without a road, an error outside 0…0.3 MPa or 0…4.5 K, a label
// outside 0.1…20 kg where there is one. An unknown refrigerant other than "" is a
// [*refrig.UnknownError].
func AtRest(in RestingInput) (Resting, error) {
	in = in.withDefaults()
	if err := in.check(); err != nil {
		return Resting{}, err
	}
	atm := air.AtmosphericPressure(in.Altitude)
	T, dT := float64(in.Temperature), float64(in.TemperatureError)
	r := Resting{Atmosphere: atm, Reading: in.reading()}
	if !in.Soaked {
		r.Warnings = append(r.Warnings, refrig.Warning{Code: "not_soaked"})
	}
	id := in.Car.Refrigerant
	if id != "" {
		sat, err := saturationSpan(id, T, dT, atm)
		if err != nil {
			return Resting{}, err
		}
		r.Saturation = &sat
		r.Thumb = thumb(T, sat.Value)
	}
	switch {
	case r.Reading.Lo > r.Reading.Hi:
		r.Finding = RestingUnequal
		return r, nil
	case r.Reading.Hi < 0 && (r.Saturation == nil || r.Saturation.Lo > r.Reading.Hi):
		r.Finding = RestingVacuum
	case r.Reading.Lo <= 0:
		r.Finding = RestingEmpty
	case r.Saturation == nil:
		r.Finding = RestingWhich
	case r.Reading.Hi < r.Saturation.Lo:
		r.Finding = RestingNoLiquid
	case r.Reading.Lo > r.Saturation.Hi:
		r.Finding = RestingAbove
	default:
		r.Finding = RestingSaturated
	}
	if err := r.findLookAlikes(T, dT); err != nil {
		return Resting{}, err
	}
	var err error
	switch {
	case id == "":
	case r.Finding == RestingEmpty || r.Finding == RestingVacuum || r.Finding == RestingNoLiquid:
		r.MassLeft, err = massLeft(id, T, r.Reading, atm, Volume(in.Car))
	case r.Finding == RestingAbove:
		r.explainAbove(id, T)
	}
	return r, err
}

func (in RestingInput) withDefaults() RestingInput {
	if in.LowError == 0 {
		in.LowError = LowGaugeError
	}
	if in.HighError == 0 {
		in.HighError = HighGaugeError
	}
	if in.TemperatureError == 0 {
		in.TemperatureError = ThermometerError
	}
	return in
}

func (in RestingInput) check() error {
	const full = 101.4e3 // Pa below the atmosphere: no gauge shows more
	err := first(
		check("low-side pressure", float64(in.Low), -full, 4e6, "Pa", "judgement"),
		check("high-side pressure", float64(in.High), -full, 4e6, "Pa", "judgement"),
		check("temperature of the car", float64(in.Temperature), 243.15, 328.15, "K", "judgement"),
		check("low gauge error", float64(in.LowError), 0, 0.3e6, "Pa", "judgement"),
		check("high gauge error", float64(in.HighError), 0, 0.3e6, "Pa", "judgement"),
		check("thermometer error", float64(in.TemperatureError), 0, 4.5, "K", "judgement"),
		air.CheckAltitude(in.Altitude),
	)
	if err == nil && in.Car.LabelCharge != 0 {
		err = checkLabel(in.Car.LabelCharge)
	}
	if err == nil && in.Car.Refrigerant != "" {
		_, err = eos.Load(in.Car.Refrigerant)
	}
	return err
}

// reading returns the pressures that both gauges allow, Pa gauge; Lo above Hi if
// there are none.
func (in RestingInput) reading() Estimate {
	e := Estimate{
		Lo: float64(max(in.Low-in.LowError, in.High-in.HighError)),
		Hi: float64(min(in.Low+in.LowError, in.High+in.HighError)),
	}
	e.Value = (e.Lo + e.Hi) / 2
	return e
}

// saturationSpan returns the saturation pressure of id at T ± dT (K), Pa gauge.
func saturationSpan(id string, T, dT float64, atm refrig.Pressure) (e Estimate, err error) {
	for _, x := range []struct {
		at  float64
		out *float64
	}{{T, &e.Value}, {T - dT, &e.Lo}, {T + dT, &e.Hi}} {
		p, err := lookAlikePressure(id, x.at)
		if err != nil {
			return Estimate{}, err
		}
		*x.out = p - float64(atm)
	}
	return e, nil
}

func lookAlikePressure(id string, T float64) (float64, error) {
	if f, err := eos.Load(id); err == nil {
		s, err := f.SatT(T)
		return s.P, err
	}
	return eos.LookalikePSat(id, T)
}

// findLookAlikes lists every refrigerant whose saturation the reading allows, the
// nearest first.
func (r *Resting) findLookAlikes(T, dT float64) error {
	if r.Finding == RestingEmpty || r.Finding == RestingVacuum {
		return nil
	}
	for _, id := range lookAlikes {
		sat, err := saturationSpan(id, T, dT, r.Atmosphere)
		if err != nil {
			return err
		}
		if sat.Hi >= r.Reading.Lo && sat.Lo <= r.Reading.Hi {
			r.LookAlikes = append(r.LookAlikes, LookAlike{id, refrig.Gauge(sat.Value)})
		}
	}
	distance := func(i int) float64 {
		d := float64(r.LookAlikes[i].Saturation) - r.Reading.Value
		return max(d, -d)
	}
	sort.SliceStable(r.LookAlikes, func(i, j int) bool { return distance(i) < distance(j) })
	return nil
}

// massLeft returns the vapour in volume at the pressures of reading, kg.
func massLeft(id string, T float64, reading Estimate, atm refrig.Pressure, volume Estimate) (*Estimate, error) {
	var m Estimate
	for _, x := range []struct {
		p, v float64
		out  *float64
	}{{reading.Value, volume.Value, &m.Value}, {reading.Lo, volume.Lo, &m.Lo}, {reading.Hi, volume.Hi, &m.Hi}} {
		// Below the atmosphere what is left may as well be air: count nothing.
		if x.p <= 0 {
			continue
		}
		rho, err := vapourDensity(id, x.p+float64(atm), T)
		if err != nil {
			return nil, err
		}
		*x.out = rho * x.v
	}
	return &m, nil
}

// explainAbove says what the excess would mean as air and as heat.
func (r *Resting) explainAbove(id string, T float64) {
	atm := float64(r.Atmosphere)
	share := func(p, sat float64) float64 { return max(0, (p-sat)/(p+atm)) }
	r.AirFraction = &Estimate{
		share(r.Reading.Value, r.Saturation.Value),
		share(r.Reading.Lo, r.Saturation.Hi),
		share(r.Reading.Hi, r.Saturation.Lo),
	}
	if f, err := eos.Load(id); err == nil {
		if s, err := f.SatP(r.Reading.Value + atm); err == nil {
			r.HotPart = refrig.Temperature(s.T) // otherwise above the critical point: no liquid is that hot
		}
	}
	if limit, ok := tankTest(id, T); ok {
		r.TankTest = &limit
	}
}
