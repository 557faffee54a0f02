package car

// Visit is an earlier visit at which this very car was sound. Two cars of one kind
// differ by more than most faults do; the same car read when it was sound is a ruler
// of its own.
type Visit struct {
	Refrigerant string // in the car then, as in [Spec]
	Weather     Weather
	Running     Running
	Rest        Rest     // belongs to the reading Resting
	Readings    Readings // steady ones only: a swing of then says little of today
	Months      float64  // from then until today
	// Charge is what was known by weight to be in the car when it left, as a share of
	// the label charge; 0 where nobody weighed it.
	Charge float64
}

// MostEarlier is how many earlier visits a case may have: more say nothing new.
// Judgement.
const MostEarlier = 12
