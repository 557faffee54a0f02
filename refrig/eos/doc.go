// Package eos computes the properties of refrigerants from their published
// Helmholtz energy equations of state: R-134a [TillnerRoth1994], R-1234yf
// [Lemmon2022] and R-12 [Marx1992].
//
// # The equation
//
// One function of temperature and density holds everything:
//
//	α(τ, δ) = a/(RT) = α0(τ, δ) + αr(τ, δ),   τ = Tr/T,   δ = ρ/ρr
//
// α0 is the ideal gas, αr the rest. With the notation
//
//	Aij = τ^i δ^j ∂^(i+j)α / ∂τ^i ∂δ^j
//
// every property is a short sum of Aij; props.go has one line for each.
//
// # Use
//
// [Load] a fluid, then ask for saturation ([Fluid.SatT], [Fluid.SatP], or
// their fast twins [Fluid.FastSatT], [Fluid.FastSatP]), for a state from two
// properties ([Fluid.PT], [Fluid.PH], [Fluid.PS]) or for everything at a
// temperature and density ([Fluid.At]).
//
// # Units, range, failures
//
// K, Pa absolute, kg/m³, J/kg, J/(kg K), m/s. Enthalpy is 200 kJ/kg and entropy
// 1 kJ/(kg K) for saturated liquid at 0 °C (IIR). Saturation holds from 195 K
// to 0.5 K below the critical point of the equation; flashes up to the highest
// temperature and pressure that the source gives, except the small region round
// the critical point where neither phase can be told. Outside, the answer is a
// [refrig.RangeError] naming value, limits and source. No NaN is returned
// without an error.
//
// # How far to trust it
//
// The equations reproduce measurements to about 0.02 % in vapour pressure and
// 0.05 % in density for R-134a, says the abstract of [TillnerRoth1994]; for the
// others the statement has not been read. The coefficients come from a fluid
// file of [Bell2014], not from the printed papers; the column sums guard the
// copy, not the original transcription. What is tested against that library's
// tables shows that the equation is evaluated rightly, not that it is true.
package eos
