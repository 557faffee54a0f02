// Package nets is what the answer stands on: five small networks fitted to simulated
// cars, how a case becomes their inputs, and what their outputs mean.
//
//	base       healthy cars: mean and spread of every reading in this weather
//	posterior  probability of each condition, from readings, context and base
//	predict    mean and spread of every reading under each condition
//	bands      quantiles and correlation of the two needles of healthy cars
//	memory     what earlier visits of the very car change in the posterior
//
// inputs.go writes a case as numbers of order one, by the table of quantities in package
// car; outputs.go says what comes out; standing.go is how far a car stands from its kind,
// past.go what it stood on earlier visits, as the memory network sees it. The weights lie
// in fitted/, with the recipe and a few probe cars that tell when the physics has moved on
// (probe.go).
//
// Package fit makes the networks, package diagnose tells what follows from them. Both
// write the same case through the same door, so that what is asked is what was fitted.
package nets
