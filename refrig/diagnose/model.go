package diagnose

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"sync"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/internal/mlp"
	"twoneedles/refrig/sim"
)

// The fixed orders that networks and tables index by.
var (
	conditions = car.Conditions()
	quantities = car.Quantities()
)

//go:embed nets
var netFiles embed.FS

// Model carries what the answer is computed from. Load it once; it may be used
// from several goroutines.
type Model struct {
	nets    nets
	made    made
	memory  memoryMade
	shares  shares
	answers []float64
	drifts  *drifts

	build   Lessons // what files of confirmed jobs taught this build: lessonsFile
	lessons Lessons // those, and a shop's own upon them
}

// made records what the networks were fitted to.
type made struct {
	Recipe Recipe
	// Probe holds a few readings of the fleet the networks were fitted to; a
	// test simulates them again and fails if the physics has moved on.
	Probe []probe
}

// probe is one simulated car of the fleet: scaled low side, high side and vent.
type probe struct {
	Condition       car.ConditionID
	Low, High, Vent float64
}

// probeCars is how many cars Probe holds.
const probeCars = 60

// probes simulates the cars of made.Probe with the code at hand.
func probes() []probe {
	r := fleet.NewRand(4711)
	w := sim.World{}
	var out []probe
	for len(out) < probeCars {
		s, err := w.Draw(r)
		if err != nil {
			continue
		}
		sc, err := newScaler(&s.Case)
		if err != nil {
			continue
		}
		in := func(q car.Quantity) float64 {
			return math.Round(1e4*sc.in(q, s.Case.Readings[q].Value)) / 1e4
		}
		out = append(out, probe{s.Truth.Cause, in(car.Low), in(car.High), in(car.Vent)})
	}
	return out
}

// pairProbe is one simulated car on its latest earlier visit and today: scaled low and
// high side of each.
type pairProbe struct {
	Condition               car.ConditionID
	LowThen, HighThen       float64
	Low, High, Months, Held float64
}

// pairProbes simulates the cars of memoryMade.Probe with the code at hand.
func pairProbes() []pairProbe {
	r := fleet.NewRand(4712)
	w := sim.World{Mixed: true}
	var out []pairProbe
	for len(out) < probeCars/2 {
		k, err := w.DrawPair(r)
		if err != nil {
			continue
		}
		v := &k.Case.Earlier[0]
		then := car.Case{Car: k.Case.Car, Weather: v.Weather}
		now, errNow := newScaler(&k.Case)
		was, errWas := newScaler(&then)
		if errNow != nil || errWas != nil {
			continue
		}
		round := func(x float64) float64 { return math.Round(1e4*x) / 1e4 }
		in := func(sc *scaler, read car.Readings, q car.Quantity) float64 { return round(sc.in(q, read[q].Value)) }
		out = append(out, pairProbe{k.Truth.Cause, in(was, v.Readings, car.Low), in(was, v.Readings, car.High),
			in(now, k.Case.Readings, car.Low), in(now, k.Case.Readings, car.High), round(v.Months), round(v.Charge)})
	}
	return out
}

var loaded = sync.OnceValues(load)

// Load returns the model. It fails only if the embedded networks are damaged.
func Load() (*Model, error) { return loaded() }

func load() (*Model, error) {
	m := &Model{drifts: &drifts{}}
	for name, dst := range m.nets.byName() {
		b, err := netFiles.ReadFile("nets/" + name)
		if err != nil {
			return nil, err
		}
		if *dst, err = mlp.Decode(b); err != nil {
			return nil, fmt.Errorf("nets/%s: %w", name, err)
		}
	}
	b, err := netFiles.ReadFile("nets/made.json")
	if err != nil {
		return nil, err
	}
	if err := json.Unmarshal(b, &m.made); err != nil {
		return nil, fmt.Errorf("nets/made.json: %w", err)
	}
	if b, err = netFiles.ReadFile("nets/memory.mlp"); err != nil {
		return nil, err
	}
	if m.nets.Memory, err = mlp.Decode(b); err != nil {
		return nil, fmt.Errorf("nets/memory.mlp: %w", err)
	}
	if b, err = netFiles.ReadFile("nets/memory.json"); err != nil {
		return nil, err
	}
	if err := json.Unmarshal(b, &m.memory); err != nil {
		return nil, fmt.Errorf("nets/memory.json: %w", err)
	}
	if b, err = netFiles.ReadFile("nets/groups.csv"); err != nil {
		return nil, err
	}
	if m.shares, err = readShares(bytes.NewReader(b)); err != nil {
		return nil, fmt.Errorf("nets/groups.csv: %w", err)
	}
	if b, err = netFiles.ReadFile("nets/answers.csv"); err != nil {
		return nil, err
	}
	if m.answers, err = readAnswers(bytes.NewReader(b)); err != nil {
		return nil, fmt.Errorf("nets/answers.csv: %w", err)
	}
	for _, c := range []struct{ got, want int }{
		{m.nets.Base.Sizes[0], contextSize},
		{last(m.nets.Base.Sizes), 2 * len(quantities)},
		{m.nets.Posterior.Sizes[0], inputSize},
		{m.nets.Predict.Sizes[0], inputSize + len(conditions)},
		{m.nets.Bands.Sizes[0], contextSize},
		{last(m.nets.Posterior.Sizes), posteriorOutputs},
		{last(m.nets.Predict.Sizes), 2 * len(quantities)},
		{last(m.nets.Bands.Sizes), 2*len(bandLevels) + 1},
		{m.nets.Memory.Sizes[0], memoryInputs},
		{last(m.nets.Memory.Sizes), memoryOutputs},
		{len(m.memory.Kept.Variance), len(remembered)},
		{len(m.memory.Kept.Shared), len(remembered)},
	} {
		if c.got != c.want {
			return nil, fmt.Errorf("diagnose: a network has size %d where the code wants %d: run make fit and make fit-memory", c.got, c.want)
		}
	}
	if b, err = netFiles.ReadFile(lessonsFile); err == nil { // make learn wrote one
		if err = json.Unmarshal(b, &m.build); err == nil {
			err = m.build.Check()
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", lessonsFile, err)
		}
		m.lessons = m.build
	}
	return m, nil
}

const lessonsFile = "nets/lessons.json"

func last(s []int) int { return s[len(s)-1] }

func (n *nets) byName() map[string]**mlp.Net {
	return map[string]**mlp.Net{"base.mlp": &n.Base, "posterior.mlp": &n.Posterior, "predict.mlp": &n.Predict, "bands.mlp": &n.Bands}
}

// odds turns the outputs y of the posterior network into probabilities: of each
// condition, of each pairable fault, of each of doubts. A condition that a car of
// the kind typed cannot have keeps what little the network gives it, since the kind
// may have been typed wrong.
func (m *Model) odds(y []float32) (p, pair, doubt []float64) {
	nc := len(conditions)
	p = softmax(y[:nc])
	m.lessons.Apply(p)
	logistic := func(y []float32) []float64 {
		out := make([]float64, len(y))
		for i, v := range y {
			out[i] = 1 / (1 + math.Exp(-float64(v)))
		}
		return out
	}
	return p, logistic(y[nc : nc+len(pairables)]), logistic(y[nc+len(pairables):])
}

// Sharpness is the power that probabilities are raised to before they are told: below
// one they claim less than the simulated cars would let them.
//
// The networks know the cars they were fitted to; the next car comes from a world that
// differs from it in ways nobody has measured, so claiming less accuses fewer sound cars
// there. The limit is at home: of the powers in steps of 0.01 this is the lowest at which
// the calibration error stays within 0.03 for every set of readings (TestCalibration).
// What it costs and brings, in worlds of which none is reported on elsewhere
// (judge.Nearby): testdata/report/sharpness.md (make report).
const Sharpness = 0.94

// released are probabilities as they are told; p is left as it is.
func released(p []float64) []float64 {
	out := slices.Clone(p)
	sharpen(out, Sharpness)
	return out
}

// sharpen raises p to a power and lets it add up to one.
func sharpen(p []float64, power float64) {
	sum := 0.0
	for i := range p {
		p[i] = math.Pow(p[i], power)
		sum += p[i]
	}
	for i := range p {
		p[i] /= sum
	}
}

// gaussians splits the outputs of the base or the predict network into mean and
// standard deviation, scaled, of every quantity.
func gaussians(y []float32) (mean, sd []float64) {
	mean, sd = make([]float64, len(quantities)), make([]float64, len(quantities))
	for i := range quantities {
		mean[i] = float64(y[2*i])
		sd[i] = math.Exp(logSpread(y[2*i+1]))
	}
	return mean, sd
}

// predict returns mean and standard deviation, scaled, of every quantity given
// what is visible in x and condition c.
func (m *Model) predict(x []float32, c car.ConditionID, s *mlp.Scratch) (mean, sd []float64) {
	in := make([]float32, inputSize+len(conditions))
	copy(in, x)
	in[inputSize+car.Index(c)] = 1
	return gaussians(m.nets.Predict.Eval(in, s))
}
