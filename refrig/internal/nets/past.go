package nets

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/mlp"
	"twoneedles/refrig/sim"
)

// A car's memory: what earlier visits at which this very car was sound do to the
// answer. Each is put through the model of a sound car in its own weather; how far the
// car stood from its kind then (its deviation) is what is peculiar to it. The memory
// network reads that beside today's inputs and corrects the posterior:
//
//	ln p(condition | today, then) = ln p(condition | today) + ln leak odds + correction + constant
//
// Without earlier visits none of this runs, so the answer is the one without memory to
// the last bit.

// Remembered are the quantities an earlier visit may bring, in a fixed order.
var Remembered = func() (out []car.Quantity) {
	for _, q := range quantities {
		if sim.ReadThen(q) {
			out = append(out, q)
		}
	}
	return out
}()

// RememberedAt is the place in remembered by the place of a standing in the inputs.
var RememberedAt = func() map[int]int {
	m := map[int]int{}
	for k, q := range Remembered {
		m[Blocks[q].At+AtStanding] = k
	}
	return m
}()

// Places of the inputs of the memory network: today's inputs as the posterior network
// has them, its answer, then a block for each remembered quantity, then the rest.
var (
	InAnswer     = InputSize
	InThen       = InAnswer + len(conditions)
	inPast       = InThen + ThenSize*len(Remembered)
	MemoryInputs = inPast + pastSize
	// one correction a condition, and whether the visits are no ruler
	MemoryOutputs = len(conditions) + 1
)

const (
	// of a remembered quantity
	thenFlag  = 0 // share of the most visits that are told apart in which it was read
	ThenStood = 1 // deviation then, by today's spread
	ThenBoth  = 2 // it was read today too
	ThenMoved = 3 // today's standing less thenStood
	ThenSize  = 4

	// of the visits as a whole
	pastMonths  = 0 // since the latest, by its logarithm
	pastWeighed = 1
	pastAmbient = 2 // outside temperature then less today's
	pastSpeed   = 3 // flag, engine speed then less today's
	pastVisits  = 5
	pastSize    = 6

	fullVisits = 3 // more count as this many: what they say is alike
)

// Visited is one earlier visit as the networks see it.
type Visited struct {
	Context []float32 // of its weather and running, for today's car
	Value   []float32 // scaled, by place in remembered
	Has     []bool
}

// seen writes visit v of the car of c as inputs.
func See(c *car.Case, v *car.Visit, by *Shift) (Visited, error) {
	then := car.Case{Car: c.Car, Weather: v.Weather, Running: v.Running, Rest: v.Rest}
	sc, err := NewScaler(&then)
	if err != nil {
		return Visited{}, err
	}
	x := Visited{make([]float32, ContextSize), make([]float32, len(Remembered)), make([]bool, len(Remembered))}
	WriteContext(&then, sc, x.Context)
	read := v.Readings.Steadied()
	for k, q := range Remembered {
		if r, ok := read[q]; ok {
			x.Has[k] = true
			x.Value[k] = float32(Squash(sc.In(q, r.Value) - by.Of(q)))
		}
	}
	return x, nil
}

// Past is what all earlier visits say together.
type Past struct {
	deviation []float64 // mean over the visits, scaled, by place in remembered
	N         []float64 // visits in which it was read
	visits    int
	ambient   float64 // mean over the visits less today's, as inputs
	speed     float64
	hasSpeed  bool
	Months    float64
	weighed   bool
}

// Recall puts the visits through the model of sound cars. x is today's context.
func (n *Nets) Recall(x []float32, visits []Visited, months float64, weighed bool, s *mlp.Scratch) Past {
	p := Past{deviation: make([]float64, len(Remembered)), N: make([]float64, len(Remembered)), visits: len(visits), Months: months, weighed: weighed}
	speeds := 0.0
	for i := range visits {
		v := &visits[i]
		y := n.Base.Eval(v.Context, s)
		for k, q := range Remembered {
			if v.Has[k] {
				p.deviation[k] += float64(v.Value[k]) - float64(y[2*q.Place()])
				p.N[k]++
			}
		}
		p.ambient += float64(v.Context[inAmbient]-x[inAmbient]) / float64(len(visits))
		if v.Context[inSpeed] != 0 && x[inSpeed] != 0 {
			p.speed += float64(v.Context[inSpeed+1] - x[inSpeed+1])
			speeds++
		}
	}
	for k := range Remembered {
		p.deviation[k] /= math.Max(p.N[k], 1)
	}
	if p.hasSpeed = speeds > 0; p.hasSpeed {
		p.speed /= speeds
	}
	return p
}

// stood is the deviation of remembered quantity k then, by today's spread sd.
func (p *Past) stood(k int, sd []float64) float32 {
	return float32(Squash(p.deviation[k] / sd[Remembered[k].Place()]))
}

// Fill writes the inputs of the memory network but the posterior's answer into z. sd is
// today's spread of sound cars.
func (p *Past) Fill(z, x []float32, sd []float64) {
	clear(z)
	copy(z, x)
	for k, q := range Remembered {
		if p.N[k] == 0 {
			continue
		}
		at := InThen + ThenSize*k
		z[at+thenFlag] = float32(math.Min(p.N[k], fullVisits) / fullVisits)
		z[at+ThenStood] = p.stood(k, sd)
		if b := Blocks[q]; x[b.At+AtFlag] != 0 {
			z[at+ThenBoth] = 1
			z[at+ThenMoved] = x[b.At+AtStanding] - z[at+ThenStood]
		}
	}
	z[inPast+pastMonths] = float32(math.Log1p(p.Months) - 2.5)
	if p.weighed {
		z[inPast+pastWeighed] = 1
	}
	z[inPast+pastAmbient] = float32(p.ambient)
	if p.hasSpeed {
		z[inPast+pastSpeed] = 1
		z[inPast+pastSpeed+1] = float32(p.speed)
	}
	z[inPast+pastVisits] = float32(math.Min(float64(p.visits), fullVisits) / fullVisits)
}

// AnswerInput is how a probability enters the memory network. A network cannot be surer
// than leastChance.
func AnswerInput(p float64) float32 { return float32(math.Log(math.Max(p, leastChance)) / 4) }

// FromAnswerInput is the inverse of [AnswerInput].
func FromAnswerInput(x float32) float64 { return math.Exp(4 * float64(x)) }

const leastChance = 1e-6

// Corrected is p after the leak odds and the outputs y of the memory network.
func Corrected(p []float64, leak LeakOdds, y []float32) []float64 {
	l := make([]float32, len(p))
	for i := range p {
		l[i] = float32(math.Log(math.Max(p[i], leastChance))) + y[i]
	}
	l[undercharged] += leak.Short
	l[emptied] += leak.Empty
	return Softmax(l)
}

var undercharged, emptied = car.Index(car.Undercharge), car.Index(car.Empty)

// LeakOdds is ln of what the months since the latest visit do to the odds.
type LeakOdds struct{ Short, Empty float32 }

// LeakOddsOf gives them for months since a visit, and for the charge weighed then as a share
// of the label's, nought if it was not weighed: see [sim.LeakOdds].
func LeakOddsOf(months, charge float64) LeakOdds {
	short, empty := sim.LeakOdds(months, charge)
	return LeakOdds{float32(math.Log(short)), float32(math.Log(empty))}
}
