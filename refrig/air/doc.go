// Package air gives the properties of moist air, the pressure of the standard
// atmosphere and the saturation of water.
//
// Air is an ideal mixture of dry air and steam. The steam in saturated air has
// the saturation pressure of water over liquid or, below the triple point, over
// ice [HylandWexler1983], raised by the enhancement factor of [Buck1981]: dry air
// pressing on the water raises its vapour pressure by about 0.4 %. Without the
// factor the humidity ratio is up to 0.61 % below the real-gas reference; with it
// the difference stays under 0.05 %, and enthalpy within 0.25 kJ per kg of dry air
// (tested at −10…50 °C, 10…90 % and 84.6 and 101.3 kPa; at saturation and 50 °C it
// was found 0.29 off).
//
// Every function works on bare float64 in SI units: T in K, p in Pa absolute, W in
// kg of water per kg of dry air, rh in 0…1, h in J per kg of dry air. h is zero for
// dry air at 0 °C and liquid water at 0 °C. They are called thousands of times by
// the cycle solver, so none allocates or returns an error: an argument outside the
// limits T 173.15…473.15 K, rh 0…1 is held at the limit (a solver's wild iterate
// stays finite; NaN counts as the lower limit), and steam never makes up more than
// 97 % of the pressure. An altitude that a person typed goes through
// [CheckAltitude] first, which returns a typed error; what else is typed, packages
// diagnose and service check.
//
// Relative humidity below 0.01 °C is taken over ice, as the reference table does;
// weather services quote it over supercooled water, a tenth smaller number at
// −10 °C. At those temperatures the air holds so little water that no answer here
// depends on it.
package air
