// Package fit makes the networks of package nets: it simulates cars, hides of each what a
// technician might not know, and fits by stochastic gradient. make fit runs it (cmd),
// within about half an hour on two cores; nothing of it is in the program of the page.
//
// The order matters: base first, since the others see each reading as its distance from
// what base expects; then posterior, predict and bands; memory last, upon all of them.
package fit
