//go:build ignore

// Command mktables writes tables/<id>.bin, the splines of package fast, from
// the equations of package eos.
//
//	go run mktables.go      (in refrig/fast)
package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"log"
	"math"
	"os"

	"gonum.org/v1/gonum/mat"

	"twoneedles/refrig/eos"
)

// Shape and scales; as in table.go and phase.go. A table of another length is
// refused there, one of other scales fails the tests.
const (
	satCells    = 48
	satFields   = 9
	startCells  = 16
	phaseCellsX = 22
	phaseCellsY = 16

	vapourSoft, liquidSoft = 40e3, 60e3
	softT                  = 20.0
)

type header struct {
	Hash                   [32]byte
	TC, PC                 float64
	PMin, PMax             float64
	XLo, XHi               float64
	TMin, TMax             float64
	VapourEnd, LiquidEnd   float64
	VapourEndT, LiquidEndT float64
}

func main() {
	log.SetFlags(0)
	for _, id := range eos.IDs() {
		b, err := table(id)
		check(err)
		name := "tables/" + id + ".bin"
		check(os.WriteFile(name, b, 0o644))
		fmt.Println(name, len(b), "bytes")
	}
}

// point is saturation at one x with what departures are measured from.
type point struct {
	p, t           float64
	liquid, vapour eos.Props
	rhoL, rhoV     float64
}

func table(id string) ([]byte, error) {
	exact, err := eos.Load(id)
	if err != nil {
		return nil, err
	}
	f := exact.ExtrapolatedTo(800) // 110 K above saturation at PMax leaves the sources' range
	var h header
	h.Hash = f.Hash()
	h.TC, h.PC, _ = f.Critical()
	h.PMin, h.PMax = 10e3, 0.98*h.PC
	h.XLo, h.XHi = coordinate(h.PC/h.PMax), coordinate(h.PC/h.PMin)

	at := func(x float64) point {
		p := h.PC / math.Pow(1+x*x, 4)
		s, err := f.SatP(p)
		check(err)
		return point{p, s.T, f.At(s.T, s.RhoL), f.At(s.T, s.RhoV), s.RhoL, s.RhoV}
	}
	top, bottom := at(h.XLo), at(h.XHi)
	h.TMin, h.TMax = bottom.t, top.t
	far, err := f.PT(bottom.p, 430)
	check(err)
	hot, err := f.PT(top.p, top.t+110)
	check(err)
	h.VapourEnd = max(far.H, hot.H)
	far, err = f.PH(bottom.p, h.VapourEnd)
	check(err)
	h.VapourEndT = max(far.T, top.t+110) + 5
	cold, err := f.PT(top.p, f.TMin()+1)
	check(err)
	h.LiquidEnd = cold.H
	h.LiquidEndT = f.TMin() - 5

	var coef []float32
	put := func(m mat.Matrix) {
		r, c := m.Dims()
		for i := range r {
			for j := range c {
				coef = append(coef, float32(m.At(i, j)))
			}
		}
	}

	// Saturation: nine splines over x, side by side.
	satFit := newFit(satCells)
	rows := mat.NewDense(len(satFit.at), satFields, nil)
	for i, u := range satFit.at {
		q := at(h.XLo + u*(h.XHi-h.XLo))
		rows.SetRow(i, []float64{q.t, q.vapour.H, q.vapour.S, q.p / q.rhoV, q.liquid.H, q.rhoL, q.liquid.S, 1 / q.liquid.Cp, 1 / q.vapour.Cp})
	}
	put(satFit.apply(rows))

	// Start of the inverse: x/q over q = √(1 − T/Tc).
	startFit := newFit(startCells)
	column := mat.NewDense(len(startFit.at), 1, nil)
	qLo, qHi := math.Sqrt(1-h.TMax/h.TC), math.Sqrt(1-h.TMin/h.TC)
	for i, u := range startFit.at {
		q := qLo + u*(qHi-qLo)
		s, err := f.SatT(h.TC * (1 - q*q))
		check(err)
		column.Set(i, 0, coordinate(h.PC/s.P)/q)
	}
	put(startFit.apply(column))

	// Surfaces: departures from saturation divided by the distance y.
	fitX, fitY := newFit(phaseCellsX), newFit(phaseCellsY)
	points := make([]point, len(fitX.at))
	for i, u := range fitX.at {
		points[i] = at(h.XLo + u*(h.XHi-h.XLo))
	}
	vapour := func(q point, t float64) [3]float64 {
		y := unspread(t, h.VapourEnd-q.vapour.H, vapourSoft)
		s, err := f.PH(q.p, q.vapour.H+y)
		check(err)
		return [3]float64{(s.T - q.t) / y, (q.p/s.Rho - q.p/q.rhoV) / y, (s.S - q.vapour.S) / y}
	}
	liquid := func(q point, t float64) [3]float64 {
		y := unspread(t, q.liquid.H-h.LiquidEnd, liquidSoft)
		s, err := f.PH(q.p, q.liquid.H-y)
		check(err)
		return [3]float64{(q.t - s.T) / y, (s.Rho - q.rhoL) / y}
	}
	surface := func(value func(q point, t float64) float64) {
		m := mat.NewDense(len(fitX.at), len(fitY.at), nil)
		for i, q := range points {
			for j, t := range fitY.at {
				m.Set(i, j, value(q, t))
			}
		}
		put(fitY.apply(fitX.apply(m).T()).T())
	}
	for k := range 3 {
		surface(func(q point, t float64) float64 { return vapour(q, t)[k] })
	}
	// Starts of inversion: y/θ over x and θ.
	surface(func(q point, t float64) float64 {
		theta := unspread(t, h.VapourEndT-q.t, softT)
		s, err := f.PT(q.p, q.t+theta)
		check(err)
		return (s.H - q.vapour.H) / theta
	})
	surface(func(q point, t float64) float64 {
		z := unspread(t, h.VapourEnd-q.vapour.H, vapourSoft)
		s, err := f.PS(q.p, q.vapour.S+z/q.t)
		check(err)
		return (s.H - q.vapour.H) / z
	})
	for k := range 2 {
		surface(func(q point, t float64) float64 { return liquid(q, t)[k] })
	}
	surface(func(q point, t float64) float64 {
		theta := unspread(t, q.t-h.LiquidEndT, softT)
		s, err := f.PT(q.p, max(q.t-theta, f.TMin()))
		check(err)
		return (q.liquid.H - s.H) / (q.t - s.T)
	})

	var b bytes.Buffer
	for _, v := range []any{h, coef} {
		check(binary.Write(&b, binary.LittleEndian, v))
	}
	return b.Bytes(), nil
}

// coordinate is x of package fast at the ratio of critical pressure to pressure.
func coordinate(ratio float64) float64 { return math.Sqrt(math.Pow(ratio, 0.25) - 1) }

// unspread inverts the spread of package fast: 0…1 to 0…end.
func unspread(t, end, soft float64) float64 { return t * soft * end / (end + soft - t*end) }

// fit finds the B-spline coefficients of n cells that come nearest, in least
// squares, to values at four points of each cell. The points are the Chebyshev
// nodes, which lie near the borders, where splines err most; no point is a
// border, so nothing is ever divided by a distance of nought.
type fit struct {
	at []float64 // sample places in 0…1
	qr mat.QR    // of the matrix of weights
}

func newFit(cells int) *fit {
	f := new(fit)
	const per = 4
	b := mat.NewDense(cells*per, cells+3, nil)
	for i := range cells {
		for k := range per {
			u := (1 - math.Cos(math.Pi*(float64(k)+0.5)/per)) / 2
			f.at = append(f.at, (float64(i)+u)/float64(cells))
			v := 1 - u
			b.Set(i*per+k, i, v*v*v/6)
			b.Set(i*per+k, i+1, 2./3-u*u*(1-u/2))
			b.Set(i*per+k, i+2, 2./3-v*v*(1-v/2))
			b.Set(i*per+k, i+3, u*u*u/6)
		}
	}
	f.qr.Factorize(b)
	return f
}

// apply fits every column of m.
func (f *fit) apply(m mat.Matrix) *mat.Dense {
	var x mat.Dense
	check(f.qr.SolveTo(&x, false, m))
	return &x
}

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
