//go:build !js

package mlp

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The gradient of every weight against a difference quotient of the loss.
// Tolerance: float32 arithmetic carries 6e-8 relative; a central difference with
// h = 1e-2 over a smooth loss of order 1 is then good to about 1e-4 plus the h²
// term; 3e-3 absolute is three times the worst seen and far below any gradient
// that would matter.
func TestGradientWitness(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	n := New(3, 5, 4, 2)
	n.initialise(r)
	x := []float32{0.3, -0.7, 1.1}
	loss := func(y []float32) float64 { return float64(y[0]*y[0] + 0.5*y[1]) }
	task := Task{
		Sample: func(_ *rand.Rand, in []float32) int { copy(in, x); return 0 },
		Loss: func(_ int, _, y, dy []float32) float64 {
			dy[0], dy[1] = 2*y[0], 0.5
			return loss(y)
		},
	}
	w := newWorker(n, 1, r)
	w.run(n, task)
	const h = 1e-2
	var s Scratch
	for k := range n.W {
		for i := range n.W[k] {
			keep := n.W[k][i]
			n.W[k][i] = keep + h
			up := loss(n.Eval(x, &s))
			n.W[k][i] = keep - h
			dn := loss(n.Eval(x, &s))
			n.W[k][i] = keep
			if want := (up - dn) / (2 * h); math.Abs(want-float64(w.gW[k][i])) > 3e-3 {
				t.Errorf("layer %d weight %d: gradient %g, difference quotient %g", k, i, w.gW[k][i], want)
			}
		}
	}
}

// A network must be able to learn a function no linear map can.
func TestLearnsExclusiveOr(t *testing.T) {
	n := New(2, 8, 1)
	task := Task{
		Sample: func(r *rand.Rand, x []float32) int {
			a, b := r.IntN(2), r.IntN(2)
			x[0], x[1] = float32(a), float32(b)
			return a ^ b
		},
		Loss: func(id int, _, y, dy []float32) float64 {
			e := y[0] - float32(id)
			dy[0] = 2 * e
			return float64(e * e)
		},
	}
	if loss := n.Train(task, Plan{Steps: 2000, Batch: 16, Workers: 2, Rate: 0.01, Seed: 3}); loss > 1e-3 {
		t.Errorf("mean square error %g after training, want below 1e-3", loss)
	}
}
