// Package sim makes simulated cars with one condition each and reads them as a
// technician would: what the diagnosis is fitted to, what it is judged on and what
// Practice hides.
//
//	[World]     the distribution that cars, weather and conditions are drawn from
//	[Effect]    what a condition does to a car, by severity (fault.go)
//	[Simulate]  what perfect instruments would show ([Truth]); special.go has the
//	            conditions that are not one steady state of the loop
//	[Measure]   what instruments, people and the model's own errors make of it
//	[PriorOf]   how common each condition is (priors.csv)
//
// The package draws and solves; it weighs nothing. Package diagnose goes the other
// way, from readings to conditions, and stands above it.
package sim
