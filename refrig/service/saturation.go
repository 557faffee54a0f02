package service

import (
	"twoneedles/refrig"
	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/fast"
)

// Saturation leads from a gauge to the temperature at which a refrigerant boils and
// condenses there, and back. It is the trade's pressure–temperature table at one
// altitude.
type Saturation struct {
	fluid *fast.Fluid
	atm   float64 // Pa
}

// NewSaturation makes it for a refrigerant of package car, R-134a where it is not
// known, at an altitude in m.
//
// Errors: *refrig.UnknownError for a refrigerant that has no table, *refrig.RangeError
// for an altitude no car drives at.
func NewSaturation(refrigerant string, altitude float64) (Saturation, error) {
	if refrigerant == "" {
		refrigerant = car.R134a
	}
	if err := air.CheckAltitude(altitude); err != nil {
		return Saturation{}, err
	}
	f, err := fast.Load(refrigerant)
	if err != nil {
		return Saturation{}, err
	}
	return Saturation{f, float64(air.AtmosphericPressure(altitude))}, nil
}

// Limits are the gauge pressures between which there is an answer: what the
// refrigerant's table holds, up to the critical pressure.
func (s Saturation) Limits() (lo, hi refrig.Gauge) {
	return refrig.Gauge(s.fluid.PMin() - s.atm), refrig.Gauge(min(s.fluid.PMax(), s.fluid.PCrit()) - s.atm)
}

// Temperature is the saturation temperature at a gauge pressure.
//
// Error: *refrig.RangeError outside [Saturation.Limits]. Above them there is neither
// boiling nor condensing.
func (s Saturation) Temperature(g refrig.Gauge) (refrig.Temperature, error) {
	lo, hi := s.Limits()
	if err := check("pressure", float64(g), float64(lo), float64(hi), "Pa", "the equation of state"); err != nil {
		return 0, err
	}
	return refrig.Temperature(s.fluid.TSat(float64(g) + s.atm)), nil
}

// Gauge is the gauge pressure at a saturation temperature, the inverse of
// [Saturation.Temperature].
//
// Error: *refrig.RangeError outside the temperatures of [Saturation.Limits].
func (s Saturation) Gauge(T refrig.Temperature) (refrig.Gauge, error) {
	lo, hi := s.Limits()
	tLo, tHi := s.fluid.TSat(float64(lo)+s.atm), s.fluid.TSat(float64(hi)+s.atm)
	if err := check("temperature", float64(T), tLo, tHi, "K", "the equation of state"); err != nil {
		return 0, err
	}
	return refrig.Gauge(s.fluid.PSat(float64(T)) - s.atm), nil
}
