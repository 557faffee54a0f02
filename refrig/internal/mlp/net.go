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
type Scratch struct{ a, b []float32 }

// Eval computes the outputs for x and returns a slice of s, valid until the next
// call. It panics if len(x) is not Sizes[0].
func (n *Net) Eval(x []float32, s *Scratch) []float32 {
	if len(x) != n.Sizes[0] {
		panic("mlp: wrong number of inputs")
	}
	widest := 0
	for _, w := range n.Sizes {
		widest = max(widest, w)
	}
	if len(s.a) < widest {
		s.a, s.b = make([]float32, widest), make([]float32, widest)
	}
	in, out := x, s.a
	last := len(n.W) - 1
	for k := range n.W {
		nin := n.Sizes[k]
		y := out[:n.Sizes[k+1]]
		for o := range y {
			w := n.W[k][o*nin : (o+1)*nin]
			sum := n.B[k][o]
			for i, v := range in[:nin] {
				sum += w[i] * v
			}
			if k < last {
				sum = silu(sum)
			}
			y[o] = sum
		}
		if k == 0 {
			in, out = y, s.b
		} else {
			in, out = y, in[:cap(in)]
		}
	}
	return in[:n.Sizes[last+1]]
}

func silu(x float32) float32 { return x / (1 + float32(math.Exp(float64(-x)))) }

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
