package fast

import (
	"bytes"
	"embed"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"sync"

	"twoneedles/refrig"
)

//go:generate go run mktables.go

//go:embed tables/*.bin
var files embed.FS

// Shape of the tables, in cells; shared with the command that makes them.
const (
	satCells    = 48
	satFields   = 9
	startCells  = 16
	phaseCellsX = 22
	phaseCellsY = 16
)

// header opens a table file. Numbers are little endian; coefficients follow as
// float32: saturation, the start of its inverse, then the surfaces of vapour and
// of liquid.
type header struct {
	Hash                   [32]byte // of the equation the table was made from
	TC, PC                 float64  // critical point, K and Pa
	PMin, PMax             float64  // Pa
	XLo, XHi               float64  // √(⁴√(pc/p) − 1) at PMax and PMin
	TMin, TMax             float64  // saturation temperatures of PMin and PMax, K
	VapourEnd, LiquidEnd   float64  // enthalpies at which the tables end, J/kg
	VapourEndT, LiquidEndT float64  // temperatures beyond both ends, K
}

// Fluid is one refrigerant. It is immutable and safe for concurrent use.
type Fluid struct {
	id     string
	head   header
	x      axis      // saturation
	xPhase axis      // surfaces
	sat    []float64 // satFields coefficients per node
	q      axis      // √(1 − T/Tc)
	psat   []float64 // x/q over q, to begin the inverse of TSat
	vapour phase
	liquid phase
}

var ids = []string{"R12", "R134a", "R1234yf"}

var loaded = func() map[string]func() (*Fluid, error) {
	m := map[string]func() (*Fluid, error){}
	for _, id := range ids {
		m[id] = sync.OnceValues(func() (*Fluid, error) { return read(id) })
	}
	return m
}()

// Load returns the tables of "R134a", "R1234yf" or "R12"; another identifier is a
// [*refrig.UnknownError].
func Load(id string) (*Fluid, error) {
	f, ok := loaded[id]
	if !ok {
		return nil, &refrig.UnknownError{What: "refrigerant", Value: id, Known: ids[:]}
	}
	return f()
}

func read(id string) (*Fluid, error) {
	b, err := files.ReadFile("tables/" + id + ".bin")
	if err != nil {
		return nil, fmt.Errorf("fast: %w", err)
	}
	f, err := decode(b)
	if err != nil {
		return nil, fmt.Errorf("fast: tables/%s.bin: %w", id, err)
	}
	f.id = id
	return f, nil
}

func decode(b []byte) (*Fluid, error) {
	const (
		nSat   = (satCells + 3) * satFields
		nPhase = (phaseCellsX + 3) * (phaseCellsY + 3)
		nStart = startCells + 3
		total  = nSat + nStart + 8*nPhase
	)
	f := new(Fluid)
	n := binary.Size(f.head)
	if len(b) != n+4*total {
		return nil, errors.New("wrong length")
	}
	raw := make([]float32, total)
	r := bytes.NewReader(b)
	for _, v := range []any{&f.head, raw} {
		if err := binary.Read(r, binary.LittleEndian, v); err != nil {
			return nil, err
		}
	}
	take := func(n int) []float64 {
		c := make([]float64, n)
		for i := range c {
			c[i] = float64(raw[i])
		}
		raw = raw[n:]
		return c
	}
	h := &f.head
	f.x = newAxis(h.XLo, h.XHi, satCells)
	f.xPhase = newAxis(h.XLo, h.XHi, phaseCellsX)
	f.sat = take(nSat)
	f.q = newAxis(math.Sqrt(1-h.TMax/h.TC), math.Sqrt(1-h.TMin/h.TC), startCells)
	f.psat = take(nStart)
	surf := func() surface { return surface{phaseCellsY + 3, take(nPhase)} }
	f.vapour = phase{end: h.VapourEnd, endT: h.VapourEndT, soft: vapourSoft,
		temp: surf(), vol: surf(), entropy: surf(), startT: surf(), startS: surf()}
	f.liquid = phase{end: h.LiquidEnd, endT: h.LiquidEndT, soft: liquidSoft,
		temp: surf(), vol: surf(), startT: surf()}
	return f, nil
}

// ID returns the identifier, such as "R134a".
func (f *Fluid) ID() string { return f.id }

// PMin returns the lowest pressure of the tables, 10 kPa.
func (f *Fluid) PMin() float64 { return f.head.PMin }

// PMax returns the highest pressure of the tables in Pa, 98 % of critical.
func (f *Fluid) PMax() float64 { return f.head.PMax }

// PCrit returns the critical pressure in Pa.
func (f *Fluid) PCrit() float64 { return f.head.PC }

// TCrit returns the critical temperature in K.
func (f *Fluid) TCrit() float64 { return f.head.TC }

// EquationHash returns the hash of the equation the tables were made from, to
// be compared with that of package eos.
func (f *Fluid) EquationHash() [32]byte { return f.head.Hash }
