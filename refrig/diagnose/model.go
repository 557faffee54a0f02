package diagnose

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"sync"

	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/nets"
)

// The fixed orders that networks and tables index by.
var (
	conditions = car.Conditions()
	quantities = car.Quantities()
)

// Model carries what the answer is computed from. Load it once; it may be used
// from several goroutines.
type Model struct {
	nets    *nets.Nets
	shares  shares
	answers []float64
	drifts  *drifts

	build   Lessons // what files of confirmed jobs taught this build: lessonsFile
	lessons Lessons // those, and a shop's own upon them
}

var loaded = sync.OnceValues(load)

// Load returns the model. It fails only if the embedded networks are damaged.
func Load() (*Model, error) { return loaded() }

func load() (*Model, error) {
	n, err := nets.Open()
	if err != nil {
		return nil, err
	}
	m := &Model{nets: n, drifts: &drifts{}}
	if m.shares, err = readTable("groups.csv", readShares); err != nil {
		return nil, err
	}
	if m.answers, err = readTable("answers.csv", readAnswers); err != nil {
		return nil, err
	}
	if b, err := nets.File(lessonsFile); err == nil { // make learn wrote one
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

const lessonsFile = "lessons.json"

// FitID names the fit in force by eight hexadecimal digits. Two programs with the same one
// give the same answer to the same readings, but for changes of the code around the networks.
func FitID() string { return nets.ID() }

// readTable reads one of the tables that were counted with the networks.
func readTable[T any](name string, read func(io.Reader) (T, error)) (t T, err error) {
	b, err := nets.File(name)
	if err != nil {
		return t, err
	}
	if t, err = read(bytes.NewReader(b)); err != nil {
		return t, fmt.Errorf("%s: %w", name, err)
	}
	return t, nil
}

// odds turns the outputs y of the posterior network into probabilities: of each
// condition, of each pairable fault, of each of doubts. A condition that a car of
// the kind typed cannot have keeps what little the network gives it, since the kind
// may have been typed wrong.
func (m *Model) odds(y []float32) (p, pair, doubt []float64) {
	nc := len(conditions)
	p = nets.Softmax(y[:nc])
	m.lessons.Apply(p)
	logistic := func(y []float32) []float64 {
		out := make([]float64, len(y))
		for i, v := range y {
			out[i] = 1 / (1 + math.Exp(-float64(v)))
		}
		return out
	}
	return p, logistic(y[nc : nc+len(nets.Pairables)]), logistic(y[nc+len(nets.Pairables):])
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
