// Package cycle solves the steady state of a car's air conditioning, sound or
// faulty: from a [Plant], a [Fault] and [Conditions] to what gauges and
// thermometers would show ([Result]).
//
//	            condenser ──► liquid line ──► [receiver] ──► valve or orifice
//	               ▲ air                                          │
//	discharge line │                                              ▼
//	          compressor ◄── suction line ◄── [accumulator] ◄── evaporator ◄ air
//
// An expansion valve comes with a receiver, an orifice tube with an accumulator.
//
// # Unknowns and residuals
//
// Three unknowns: the logarithms of suction and condensing pressure, and how far
// the suction gas lies from saturated vapour; a fourth, the displacement fraction,
// where a control follows the fin temperature. Every component is an explicit
// function of them, so one evaluation costs some 1.6 µs. The residuals, scaled to
// order one, are [loop.residual]'s:
//
//	0 = metering flow − compressor flow
//	0 = enthalpy of the suction gas, as the coil and the line make it − as assumed
//	0 = mass held in all parts − charge
//	0 = fraction that the control asks for − fraction          (fourth unknown only)
//
// # Modes
//
// What limits the capacity is one of five modes. Each has its own law for the
// fraction φ; [loop.run] begins with what the car does if no switch opens and lets
// the solution say whether another mode takes over.
//
//	full on       φ = 1, or where a stuck compressor stays
//	stroking      variable or electric: φ holds a suction pressure or a fin
//	              temperature within a proportional band, between its least stroke and 1
//	cycling low   a clutch cycles on suction pressure (orifice tube) or fin
//	              temperature (valve): φ is the share of time it is in
//	cycling high  a clutch cycles on the high-pressure cut-out
//	cycling hot   the compressor's protector cycles on its hot gas
//
// A cycling clutch is a steady state with a duty instead of a stroke, which gives
// the mean of what a needle swings through; bottom, top and rate of the swing are
// estimated from it (swing.go).
//
// # Assumptions
//
//  1. Steady state. Nothing is known of the first minutes after starting, and of a
//     cycle only its mean and its ends.
//  2. One pressure in the condenser and one in the evaporator. Half of the
//     condenser's drop is seen by the compressor and by a discharge port, the rest
//     is left out; the suction and liquid lines have drops of their own.
//  3. Compressor: volumetric efficiency falls with the re-expansion of clearance
//     gas and with speed; isentropic efficiency has a best pressure ratio. A worn
//     valve is a hole from discharge to suction whose gas heats what comes in.
//     Liquid in the suction gas flashes on the warm cylinder and takes the room of
//     vapour. The shell loses heat with the temperature of the gas.
//     Forms textbook, numbers judgement; spread by package fleet.
//  4. Condenser: a slab in cross flow in which every part meets air at the inlet
//     temperature; three zones by area fraction, each with one conductance; heat
//     capacities constant within a zone. A test marches through it in slices.
//     Recirculated air is folded into the effectiveness exactly. Fans step up with
//     the high side's pressure; the flow is their mean over time.
//  5. Evaporator: the boiling part is at one temperature and either wholly dry or
//     wholly wet, whichever moves more heat; the superheating part is dry.
//     Ice is reported, not grown. A test compares with the air's side.
//  6. Orifice tube: the choked-flow correlation of [Payne2004], coefficients read
//     from a published implementation, with our own two-phase factor; beyond 35 K
//     of subcooling it is outside its range. Valve: a throat that opens with
//     superheat and throttles above a pressure limit (MOP).
//  7. A receiver lets liquid on while it holds any; full, it floods the condenser;
//     empty, it passes vapour. It does so over a band of a kelvin or two so that
//     nothing jumps. An accumulator's outlet is saturated vapour with what its
//     bleed hole lets through, which its level decides.
//  8. Charge is Σ ρV with the void fraction of [Zivi1964] in two-phase zones; in
//     the superheating and desuperheating zones mean densities.
//  9. Air stays in the condenser: it adds its partial pressure there and takes
//     conductance; how much of it gathers is judgement.
//     It takes that conductance by exp(−2 y) with y its mole fraction.
//  10. Oil is left out of everything, with what refrigerant it holds.
//  11. Gauges read above the local atmosphere, and air is thinner where that is
//     lower; switches and set points are gauge pressures too. [judgement: their
//     capsules are open to the atmosphere]
//  12. A variable compressor's set point does not fall with discharge pressure, as
//     many real ones' do by some tens of kPa.
//  13. Doors open, the evaporator takes outside air whatever the flap says. Shut and
//     recirculating, it takes what it has cooled: a balance of the coil against
//     what comes through the body and out of seats and trim, which follow within
//     minutes.
//  14. Standing, the condenser takes back a share of the air that has been through
//     it and the radiator: more at idle and under a shut bonnet, less in a wind.
//  15. An internal heat exchanger moves a share of what the vapour could take, with
//     the vapour's temperature before the liquid is colder by it.
//  16. Off time of a cycling clutch: what of the coil is wet must warm and the low
//     side fill with vapour; an orifice tube lets vapour in meanwhile, a valve none.
//
// Which constants are sourced and which are judgement stands beside each; those
// that a second, deliberately different set replaces are in laws.go.
//
// # How far to trust it
//
// Every result is audited (audit.go): mass, charge, first law round the loop,
// entropy made by every part. That shows the equations are solved, not that they
// are true. Against outside knowledge the tests hold the sign of every fault's
// effect to its source, with a table of published signs the model does not give
// (signs_test.go); the charge curve and shop tests, a change of fluid, and
// trends with weather, speed and height (outside_test.go); every component alone
// against a slower, independent calculation. No measured car was available.
//
// Over 20 000 random cars × weather × faults 13 fail, severe restrictions and
// systems overfilled by more than half, with a typed error; from other first guesses
// another state is found in about 1 of 1000, most where a severe restriction has two
// (clutch cycling on either side). Solving takes about 0.15 ms natively
// (BenchmarkSolve, median).
//
// It is not a model of any make of car, nor of what happens between two steady
// states: a leak's course, a wet system freezing up, a pull-down.
//
// # Reading order
//
//	plant.go conditions.go fault.go result.go   what goes in and out; check.go its limits
//	loop.go                                     state, unknowns, residual
//	compressor.go condenser.go evaporator.go expansion.go lines.go charge.go
//	control.go                                  modes and their laws
//	solve.go newton.go creep.go                 finding the mode and its root
//	audit.go swing.go                           what is checked and shown of it
//	laws.go                                     correlations that could be others
package cycle
