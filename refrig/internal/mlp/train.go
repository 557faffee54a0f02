//go:build !js

package mlp

import (
	"math"
	"math/rand/v2"
	"sync"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas32"
)

// Task supplies samples and their loss. Calls come from several goroutines at
// once, each with its own r.
type Task struct {
	// Sample writes the inputs of one sample into x and returns its identity.
	Sample func(r *rand.Rand, x []float32) (id int)
	// Loss returns the loss of outputs y for that sample, whose inputs are x, and
	// writes ∂loss/∂y into dy, which comes zeroed.
	Loss func(id int, x, y, dy []float32) float64
}

// Plan is how to train. Rate falls from its start to zero by a half cosine.
type Plan struct {
	Steps, Batch, Workers int
	Rate                  float64
	Decay                 float64 // decoupled weight decay per step at full rate
	Seed                  uint64
	Log                   func(step int, loss float64) // nil for silence
}

// Train fits n by Adam (Kingma & Ba 2015) with the usual moments 0.9 and 0.999
// and returns the mean loss of the last tenth of the steps.
func (n *Net) Train(t Task, p Plan) float64 {
	r := rand.New(rand.NewPCG(p.Seed, 1))
	zero := true
	for k := range n.W {
		for _, w := range n.W[k] {
			zero = zero && w == 0
		}
	}
	if zero {
		n.initialise(r)
	}
	ws := make([]*worker, p.Workers)
	for i := range ws {
		ws[i] = newWorker(n, p.Batch/p.Workers, rand.New(rand.NewPCG(p.Seed, uint64(i)+2)))
	}
	m, v := New(n.Sizes...), New(n.Sizes...)
	var tail, recent float64
	tailN := 0
	for step := 1; step <= p.Steps; step++ {
		var wg sync.WaitGroup
		for _, w := range ws {
			wg.Add(1)
			go func() { defer wg.Done(); w.run(n, t) }()
		}
		wg.Wait()
		loss := 0.0
		for _, w := range ws {
			loss += w.loss
		}
		loss /= float64(p.Batch)
		rate := p.Rate * 0.5 * (1 + math.Cos(math.Pi*float64(step)/float64(p.Steps)))
		rate *= math.Min(1, float64(step)/200)
		for k := range n.W {
			grads, biases := make([][]float32, len(ws)), make([][]float32, len(ws))
			for i, w := range ws {
				grads[i], biases[i] = w.gW[k], w.gB[k]
			}
			adam(n.W[k], m.W[k], v.W[k], grads, step, p.Batch, rate, p.Decay)
			adam(n.B[k], m.B[k], v.B[k], biases, step, p.Batch, rate, 0)
		}
		recent += loss
		if step > p.Steps*9/10 {
			tail += loss
			tailN++
		}
		if p.Log != nil && step%1000 == 0 {
			p.Log(step, recent/1000)
			recent = 0
		}
	}
	return tail / float64(max(tailN, 1))
}

func (n *Net) initialise(r *rand.Rand) {
	for k := range n.W {
		sd := math.Sqrt(2 / float64(n.Sizes[k]))
		if k == len(n.W)-1 {
			sd *= 0.1
		}
		for i := range n.W[k] {
			n.W[k][i] = float32(r.NormFloat64() * sd)
		}
	}
}

func adam(w, m, v []float32, grads [][]float32, step, batch int, rate, decay float64) {
	const b1, b2, eps = 0.9, 0.999, 1e-8
	c1 := 1 - math.Pow(b1, float64(step))
	c2 := 1 - math.Pow(b2, float64(step))
	for i := range w {
		var g float32
		for _, s := range grads {
			g += s[i]
		}
		g /= float32(batch)
		m[i] = b1*m[i] + (1-b1)*g
		v[i] = b2*v[i] + (1-b2)*g*g
		up := float64(m[i]) / c1 / (math.Sqrt(float64(v[i])/c2) + eps)
		w[i] -= float32(rate * (up + decay*float64(w[i])))
	}
}

// worker holds a share of the batch: activations row by row, and gradients.
type worker struct {
	r      *rand.Rand
	n      int
	act    [][]float32 // act[k] is n × Sizes[k]; act[0] the inputs
	pre    [][]float32 // before SiLU
	d      [][]float32
	ids    []int
	gW, gB [][]float32
	loss   float64
}

func newWorker(net *Net, n int, r *rand.Rand) *worker {
	w := &worker{r: r, n: n, ids: make([]int, n)}
	for _, s := range net.Sizes {
		w.act = append(w.act, make([]float32, n*s))
		w.pre = append(w.pre, make([]float32, n*s))
		w.d = append(w.d, make([]float32, n*s))
	}
	g := New(net.Sizes...)
	w.gW, w.gB = g.W, g.B
	return w
}

func general(rows, cols int, data []float32) blas32.General {
	return blas32.General{Rows: rows, Cols: cols, Stride: cols, Data: data}
}

func (w *worker) run(n *Net, t Task) {
	nin := n.Sizes[0]
	for i := range w.ids {
		x := w.act[0][i*nin : (i+1)*nin]
		clear(x)
		w.ids[i] = t.Sample(w.r, x)
	}
	last := len(n.W) - 1
	for k := range n.W {
		in, out := n.Sizes[k], n.Sizes[k+1]
		p := w.pre[k+1]
		for i := 0; i < w.n; i++ {
			copy(p[i*out:], n.B[k])
		}
		blas32.Gemm(blas.NoTrans, blas.Trans, 1, general(w.n, in, w.act[k]), general(out, in, n.W[k]), 1, general(w.n, out, p))
		if k == last {
			copy(w.act[k+1], p)
			continue
		}
		for i, v := range p {
			w.act[k+1][i] = silu(v)
		}
	}
	w.loss = 0
	nout := n.Sizes[last+1]
	clear(w.d[last+1])
	for i, id := range w.ids {
		w.loss += t.Loss(id, w.act[0][i*nin:(i+1)*nin], w.act[last+1][i*nout:(i+1)*nout], w.d[last+1][i*nout:(i+1)*nout])
	}
	for k := last; k >= 0; k-- {
		in, out := n.Sizes[k], n.Sizes[k+1]
		d := w.d[k+1]
		if k < last {
			for i, v := range w.pre[k+1] {
				s := 1 / (1 + float32(math.Exp(float64(-v))))
				d[i] *= s * (1 + v*(1-s))
			}
		}
		blas32.Gemm(blas.Trans, blas.NoTrans, 1, general(w.n, out, d), general(w.n, in, w.act[k]), 0, general(out, in, w.gW[k]))
		clear(w.gB[k])
		for i := 0; i < w.n; i++ {
			for o, v := range d[i*out : (i+1)*out] {
				w.gB[k][o] += v
			}
		}
		if k > 0 {
			blas32.Gemm(blas.NoTrans, blas.NoTrans, 1, general(w.n, out, d), general(out, in, n.W[k]), 0, general(w.n, in, w.d[k]))
		}
	}
}
