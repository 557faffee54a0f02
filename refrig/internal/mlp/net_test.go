package mlp

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestStoredNetworkEvaluatesTheSame(t *testing.T) {
	n := New(4, 6, 3)
	n.fill(rand.New(rand.NewPCG(4, 5)))
	n.Quantise()
	m, err := Decode(n.Encode())
	if err != nil {
		t.Fatal(err)
	}
	var s, u Scratch
	x := []float32{1, -2, 0.5, 0.1}
	a, b := n.Eval(x, &s), m.Eval(x, &u)
	for i := range a {
		if math.Abs(float64(a[i]-b[i])) > 1e-5 { // one rounding of the scale
			t.Errorf("output %d: %g stored, %g before", i, b[i], a[i])
		}
	}
}

func FuzzDecode(f *testing.F) {
	f.Add(New(2, 3, 1).Encode())
	f.Add([]byte("mlp2"))
	f.Fuzz(func(t *testing.T, b []byte) {
		n, err := Decode(b)
		if (n == nil) == (err == nil) {
			t.Fatal("want a network or an error, not both or neither")
		}
	})
}

// The table's error: a step of 1/64 and a second derivative of the logistic
// function of at most 0.1 leave 0.1/64²/8 = 3e-6, times |x| up to 14 where the
// curvature is far smaller.
func TestSiluTable(t *testing.T) {
	for x := -20.0; x < 20; x += 0.0037 {
		want := x / (1 + math.Exp(-x))
		if got := float64(silu(float32(x))); math.Abs(got-want) > 2e-5 {
			t.Fatalf("silu(%g) = %g, want %g", x, got, want)
		}
	}
}

// Varying one input through Shift must equal evaluating anew. 1e-5: rounding of a
// sum of a few float32 terms.
func TestShiftEqualsEval(t *testing.T) {
	n := New(4, 6, 5, 3)
	n.fill(rand.New(rand.NewPCG(4, 5)))
	var s, u Scratch
	x := []float32{1, 0, 0.5, 0.1}
	pre := n.First(x, nil)
	n.Shift(pre, 1, 0.7)
	x[1] = 0.7
	a, b := n.Rest(pre, &s), n.Eval(x, &u)
	for i := range a {
		if math.Abs(float64(a[i]-b[i])) > 1e-5 {
			t.Errorf("output %d: %g shifted, %g anew", i, a[i], b[i])
		}
	}
}

// A layer against the sum written out, for numbers of outputs that four divides and
// does not. 1e-5: rounding of a sum of a few float32 terms.
func TestEvalIsTheSum(t *testing.T) {
	x := []float32{1, -2, 0.5, 0.1, 3}
	for outputs := 1; outputs <= 9; outputs++ {
		n := New(len(x), len(x), outputs)
		n.fill(rand.New(rand.NewPCG(7, uint64(outputs))))
		copy(n.B[1], []float32{1, 2, 3, 4, 5, 6, 7, 8, 9})
		var s Scratch
		hidden := n.First(x, nil)
		got := n.Eval(x, &s)
		for o := range outputs {
			want := float64(n.B[1][o])
			for i, h := range hidden {
				want += float64(n.W[1][o*len(x)+i]) * float64(silu(h))
			}
			if math.Abs(float64(got[o])-want) > 1e-5 {
				t.Errorf("output %d of %d: %g, want %g", o, outputs, got[o], want)
			}
		}
	}
}

func BenchmarkRest(b *testing.B) {
	n := New(100, 192, 96, 40)
	n.fill(rand.New(rand.NewPCG(4, 5)))
	var s Scratch
	pre := n.First(make([]float32, 100), nil)
	for b.Loop() {
		n.Rest(pre, &s)
	}
}

// fill gives n weights of order one, so that outputs are not all alike.
func (n *Net) fill(r *rand.Rand) {
	for k := range n.W {
		for i := range n.W[k] {
			n.W[k][i] = float32(r.NormFloat64())
		}
	}
}
