//go:build !js

package fit

import (
	"io"
	"math"
	"math/rand/v2"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/mlp"
	"twoneedles/refrig/internal/nets"
	"twoneedles/refrig/sim"
)

// few is a recipe of seconds.
var few = nets.Recipe{Seed: 2, Cars: 1200, HealthyCars: 200, PosteriorStep: 150, PredictStep: 20, BandStep: 80, Readings: 1}

// The slopes a fit goes by must be those of what it lowers, written down here once more,
// from the definitions: central differences of the whole objective, in every output.
func TestSlopesOfTheObjectives(t *testing.T) {
	rows, _ := simulateRows(nets.Recipe{Seed: 3, Cars: 60, Readings: 1}, io.Discard)
	n, err := nets.Open()
	if err != nil {
		t.Fatal(err)
	}
	logistic := func(y float64, here bool) float64 { // −ln of the chance given to what is so
		if !here {
			y = -y
		}
		return math.Log1p(math.Exp(-y))
	}
	entropy := func(y []float64, label int) float64 {
		sum := 0.0
		for _, v := range y {
			sum += math.Exp(v)
		}
		return math.Log(sum) - y[label]
	}
	gaussian := func(k *row, y []float64) float64 {
		loss := 0.0
		for j, q := range quantities {
			b := nets.Blocks[q]
			if q == car.SightGlass || k.x[b.At] == 0 {
				continue
			}
			s := 4 * math.Tanh(y[2*j+1]/4)
			e := (float64(k.x[b.At+1]) - y[2*j]) / math.Exp(s)
			if e*e > 50 { // an outlier pulls the spread as one at the limit does, and the mean not at all
				loss += (1 - 50) * s
				continue
			}
			loss += s + e*e/2
		}
		return 0.1 * float64(k.weight) * loss
	}
	nc := len(conditions)
	sound := healthyRows(nets.Recipe{Seed: 3, HealthyCars: 30})
	met := simulatePairs(nets.MemoryRecipe{Seed: 3, Pairs: 30, Readings: 1}, io.Discard)
	z := make([]float32, nets.MemoryInputs) // the inputs of the sample at hand
	for _, of := range []struct {
		name      string
		task      mlp.Task
		in, out   int
		objective func(id int, y []float64) float64
	}{
		{"posterior", posteriorTask(rows, n.Base), nets.InputSize, nets.PosteriorOutputs, func(id int, y []float64) float64 {
			k := &rows[id/2]
			w := float64(k.weight)
			label := k.label
			switch {
			case k.second >= 0:
				label = car.Index(car.Combination)
			case id%2 == 1:
				label = k.weighed
			}
			loss := w * entropy(y[:nc], label)
			if k.second >= 0 {
				for j, c := range nets.Pairables {
					loss += 0.3 * w * logistic(y[nc+j], car.Index(c) == k.cause || car.Index(c) == k.second)
				}
			}
			for j, far := range k.doubt {
				loss += 0.2 * w * logistic(y[nc+len(nets.Pairables)+j], far)
			}
			return loss
		}},
		{"predict", predictTask(rows, n.Base), nets.InputSize + nc, 2 * len(quantities), func(i int, y []float64) float64 { return gaussian(&rows[i], y) }},
		{"base", baseTask(rows), nets.ContextSize, 2 * len(quantities), func(i int, y []float64) float64 { return gaussian(&rows[i], y) }},
		{"bands", bandTask(sound), nets.ContextSize, 2*len(nets.BandLevels) + 1, func(i int, y []float64) float64 {
			levels := [][]float64{y[:len(nets.BandLevels)], y[len(nets.BandLevels) : 2*len(nets.BandLevels)]}
			loss, score := 0.0, [2]float64{}
			for side, v := range [2]float64{sound[i].low, sound[i].high} {
				narrow := make([]float32, len(nets.BandLevels)) // scores are taken as they are: only the correlation follows them
				for j, p := range nets.BandLevels {
					e := v - levels[side][j]
					loss += math.Max(p*e, (p-1)*e)
					narrow[j] = float32(math.Round(levels[side][j]*1e3) / 1e3)
				}
				score[side] = nets.ScoreOf(narrow, v)
			}
			rho := 0.95 * math.Tanh(y[2*len(nets.BandLevels)])
			a, b := score[0], score[1]
			return loss + 0.05*(math.Log(1-rho*rho)+(a*a-2*rho*a*b+b*b)/(1-rho*rho))/2
		}},
		{"memory", memoryTask(met, n), nets.MemoryInputs, nets.MemoryOutputs, func(id int, y []float64) float64 {
			k := &met[id/2]
			label := k.label
			switch {
			case k.second >= 0:
				label = car.Index(car.Combination)
			case id%2 == 1:
				label = k.row.weighed
			}
			logits := make([]float64, nc)
			for j := range logits {
				logits[j] = math.Log(math.Max(math.Exp(4*float64(z[nets.InAnswer+j])), 1e-6)) + y[j]
			}
			logits[car.Index(car.Undercharge)] += float64(k.leak.Short)
			logits[car.Index(car.Empty)] += float64(k.leak.Empty)
			return float64(k.weight) * (entropy(logits, label) + 0.3*logistic(y[nc], k.wrong))
		}},
	} {
		r := rand.New(rand.NewPCG(5, 6))
		seen := 0
		for range 40 {
			x, y, dy := make([]float32, of.in), make([]float32, of.out), make([]float32, of.out)
			id := of.task.Sample(r, x)
			copy(z, x)
			wide := make([]float64, of.out)
			for i := range y {
				y[i] = float32(math.Round(1e3*r.NormFloat64()) / 1e3)
				wide[i] = float64(y[i])
			}
			of.task.Loss(id, x, y, dy)
			for i := range wide {
				const h = 1e-4
				wide[i] += h
				up := of.objective(id, wide)
				wide[i] -= 2 * h
				down := of.objective(id, wide)
				wide[i] += h
				// Single precision holds seven digits; a car weighs up to some ten.
				if want := (up - down) / (2 * h); math.Abs(float64(dy[i])-want) > 1e-4*(1+math.Abs(want)) {
					t.Fatalf("%s, output %d: slope %g, by differences %g", of.name, i, dy[i], want)
				} else if want != 0 {
					seen++
				}
			}
		}
		if seen < 200 {
			t.Errorf("%s: only %d slopes differ from nought", of.name, seen)
		}
	}
}

// A fit of seconds must know more of cars it never saw than the prior odds do, and what it
// stores must be what is read again.
func TestFitLearns(t *testing.T) {
	dir := t.TempDir()
	if err := Networks(few, dir, io.Discard); err != nil {
		t.Fatal(err)
	}
	n, err := nets.ReadFirst(inFolder(dir))
	if err != nil {
		t.Fatal(err)
	}
	if n.Made.Recipe != few || len(n.Made.Probe) == 0 {
		t.Errorf("made of %+v with %d probes", n.Made.Recipe, len(n.Made.Probe))
	}
	samples, _ := (&sim.World{}).DrawMany(400, 99)
	var s mlp.Scratch
	fitted, prior := 0.0, 0.0
	share := make([]float64, len(conditions))
	for i := range samples {
		share[car.Index(samples[i].Truth.Label)] += 1 / float64(len(samples))
	}
	for i := range samples {
		k := toRow(&samples[i])
		mean, sd := nets.Gaussians(n.Base.Eval(k.x[:nets.ContextSize], &s))
		nets.Compare(k.x, mean, sd)
		p := nets.Softmax(n.Posterior.Eval(k.x, &s)[:len(conditions)])
		fitted -= math.Log2(math.Max(p[k.label], 1e-6)) / float64(len(samples))
		prior -= math.Log2(share[k.label]) / float64(len(samples))
	}
	// The shares are those of these very cars: the prior is at its best.
	if fitted > prior-0.3 {
		t.Errorf("after the fit %.2f bit are missing, by the shares alone %.2f", fitted, prior)
	}
}
