// Package diagnose goes from readings to ranked conditions: Bayes' rule over
// simulated cars, with what each reading contributed and which measurement would
// help most.
//
// # The probability model
//
// A car is drawn from a fleet (package fleet), the weather from what workshops
// meet (sim.DrawConditions), a condition from prior odds (sim/priors.csv), its severity
// evenly. The cycle (package cycle) then says what perfect instruments would show
// (sim.Truth), and sim.Measure adds what instruments, people and the model's own errors do
// to it. Everything not asked about is integrated out by drawing it:
//
//	p(condition | readings) ∝ p(condition) ∫ p(readings | car, severity, weather)
//
// # How the posterior is carried
//
// Three ways were compared in an earlier, throw-away model and are alike in accuracy at a few
// readings: a library of simulated cars with kernel weights, cars simulated on the
// spot, and a network fitted to simulated cars whose readings are hidden at
// random. With ten readings a library starves: only a handful of its cars lie near
// a case, and brute force with 3,000 cars loses some 0.3 bit against 30,000. The network
// answers in a tenth of a millisecond whatever was or was not read, and weighs
// some 40 KB; so the network carries the posterior, and brute force, which is Bayes'
// rule over simulated cars with nothing in between, is its witness (package
// internal/judge, and the report).
//
// The networks, what goes into them and what comes out stand in package nets; package
// fit makes them (make fit).
//
// What a technician sees follows from these by arithmetic: the evidence of a
// reading is how far the odds move when it is hidden (evidence); the worth of a
// measurement is the drop in entropy averaged over what it may read (next.go); a
// group's members are the conditions that put simulated cars there (group.go).
//
// # How a case is answered
//
// [Model.Ask] lets a case in (check.go), writes it as inputs of the networks once
// (package nets, by the table of quantities in package car) and runs each network
// once. The [Inference] it returns tells the rest by arithmetic on what is there:
// Answer (diagnose.go, group.go), Plane (bands.go, drift.go), Next (next.go).
// Whoever wants one piece alone asks the Model for it.
//
// # A car's memory
//
// Two cars of one kind differ by more than most faults do, so a car that was read when
// it was sound is a ruler of its own. An earlier visit ([car.Visit]) is put through the
// base network in its own weather; how far the car stood from its kind then, how far it
// stands today and the difference are inputs of the memory network, whose outputs are
// added to the logits of the posterior. Months since then enter twice: as an input and,
// exactly, as the odds of a shortage by published leak rates (sim.LeakOdds). Without a
// visit nothing is added.
//
// The posterior network was not fitted again with the visits as further inputs: it has
// three times the weights, most cars come without a visit, and an answer without one
// should not move. What the correction costs against Bayes' rule over simulated pairs
// stands in testdata/report/memory.md.
//
// The band of one car inside the band of its kind is a hierarchical normal model with
// variances counted on simulated pairs (own.go), in each needle's own normal scores, so
// that a ruler from another weather can be laid on.
//
// # What the percentages mean
//
// Among cars like the ones simulated, a condition given 70 % is the true one in 70
// of 100: make report measures this on cars never used in fitting, and again on
// cars that obey other laws. They do not know your car, and no measured car was
// used to make them. "Healthy" includes a charge within the reserve of the
// receiver or accumulator and any change too small to matter (sim.Truth.Reserve): no
// gauge tells these apart.
//
// "None of these" has a model of its own: readings spread over everything an
// instrument can show. It wins when the data lie where no simulated car goes; the
// answer then doubts the reading first (Doubtful).
//
// # Departures from the design
//
// The likelihood is not tempered after the fact. Instead what may be wrong is part
// of the simulated world: every car has a bias of its own in each reading
// (sim.ModelError), as large as what is left between makers' published tables and
// the model; a car may obey other laws or be built otherwise (sim.World.Mixed); and
// on any visit the thermometer may lie in the sun, a gauge be worn, the car have
// rested at another temperature or a fact about it be typed wrong
// (sim.Instruments). An answer that allows for all of that claims less, and what it
// claims holds better; the report shows both. Readings that would need such a
// mistake to be explained raise a question about it (doubts).
//
// A charge that was recovered and weighed is a measurement: once it is read, a car a
// tenth or more off its label is short or overfull, whatever its needles hide
// (sim.Truth.Weighed).
//
// A condition that a car of the kind typed cannot have is not ruled out, since one
// fact in thirty is typed wrong; the network learns how much that leaves it.
package diagnose
