package sim

import (
	"math"
	"sync"

	"twoneedles/refrig/car"
)

// How fast cars lose refrigerant, as a share of the label charge a year: a log-normal
// distribution. Its median is what undamaged cars up to seven years old lost on
// average (6.9 %, 300 cars) [OekoRecherche2003]. Its spread, of ln, is judgement:
// cars that are complained of are not the undamaged ones, and a few leak several times
// as fast as the mean [ARB2010].
const (
	leakMedian = 0.069
	leakSpread = 1.0
)

// Charges by which a car counts as short and as empty, as in fault.go and special.go.
const (
	shortBelow = 0.85
	emptyBelow = 0.10
)

// soundLeast is the least share of the charge that a car judged sound without weighing
// it holds: it may have lost some within its reserve. Judgement.
const soundLeast = 0.88

// The years for which a car of unknown history has been losing refrigerant, evenly
// spread. Judgement: some were filled last season, some never since they were made.
const (
	leastYears = 1
	mostYears  = 9
)

// LeakOdds is by what the prior odds of a car being short (or empty) change once it
// is known to have been sound some months ago, with a share of its charge known by
// weight then (0 if not weighed): the chance of having lost enough by now, over the
// chance for a car of unknown history.
func LeakOdds(months, charge float64) (short, empty float64) {
	unknown := ofUnknown()
	return lost(months, charge, shortBelow) / unknown[0], lost(months, charge, emptyBelow) / unknown[1]
}

// ofUnknown is the chance of being short, and of being empty, of a car that nobody knows.
var ofUnknown = sync.OnceValue(func() [2]float64 { return [2]float64{lostUnknown(shortBelow), lostUnknown(emptyBelow)} })

// Leaked puts [LeakOdds] on probabilities p by place in car.Conditions.
func Leaked(p []float64, months, charge float64) {
	short, empty := LeakOdds(months, charge)
	p[car.Index(car.Undercharge)] *= short
	p[car.Index(car.Empty)] *= empty
	sum := 0.0
	for _, v := range p {
		sum += v
	}
	for i := range p {
		p[i] /= sum
	}
}

// lost is the chance that a car sound some months ago holds less than a share by now.
func lost(months, charge, below float64) float64 {
	const steps = 8 // even steps over what an unweighed car may have held
	sum := 0.0
	for k := range steps {
		held := charge
		if charge <= 0 {
			held = soundLeast + (1-soundLeast)*(float64(k)+0.5)/steps
		}
		// A day at least: a car is not short in the moment it is found sound.
		years := math.Max(months/12, 1./365)
		rate := math.Max(held-below, 0.01) / years
		sum += 0.5 * math.Erfc(math.Log(rate/leakMedian)/leakSpread/math.Sqrt2)
	}
	// A hose may burst tomorrow: a chance that does not wait for the months. Judgement.
	return math.Max(sum/steps, 0.005)
}

// lostUnknown is the same for a car that nobody knows.
func lostUnknown(below float64) float64 {
	const steps = 16
	sum := 0.0
	for k := range steps {
		sum += lost(12*(leastYears+(mostYears-leastYears)*(float64(k)+0.5)/steps), 1, below)
	}
	return sum / steps
}
