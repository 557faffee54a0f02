// Package service does the sums of a repair, in the order of the job:
//
//	resting.go     engine off: what both needles say before anything runs
//	search.go      where to look for a leak and with what; leak.go how fast it leaks and how
//	               soon that will matter
//	recovery.go    what came out, against the label; machine.go what is asked of the machine
//	repair.go      what to mind at each part; oil.go how much oil it takes
//	pressuretest.go  is it tight under gas, before it is evacuated
//	retrofit.go    R-12 to R-134a
//	evacuation.go  how deep the vacuum can be here, and whether water boils in it
//	hold.go        the vacuum left alone: leak, moisture or tight; holdfit.go the curves,
//	               holdweigh.go how probable each is
//	charge.go      how much goes in, and where the hoses hide some of it
//	prove.go       did it work
//	log.go         the clutch and the vent over time
//	caution.go     what can hurt, step by step
//
// Results are SI values, stable codes and reference keys; the words belong to the
// screen's data files. A [Rule] carries every published or customary number with
// its standing: "published" was printed by the source its Ref names, "common
// practice" is what the trade works by without a source one could cite, "computed"
// follows from an equation, "judgement" is ours.
//
// What it does not do: it never estimates charge from a pressure while liquid is
// left, it never passes a leak test on a criterion without naming it, and it
// replaces neither the vehicle's label and its maker's manual nor the law.
package service
