//go:build !js

package fit

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/internal/mlp"
	"twoneedles/refrig/internal/nets"
	"twoneedles/refrig/sim"
)

// DefaultRecipe made the networks in nets/.
func DefaultRecipe() nets.Recipe {
	return nets.Recipe{Seed: 2026, Cars: 400_000, HealthyCars: 80_000, PosteriorStep: 50_000, PredictStep: 14_000, BandStep: 12_000, Readings: 3}
}

// The fixed orders that networks and tables index by.
var (
	conditions = car.Conditions()
	quantities = car.Quantities()
)

// row is one simulated car as the networks see it.
type row struct {
	x       []float32 // full features, nothing hidden
	label   int
	weighed int // the label once the charge was weighed
	second  int // other half of a combination, −1 if none
	cause   int
	doubt   []bool // by place in doubts
	weight  float32
}

// Networks simulates the recipe's cars, fits the networks and stores them, with what
// they were made from, in a folder. It logs to w.
func Networks(rc nets.Recipe, dir string, w io.Writer) error {
	n, err := fit(rc, w)
	if err != nil {
		return err
	}
	return write(n, dir, rc)
}

func fit(rc nets.Recipe, w io.Writer) (*nets.Nets, error) {
	rows, failed := simulateRows(rc, w)
	if failed*500 > rc.Cars { // each car is six solves
		return nil, fmt.Errorf("diagnose: %d of %d cars failed to solve", failed, rc.Cars)
	}
	n := &nets.Nets{}
	fmt.Fprintf(w, "inputs %d, conditions %d\n", nets.InputSize, len(conditions))
	n.Base = mlp.New(nets.ContextSize, bandHidden, bandHidden, 2*len(quantities))
	loss := n.Base.Train(baseTask(rows), mlp.Plan{Steps: rc.BandStep, Batch: 512, Workers: 2,
		Rate: 5e-3, Decay: 1e-3, Seed: rc.Seed + 3, Log: logger(w, "base")})
	fmt.Fprintf(w, "base: loss %.4f\n", loss)
	n.Base.Quantise() // the networks that build on it see it as it will be stored
	n.Posterior = mlp.New(nets.InputSize, hidden1, hidden2, nets.PosteriorOutputs)
	loss = n.Posterior.Train(posteriorTask(rows, n.Base), mlp.Plan{Steps: rc.PosteriorStep, Batch: 512, Workers: 2,
		Rate: 3e-3, Decay: 2e-3, Seed: rc.Seed, Log: logger(w, "posterior")})
	fmt.Fprintf(w, "posterior: loss %.4f\n", loss)
	n.Predict = mlp.New(nets.InputSize+len(conditions), predict1, predict2, 2*len(quantities))
	loss = n.Predict.Train(predictTask(rows, n.Base), mlp.Plan{Steps: rc.PredictStep, Batch: 512, Workers: 2,
		Rate: 3e-3, Decay: 2e-3, Seed: rc.Seed + 1, Log: logger(w, "predict")})
	fmt.Fprintf(w, "predict: loss %.4f\n", loss)
	bands := healthyRows(rc)
	n.Bands = mlp.New(nets.ContextSize, bandHidden, bandHidden, 2*len(nets.BandLevels)+1)
	loss = n.Bands.Train(bandTask(bands), mlp.Plan{Steps: rc.BandStep, Batch: 512, Workers: 2,
		Rate: 5e-3, Decay: 1e-3, Seed: rc.Seed + 2, Log: logger(w, "bands")})
	fmt.Fprintf(w, "bands: loss %.4f\n", loss)
	for _, net := range []*mlp.Net{n.Posterior, n.Predict, n.Bands} {
		net.Quantise()
	}
	return n, nil
}

const (
	hidden1    = 192
	hidden2    = 96
	predict1   = 128
	predict2   = 64
	bandHidden = 40
)

func logger(w io.Writer, what string) func(int, float64) {
	return func(step int, loss float64) { fmt.Fprintf(w, "%s %d %.4f\n", what, step, loss) }
}

// simulate draws n cars on all processors, reads each so many times, at least once, and
// returns a row of every reading; failed is how many cars had no solution.
func simulate[C, R any](n, readings int, seed uint64, draw func(*fleet.Rand) (C, error), again func(*C, *fleet.Rand), row func(*C) R) (rows []R, failed int) {
	cars := sim.Each(n, 1000, seed, func(r *fleet.Rand) ([]R, error) {
		c, err := draw(r)
		if err != nil {
			return nil, err
		}
		read := []R{row(&c)}
		for len(read) < readings {
			again(&c, r)
			read = append(read, row(&c))
		}
		return read, nil
	})
	return slices.Concat(cars...), n - len(cars)
}

func simulateRows(rc nets.Recipe, w io.Writer) (rows []row, failed int) {
	world := sim.World{Flatten: 0.5, Mixed: true}
	rows, failed = simulate(rc.Cars, rc.Readings, rc.Seed, world.Draw, world.Again, toRow)
	fmt.Fprintf(w, "simulated %d cars, %d failed\n", rc.Cars, failed)
	return rows, failed
}

func toRow(s *sim.Sample) row {
	k := row{x: make([]float32, nets.InputSize), label: car.Index(s.Truth.Label), weighed: car.Index(s.Truth.Weighed),
		cause: car.Index(s.Truth.Cause), second: -1, weight: float32(s.Weight)}
	for _, d := range nets.Doubts {
		k.doubt = append(k.doubt, d.Far(&s.Visit))
	}
	s.Case.Readings = s.Case.Readings.Steadied()
	if s.Truth.Second != "" {
		k.second = car.Index(s.Truth.Second)
	}
	sc, err := nets.NewScaler(&s.Case)
	if err != nil {
		panic(err) // the fleet draws known refrigerants only
	}
	nets.Write(&s.Case, sc, k.x)
	return k
}

// hide removes from x what a technician might not have: each reading, and each
// fact about the car, by chance. The share of readings kept varies from a pair
// of needles to everything.
func hide(r *rand.Rand, x []float32) {
	keep := r.Float64()
	if r.Float64() < 0.25 {
		keep = 0
	}
	for _, q := range quantities {
		p := keep
		if q == car.Low || q == car.High {
			p = 0.96
		}
		if r.Float64() >= p {
			b := nets.Blocks[q]
			clear(x[b.At : b.At+b.Size])
		}
	}
	hideContext(r, x)
}

func hideContext(r *rand.Rand, x []float32) {
	for _, k := range nets.Unknowable {
		if r.Float64() < k.Chance {
			clear(x[k.From:k.To])
		}
	}
}

// posteriorTask: cross-entropy of the label, of which two faults a combination
// holds, and of what was typed wrong. What the label is depends on whether the
// charge was weighed, so the sample's number says that too.
func posteriorTask(rows []row, base *mlp.Net) mlp.Task {
	nc := len(conditions)
	scratch := sync.Pool{New: func() any { return new(mlp.Scratch) }}
	return mlp.Task{
		Sample: func(r *rand.Rand, x []float32) int {
			i := r.IntN(len(rows))
			copy(x, rows[i].x)
			hide(r, x)
			s := scratch.Get().(*mlp.Scratch)
			mean, sd := nets.Gaussians(base.Eval(x[:nets.ContextSize], s))
			nets.Compare(x, mean, sd)
			scratch.Put(s)
			return sampleOf(i, x)
		},
		Loss: func(n int, _, y, dy []float32) float64 {
			k := &rows[n/2]
			p := nets.Softmax(y[:nc])
			w := float64(k.weight)
			label := classOf(k, n%2 == 1)
			for j := range p {
				dy[j] = float32(w * p[j])
			}
			dy[label] -= k.weight
			loss := -w * math.Log(math.Max(p[label], 1e-12))
			logistic := func(j int, share float64, here bool) {
				t := 0.0
				if here {
					t = 1
				}
				dy[j] = float32(share * w * (1/(1+math.Exp(-float64(y[j]))) - t))
			}
			if k.second >= 0 { // each pairable fault: present or not
				for j, id := range nets.Pairables {
					logistic(nc+j, 0.3, car.Index(id) == k.cause || car.Index(id) == k.second)
				}
			}
			for j, far := range k.doubt {
				logistic(nc+len(nets.Pairables)+j, 0.2, far)
			}
			return loss
		},
	}
}

// sampleOf is the number of a sample of row i as it is seen in x.
func sampleOf(i int, x []float32) int {
	if x[nets.Blocks[car.Recovered].At] != 0 {
		return 2*i + 1
	}
	return 2 * i
}

// predictTask: for every reading that was hidden, its mean and spread given what
// is visible and the condition. Loss is the Gaussian's log-likelihood.
func predictTask(rows []row, base *mlp.Net) mlp.Task {
	scratch := sync.Pool{New: func() any { return new(mlp.Scratch) }}
	return mlp.Task{
		Sample: func(r *rand.Rand, x []float32) int {
			i := r.IntN(len(rows))
			copy(x, rows[i].x)
			hide(r, x[:nets.InputSize])
			s := scratch.Get().(*mlp.Scratch)
			mean, sd := nets.Gaussians(base.Eval(x[:nets.ContextSize], s))
			nets.Compare(x[:nets.InputSize], mean, sd)
			scratch.Put(s)
			n := sampleOf(i, x)
			x[nets.InputSize+classOf(&rows[i], n%2 == 1)] = 1
			return i
		},
		Loss: func(i int, _, y, dy []float32) float64 { return gaussianLoss(&rows[i], y, dy) },
	}
}

// baseTask: every reading of healthy cars from the context alone.
func baseTask(rows []row) mlp.Task {
	var sound []int
	for i := range rows {
		if rows[i].cause == car.Index(car.Healthy) && rows[i].second < 0 {
			sound = append(sound, i)
		}
	}
	return mlp.Task{
		Sample: func(r *rand.Rand, x []float32) int {
			i := sound[r.IntN(len(sound))]
			copy(x, rows[i].x[:nets.ContextSize])
			hideContext(r, x)
			return i
		},
		Loss: func(i int, _, y, dy []float32) float64 { return gaussianLoss(&rows[i], y, dy) },
	}
}

// gaussianLoss is −ln of the density of every reading of k under means and
// spreads y, less a constant.
func gaussianLoss(k *row, y, dy []float32) float64 {
	loss := 0.0
	for j, q := range quantities {
		b := nets.Blocks[q]
		if q == car.SightGlass || k.x[b.At+nets.AtFlag] == 0 {
			continue
		}
		m, s := float64(y[2*j]), nets.LogSpread(y[2*j+1])
		e := (float64(k.x[b.At+nets.AtValue]) - m) / math.Exp(s)
		e2 := math.Min(e*e, 50) // an outlier may not rule the fit
		loss += s + 0.5*e2
		if e*e < 50 {
			dy[2*j] = float32(-e / math.Exp(s) * float64(k.weight) * 0.1)
		}
		dy[2*j+1] = float32((1 - e2) * float64(k.weight) * 0.1 * nets.LogSpreadSlope(y[2*j+1]))
	}
	return loss
}

// classOf is the class a good answer gives the car, depending on whether its charge
// was weighed.
func classOf(k *row, weighed bool) int {
	switch {
	case k.second >= 0:
		return car.Index(car.Combination)
	case weighed:
		return k.weighed
	}
	return k.label
}
