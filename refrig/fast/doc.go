// Package fast gives the properties of refrigerants from tables, for a cycle
// solver that asks ten thousand times in a tenth of a second. The tables are
// made from package eos by mktables.go and carry the hash of the equation they
// were made from; tests hold them to the equation.
//
// # Range and error
//
// Pressure runs from 10 kPa absolute to 98 % of the critical pressure
// ([Fluid.PMin], [Fluid.PMax]): saturation from −67 to 100 °C for R-134a, −71 to
// 93.6 °C for R-1234yf, −73 to 110.7 °C for R-12. Vapour runs from saturation to
// the enthalpy of 430 K at 10 kPa or of 110 K superheat at PMax, whichever is
// more; liquid from saturation down to the enthalpy of 196 K at PMax. Against the
// equation, over all of this (table_test.go holds it):
//
//	saturation pressure   1e-5 relative
//	enthalpy              20 J/kg
//	density               1e-4 relative
//
// and away from the critical point ten times better.
//
// Above the temperature limit of the equation's source (410 K for R-1234yf, 455 K
// for R-134a) vapour is the equation's smooth extrapolation, for which nobody
// vouches.
//
// # Outside
//
// Nothing here fails: a solver on its way may ask for anything. Pressure is
// clamped to the range; enthalpy beyond the tables continues along a straight
// line, as far as 1e9 in SI units; liquid and vapour are clamped at saturation.
// NaN and infinity in give finite nonsense, not a panic.
//
// # How
//
// Everything is a cubic spline with two continuous derivatives, so difference
// quotients see no seams. The coordinate for pressure is
//
//	x = √(⁴√(pc/p) − 1),
//
// in which even the square-root behaviour near the critical point is smooth. A
// single-phase property is its saturated value plus a distance times a spline,
//
//	T(p, h) = Tsat(p) + y G(x, y),   y = h − hV(p),
//
// so that it meets the saturation line exactly, where G is 1/cp.
package fast
