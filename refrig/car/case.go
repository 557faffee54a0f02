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
