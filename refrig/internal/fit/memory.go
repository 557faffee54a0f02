//go:build !js

package fit

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"sync"

	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/mlp"
	"twoneedles/refrig/internal/nets"
	"twoneedles/refrig/sim"
)

// DefaultMemoryRecipe made the memory network in nets/.
func DefaultMemoryRecipe() nets.MemoryRecipe {
	return nets.MemoryRecipe{Seed: 2027, Pairs: 80_000, Readings: 3, Steps: 16_000}
}

const (
	memory1 = 72
	memory2 = 36
)

// memoryRow is one simulated car with its earlier visits.
type memoryRow struct {
	row
	visits  []nets.Visited
	months  float32
	leak    nets.LeakOdds
	weighed bool // on the latest visit
	wrong   bool
}

// Memory simulates cars that are met more than once, fits the memory network to
// them upon the networks in folder dir, and stores it there. It logs to w, and keeps
// the network of every few thousand steps.
func Memory(rc nets.MemoryRecipe, dir string, w io.Writer) error {
	n, err := nets.ReadFirst(inFolder(dir))
	if err != nil {
		return err
	}
	rows := simulatePairs(rc, w)
	n.Memory = mlp.New(nets.MemoryInputs, memory1, memory2, nets.MemoryOutputs)
	keep := func() error { return os.WriteFile(filepath.Join(dir, "memory.mlp"), n.Memory.Encode(), 0o644) }
	said := logger(w, "memory")
	loss := n.Memory.Train(memoryTask(rows, n), mlp.Plan{Steps: rc.Steps, Batch: 512, Workers: 2,
		Rate: 3e-3, Decay: 2e-3, Seed: rc.Seed, Log: func(step int, loss float64) {
			said(step, loss)
			if err := keep(); err != nil {
				fmt.Fprintln(w, "not kept:", err)
			}
		}})
	fmt.Fprintf(w, "memory: loss %.4f\n", loss)
	n.Memory.Quantise()
	if err := keep(); err != nil {
		return err
	}
	made := nets.MemoryMade{Recipe: rc, Kept: countKept(n, rows), Probe: nets.PairProbes()}
	if made.Upon, err = nets.UponOf(inFolder(dir)); err != nil {
		return err
	}
	b, err := json.MarshalIndent(made, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "memory.json"), append(b, '\n'), 0o644)
}

func simulatePairs(rc nets.MemoryRecipe, w io.Writer) []memoryRow {
	world := sim.World{Flatten: 0.5, Mixed: true}
	rows, failed := simulate(rc.Pairs, rc.Readings, rc.Seed, world.DrawPair, (*sim.Pair).AgainPair, toMemoryRow)
	fmt.Fprintf(w, "simulated %d cars with earlier visits, %d failed\n", rc.Pairs, failed)
	return slices.DeleteFunc(rows, func(k memoryRow) bool { return len(k.visits) == 0 })
}

func toMemoryRow(k *sim.Pair) memoryRow {
	latest := &k.Case.Earlier[0]
	out := memoryRow{row: toRow(&k.Sample), months: float32(latest.Months), leak: nets.LeakOddsOf(latest.Months, latest.Charge),
		weighed: latest.Charge > 0, wrong: k.Wrong != sim.NotWrong}
	for i := range k.Case.Earlier {
		v, err := nets.See(&k.Case, &k.Case.Earlier[i], new(nets.Shift))
		if err != nil {
			panic(err) // the fleet draws known refrigerants only
		}
		out.visits = append(out.visits, v)
	}
	return out
}

// hidden returns the visits of k as a technician might know them, with today's inputs
// in x already hidden: what is not known of the car today was not known then, and what
// was read then is, half of the time, what was read today.
func (k *memoryRow) hidden(r *rand.Rand, x []float32) []nets.Visited {
	keep := r.Float64()
	alike := r.Float64() < 0.5
	out := make([]nets.Visited, 0, len(k.visits))
	for i := range k.visits {
		was := &k.visits[i]
		v := nets.Visited{Context: append([]float32(nil), was.Context...), Value: was.Value, Has: make([]bool, len(nets.Remembered))}
		for _, fact := range nets.Unknowable {
			ofCar := fact.From >= nets.InRefrigerant && fact.From < nets.InDoors
			if ofCar && blank(x[fact.From:fact.To]) || !ofCar && r.Float64() < fact.Chance {
				clear(v.Context[fact.From:fact.To])
			}
		}
		read := false
		for j, q := range nets.Remembered {
			p := keep
			switch {
			case q == car.Low || q == car.High:
				p = 0.96
			case alike && x[nets.Blocks[q].At+nets.AtFlag] != 0:
				p = 1
			case alike:
				p = 0
			}
			v.Has[j] = was.Has[j] && r.Float64() < p
			read = read || v.Has[j]
		}
		if read {
			out = append(out, v)
		}
	}
	return out
}

func blank(x []float32) bool {
	for _, v := range x {
		if v != 0 {
			return false
		}
	}
	return true
}

// memoryTask: cross-entropy of the label after the correction, and whether the visits
// are no ruler.
func memoryTask(rows []memoryRow, n *nets.Nets) mlp.Task {
	nc := len(conditions)
	scratch := sync.Pool{New: func() any { return new(memoryScratch) }}
	return mlp.Task{
		Sample: func(r *rand.Rand, z []float32) int {
			i := r.IntN(len(rows))
			k := &rows[i]
			s := scratch.Get().(*memoryScratch)
			defer scratch.Put(s)
			copy(s.x[:], k.x)
			x := s.x[:nets.InputSize]
			hide(r, x)
			mean, sd := nets.Gaussians(n.Base.Eval(x[:nets.ContextSize], &s.s))
			nets.Compare(x, mean, sd)
			p := n.Recall(x, k.hidden(r, x), float64(k.months), k.weighed, &s.s)
			p.Fill(z, x, sd)
			for j, v := range nets.Softmax(n.Posterior.Eval(x, &s.s)[:nc]) {
				z[nets.InAnswer+j] = nets.AnswerInput(v)
			}
			return sampleOf(i, x)
		},
		Loss: func(id int, z, y, dy []float32) float64 {
			k := &rows[id/2]
			before := make([]float64, nc)
			for j := range before {
				before[j] = nets.FromAnswerInput(z[nets.InAnswer+j])
			}
			p := nets.Corrected(before, k.leak, y[:nc])
			w := float64(k.weight)
			label := classOf(&k.row, id%2 == 1)
			for j := range p {
				dy[j] = float32(w * p[j])
			}
			dy[label] -= k.weight
			t := 0.0
			if k.wrong {
				t = 1
			}
			dy[nc] = float32(0.3 * w * (1/(1+math.Exp(-float64(y[nc]))) - t))
			return -w * math.Log(math.Max(p[label], 1e-12))
		},
	}
}

type memoryScratch struct {
	x [256]float32
	s mlp.Scratch
}

// countKept estimates, from cars that were sound on two earlier visits, how much of
// what they stood from their kind they stood again.
func countKept(n *nets.Nets, rows []memoryRow) nets.Kept {
	k := nets.Kept{Variance: make([]float64, len(nets.Remembered)), Shared: make([]float64, len(nets.Remembered))}
	sum, seen := make([][4]float64, len(nets.Remembered)), make([]float64, len(nets.Remembered))
	var cross [2]float64 // low with high on the same and on another visit
	pairs := 0.0
	var s mlp.Scratch
	for i := range rows {
		if rows[i].wrong || len(rows[i].visits) < 2 {
			continue
		}
		a, b := n.Scores(&rows[i].visits[0], &s), n.Scores(&rows[i].visits[1], &s)
		for j := range nets.Remembered {
			if !math.IsNaN(a[j]) && !math.IsNaN(b[j]) {
				sum[j][0] += a[j]
				sum[j][1] += b[j]
				sum[j][2] += (a[j]*a[j] + b[j]*b[j]) / 2
				sum[j][3] += a[j] * b[j]
				seen[j]++
			}
		}
		if !math.IsNaN(a[0] + a[1] + b[0] + b[1]) {
			cross[0] += (a[0]*a[1] + b[0]*b[1]) / 2
			cross[1] += (a[0]*b[1] + a[1]*b[0]) / 2
			pairs++
		}
	}
	for j := range nets.Remembered {
		m := math.Max(seen[j], 1)
		ma, mb := sum[j][0]/m, sum[j][1]/m
		k.Variance[j] = round(sum[j][2]/m - (ma*ma+mb*mb)/2)
		k.Shared[j] = round(math.Min(math.Max(sum[j][3]/m-ma*mb, 0), 0.98*k.Variance[j]))
	}
	k.Cross, k.CrossShared = round(cross[0]/math.Max(pairs, 1)), round(cross[1]/math.Max(pairs, 1))
	return k
}

func round(x float64) float64 { return math.Round(1e4*x) / 1e4 }
