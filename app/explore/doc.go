// Package explore is a typical car with dials: weather, engine and faults are turned,
// and needles, picture and cycle follow.
//
//	explore.go    a frame: solved, drawn, its trail
//	now.go        needles and thermometers, what is spoken at rest
//	dials.go      sliders and the kind of car
//	pin.go        a pinned state and the one on screen, side by side
//	cycle.go      the loop for the pressure-enthalpy picture
//	questions.go  questions the model answers by turning a dial itself
package explore
