package car

// Case is everything the technician has said: the car, the air, how the engine
// runs and what was read.
type Case struct {
	Car      Spec
	Weather  Weather
	Running  Running
	Rest     Rest // belongs to the reading Resting
	Readings Readings
	// Service holds the vehicle's own figures for this weather, if the user
	// typed them in; they replace the model's healthy band.
	Service ServiceFigures
	// Earlier holds visits at which this very car was sound, at most MostEarlier. They
	// may be empty: most cars are met for the first time.
	Earlier []Visit
}

// ServiceFigures are the pressures the vehicle's own manual gives for this
// weather. Either may be absent (Hi zero).
type ServiceFigures struct {
	Low, High Interval // Pa gauge
}

// Interval is a closed range in SI units.
type Interval struct{ Lo, Hi float64 }

// Middle lies half-way.
func (i Interval) Middle() float64 { return (i.Lo + i.Hi) / 2 }

// Place is where a reading from lo to hi stands: −1 below i, +1 above, else 0.
func (i Interval) Place(lo, hi float64) int {
	switch {
	case hi < i.Lo:
		return -1
	case lo > i.Hi:
		return 1
	}
	return 0
}
