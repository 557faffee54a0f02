// Package mlp is a small feed-forward network: evaluation that runs in the
// browser, storage as eight- or sixteen-bit integers, and training that runs
// natively (train.go).
//
// It knows nothing of refrigeration. A layer computes y = W x + b; every layer
// but the last is followed by SiLU, x/(1+e^−x), which is smooth, so that an
// answer glides when a reading moves.
package mlp

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
)

// Net is a network. Sizes[0] is the number of inputs, the last the outputs.
type Net struct {
	Sizes []int
	W     [][]float32 // W[k][o*Sizes[k]+i], output o, input i of layer k
	B     [][]float32
}

// New returns a network with all weights zero.
func New(sizes ...int) *Net {
	if len(sizes) < 2 {
		panic("mlp: a network needs inputs and outputs")
	}
	n := &Net{Sizes: sizes}
	for k := 0; k+1 < len(sizes); k++ {
		n.W = append(n.W, make([]float32, sizes[k]*sizes[k+1]))
		n.B = append(n.B, make([]float32, sizes[k+1]))
	}
	return n
}

// Scratch is the working memory of one evaluation; reuse it to avoid garbage.
type Scratch struct{ pre, a, b []float32 }

// Eval computes the outputs for x and returns a slice of s, valid until the next
// call. It panics if len(x) is not Sizes[0].
func (n *Net) Eval(x []float32, s *Scratch) []float32 {
	s.pre = n.First(x, s.pre)
	return n.Rest(s.pre, s)
}

// First returns the sums of the first layer for x, before its activation, in dst
// or in a new slice if dst is too short. Inputs that are zero cost nothing.
func (n *Net) First(x, dst []float32) []float32 {
	if len(x) != n.Sizes[0] {
		panic("mlp: wrong number of inputs")
	}
	if cap(dst) < n.Sizes[1] {
		dst = make([]float32, n.Sizes[1])
	}
	dst = dst[:n.Sizes[1]]
	copy(dst, n.B[0])
	for i, v := range x {
		if v != 0 {
			n.Shift(dst, i, v)
		}
	}
	return dst
}

// Shift changes the sums of the first layer by what input i growing by dx adds.
// A caller that varies a few inputs need not sum over all the others again.
func (n *Net) Shift(pre []float32, i int, dx float32) {
	nin := n.Sizes[0]
	w := n.W[0]
	for o := range pre {
		pre[o] += w[o*nin+i] * dx
	}
}

// Rest computes the outputs from the sums of the first layer.
func (n *Net) Rest(pre []float32, s *Scratch) []float32 {
	widest := 0
	for _, w := range n.Sizes[1:] {
		widest = max(widest, w)
	}
	if len(s.a) < widest {
		s.a, s.b = make([]float32, widest), make([]float32, widest)
	}
	last := len(n.W) - 1
	in, out := s.a[:len(pre)], s.b
	if last == 0 {
		copy(in, pre)
		return in
	}
	for i, v := range pre {
		in[i] = silu(v)
	}
	for k := 1; k <= last; k++ {
		y := out[:n.Sizes[k+1]]
		multiply(y, n.W[k], n.B[k], in[:n.Sizes[k]])
		if k < last {
			for o, v := range y {
				y[o] = silu(v)
			}
		}
		in, out = y, in[:cap(in)]
	}
	return in
}

// multiply writes W x + b into y, four outputs at a time: each input is then fetched once
// for the four, and their sums need not wait for each other. In a browser that takes less
// than half the time of one output after the other.
func multiply(y, w, b, x []float32) {
	nin, o := len(x), 0
	for ; o+4 <= len(y); o += 4 {
		w := w[o*nin : (o+4)*nin]
		w0, w1, w2, w3 := w[:nin], w[nin:2*nin], w[2*nin:3*nin], w[3*nin:]
		w0, w1, w2, w3 = w0[:len(x)], w1[:len(x)], w2[:len(x)], w3[:len(x)] // no bound is checked below
		var s0, s1, s2, s3 float32
		for i, v := range x {
			s0 += w0[i] * v
			s1 += w1[i] * v
			s2 += w2[i] * v
			s3 += w3[i] * v
		}
		y[o], y[o+1], y[o+2], y[o+3] = b[o]+s0, b[o+1]+s1, b[o+2]+s2, b[o+3]+s3
	}
	for ; o < len(y); o++ {
		w, s := w[o*nin : (o+1)*nin][:len(x)], float32(0)
		for i, v := range x {
			s += w[i] * v
		}
		y[o] = b[o] + s
	}
}

// silu is x times the logistic function, from a table: the exponential would take
// most of the time of a small network in a browser. A test holds the table to the
// function within 2e-5.
func silu(x float32) float32 {
	switch {
	case x >= siluEnd:
		return x
	case x <= -siluEnd:
		return 0
	}
	u := (x + siluEnd) * siluPerUnit
	i := int(u)
	f := u - float32(i)
	return x * (logistic[i] + f*(logistic[i+1]-logistic[i]))
}

const (
	siluEnd     = 14
	siluPerUnit = 64
)

var logistic = func() (t [2*siluEnd*siluPerUnit + 2]float32) {
	for i := range t {
		t[i] = float32(1 / (1 + math.Exp(-(float64(i)/siluPerUnit - siluEnd))))
	}
	return t
}()

// magic opens a stored network; the digit is the version of the format.
const magic = "mlp2"

// Encode stores the network: magic, number of sizes, sizes (uint16), then per
// output a float32 scale and its weights as int8, and the biases as float32.
func (n *Net) Encode() []byte {
	var b bytes.Buffer
	b.WriteString(magic)
	put := func(v any) { _ = binary.Write(&b, binary.LittleEndian, v) } // a Buffer cannot fail
	put(uint8(len(n.Sizes)))
	for _, s := range n.Sizes {
		put(uint16(s))
	}
	for k := range n.W {
		nin := n.Sizes[k]
		for o := range n.B[k] {
			row := n.W[k][o*nin : (o+1)*nin]
			scale := rowScale(row)
			put(scale)
			for _, w := range row {
				put(int8(quantise(w, scale)))
			}
		}
		put(n.B[k])
	}
	return b.Bytes()
}

func rowScale(row []float32) float32 {
	m := float32(1e-12)
	for _, w := range row {
		m = max(m, max(w, -w))
	}
	return m / 127
}

func quantise(w, scale float32) int {
	return int(math.Round(float64(w / scale)))
}

// Quantise rounds the weights to what Encode stores.
func (n *Net) Quantise() {
	for k := range n.W {
		nin := n.Sizes[k]
		for o := range n.B[k] {
			row := n.W[k][o*nin : (o+1)*nin]
			scale := rowScale(row)
			for i, w := range row {
				row[i] = float32(quantise(w, scale)) * scale
			}
		}
	}
}

// Decode reads what Encode wrote. It returns an error, never a partial network,
// if the bytes are not exactly one network of finite numbers.
func Decode(b []byte) (*Net, error) {
	if len(b) < len(magic)+1 || string(b[:len(magic)]) != magic {
		return nil, errors.New("mlp: not a stored network")
	}
	r := bytes.NewReader(b[len(magic):])
	get := func(v any) error { return binary.Read(r, binary.LittleEndian, v) }
	var count uint8
	if err := get(&count); err != nil || count < 2 || count > 8 {
		return nil, fmt.Errorf("mlp: %d layers of sizes", count)
	}
	sizes := make([]int, count)
	for i := range sizes {
		var s uint16
		if err := get(&s); err != nil || s == 0 || s > 2048 {
			return nil, fmt.Errorf("mlp: size %d of layer %d", s, i)
		}
		sizes[i] = int(s)
	}
	n := New(sizes...)
	for k := range n.W {
		nin := sizes[k]
		row := make([]int8, nin)
		for o := range n.B[k] {
			var scale float32
			if err := errors.Join(get(&scale), get(row)); err != nil {
				return nil, err
			}
			for i, q := range row {
				n.W[k][o*nin+i] = float32(q) * scale
			}
		}
		if err := get(n.B[k]); err != nil {
			return nil, err
		}
	}
	if r.Len() != 0 {
		return nil, fmt.Errorf("mlp: %d bytes left over", r.Len())
	}
	for k := range n.W {
		for _, w := range append(append([]float32{}, n.W[k]...), n.B[k]...) {
			if f := float64(w); math.IsNaN(f) || math.IsInf(f, 0) {
				return nil, errors.New("mlp: a weight is not finite")
			}
		}
	}
	return n, nil
}
