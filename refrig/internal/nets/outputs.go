package nets

import (
	"math"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/mlp"
	"twoneedles/refrig/sim"
)

// Nets are the networks; see doc.go. Memory is fitted upon the other four.
type Nets struct {
	Base, Posterior, Predict, Bands, Memory *mlp.Net

	Made       Made       // what the first four were fitted to
	MemoryMade MemoryMade // and the fifth
}

// MemoryRecipe is everything that decides, with the other networks, what the memory
// network becomes.
type MemoryRecipe struct {
	Seed     uint64
	Pairs    int // simulated cars with earlier visits
	Readings int // times each is read, with fresh noise
	Steps    int // training steps
}

// MemoryMade records what the memory network was fitted to, and upon which others.
type MemoryMade struct {
	Recipe MemoryRecipe
	Upon   uint32 // checksum of the networks it was fitted upon
	Kept   Kept
	Probe  []pairProbe // a few cars on two visits: see made.Probe
}

// Kept says how much of what a sound car stands from its kind it stands again on
// another day: variances and covariances over cars, of the normal scores of the needles
// and of the standings of the rest, by place in the list of what is remembered.
type Kept struct {
	Variance []float64 // of one visit
	Shared   []float64 // covariance of two visits of one car
	// Low side with high side: on one visit, and on two of one car.
	Cross, CrossShared float64
}

// Recipe is everything that decides what the networks become.
type Recipe struct {
	Seed          uint64
	Cars          int // simulated cars with any condition
	HealthyCars   int // simulated healthy cars, for the bands
	PosteriorStep int // training steps
	PredictStep   int
	BandStep      int
	Readings      int // times each car is read, with fresh noise
}

// What the outputs of the networks mean; shared by fitting and use.

// Pairables are the faults a combination may be made of.
var Pairables = []car.ConditionID{car.Undercharge, car.Overcharge, car.CondenserAirflow, car.Air, car.EvaporatorAirflow,
	car.Restriction, car.ValveClosed, car.WeakCompressor}

// Doubts are the questions that ask whether something typed is far from
// the truth, with the posterior probability from which each is asked: about three
// times what it is before anything is read. Judgement.
var Doubts = []struct {
	Ask  refrig.Warning
	From float64
	Far  func(*sim.Instruments) bool
}{
	{refrig.Warning{Code: "thermometer"}, 0.30, (*sim.Instruments).AmbientFar},
	{refrig.Warning{Code: "gauge_zero"}, 0.40, (*sim.Instruments).GaugeFar},
	{refrig.Warning{Code: "car_typed"}, 0.30, (*sim.Instruments).CarWrong},
}

// PosteriorOutputs is the number of outputs of the posterior network.
var PosteriorOutputs = len(conditions) + len(Pairables) + len(Doubts)

// bandLevels are the quantiles the band network gives, and bandScores the normal
// scores that belong to them.
var (
	BandLevels = [...]float64{0.05, 0.25, 0.50, 0.75, 0.95}
	BandScores = [...]float64{-1.644854, -0.674490, 0, 0.674490, 1.644854}
)

// Softmax turns outputs into probabilities.
func Softmax(y []float32) []float64 {
	p := make([]float64, len(y))
	m := math.Inf(-1)
	for _, v := range y {
		m = math.Max(m, float64(v))
	}
	sum := 0.0
	for i, v := range y {
		p[i] = math.Exp(float64(v) - m)
		sum += p[i]
	}
	for i := range p {
		p[i] /= sum
	}
	return p
}

// LogSpread maps an output to ln of a standard deviation within e^±4, smoothly.
func LogSpread(y float32) float64 { return 4 * math.Tanh(float64(y)/4) }

// LogSpreadSlope is the derivative of [LogSpread].
func LogSpreadSlope(y float32) float64 {
	t := math.Tanh(float64(y) / 4)
	return 1 - t*t
}

// Correlation maps an output to a correlation within ±0.95.
func Correlation(y float32) float64 { return 0.95 * math.Tanh(float64(y)) }

// ScoreOf returns the normal score of v in a distribution given by its quantiles
// at bandLevels, linear between and beyond them.
func ScoreOf(q []float32, v float64) float64 {
	n := len(BandScores)
	for i := 0; i < n-1; i++ {
		if v < float64(q[i+1]) || i == n-2 {
			w := math.Max(float64(q[i+1]-q[i]), 1e-3)
			s := BandScores[i] + (v-float64(q[i]))/w*(BandScores[i+1]-BandScores[i])
			return math.Max(math.Min(s, 4), -4)
		}
	}
	return 0
}

// QuantileOf is the inverse of scoreOf.
func QuantileOf(q []float64, score float64) float64 {
	n := len(BandScores)
	i := 0
	for i < n-2 && score > BandScores[i+1] {
		i++
	}
	u := (score - BandScores[i]) / (BandScores[i+1] - BandScores[i])
	return q[i] + u*math.Max(q[i+1]-q[i], 1e-3)
}

// Gaussians splits the outputs of the base or the predict network into mean and
// standard deviation, scaled, of every quantity.
func Gaussians(y []float32) (mean, sd []float64) {
	mean, sd = make([]float64, len(quantities)), make([]float64, len(quantities))
	for i := range quantities {
		mean[i] = float64(y[2*i])
		sd[i] = math.Exp(LogSpread(y[2*i+1]))
	}
	return mean, sd
}

// PredictUnder returns mean and standard deviation, scaled, of every quantity given
// what is visible in x and condition c.
func (n *Nets) PredictUnder(x []float32, c car.ConditionID, s *mlp.Scratch) (mean, sd []float64) {
	in := make([]float32, InputSize+len(conditions))
	copy(in, x)
	in[InputSize+car.Index(c)] = 1
	return Gaussians(n.Predict.Eval(in, s))
}
