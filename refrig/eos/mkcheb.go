//go:build ignore

// Command mkcheb writes fluids/<id>.cheb, the saturation expansions of package
// eos, from the equations in fluids/<id>.json.
//
//	go run mkcheb.go      (in refrig/eos)
package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"log"
	"math"
	"os"

	"twoneedles/refrig/eos"
)

// Shape of the file; as in chebyshev.go, which refuses another length.
const (
	pieces = 16
	terms  = 13
	fields = 3
	head   = 4
)

type expansion struct {
	Lo, Hi float64
	Head   [pieces][head][fields]float64
	Tail   [pieces][terms - head][fields]float32
}

func main() {
	log.SetFlags(0)
	for _, id := range eos.IDs() {
		f, err := eos.Load(id)
		if err != nil {
			log.Fatal(err)
		}
		tc, pc, _ := f.Critical()
		tLo, tHi := f.TMin(), f.SatTMax()
		lo, err := f.SatT(tLo)
		check(err)
		hi, err := f.SatT(tHi)
		check(err)
		byT := fit(math.Sqrt(1-tHi/tc), math.Sqrt(1-tLo/tc), func(x float64) [fields]float64 {
			s, err := f.SatT(clamp(tc*(1-x*x), tLo, tHi))
			check(err)
			return [fields]float64{s.P, s.RhoL, s.RhoV}
		})
		byP := fit(math.Sqrt(math.Log(pc/hi.P)), math.Sqrt(math.Log(pc/lo.P)), func(y float64) [fields]float64 {
			s, err := f.SatP(clamp(pc*math.Exp(-y*y), lo.P, hi.P))
			check(err)
			return [fields]float64{s.T, s.RhoL, s.RhoV}
		})
		var b bytes.Buffer
		for _, v := range []any{f.Hash(), byT, byP} {
			check(binary.Write(&b, binary.LittleEndian, v))
		}
		name := "fluids/" + id + ".cheb"
		check(os.WriteFile(name, b.Bytes(), 0o644))
		fmt.Println(name, b.Len(), "bytes")
	}
}

// fit interpolates f at the Chebyshev nodes of each piece.
func fit(lo, hi float64, f func(float64) [fields]float64) (e expansion) {
	e.Lo, e.Hi = lo, hi
	for i := range pieces {
		var c [terms][fields]float64
		for j := range terms {
			a := math.Pi * (float64(j) + 0.5) / terms
			v := f(lo + (hi-lo)*(float64(i)+(math.Cos(a)+1)/2)/pieces)
			for k := range terms {
				w := 2.0 / terms
				if k == 0 {
					w = 1.0 / terms
				}
				for n := range v {
					c[k][n] += w * v[n] * math.Cos(float64(k)*a)
				}
			}
		}
		copy(e.Head[i][:], c[:head])
		for k, v := range c[head:] {
			for n := range v {
				e.Tail[i][k][n] = float32(v[n])
			}
		}
	}
	return e
}

func clamp(x, lo, hi float64) float64 { return min(max(x, lo), hi) }

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
