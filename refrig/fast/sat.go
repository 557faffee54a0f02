package fast

import "math"

// Sat is saturated liquid (L) and saturated vapour (V) at one pressure.
type Sat struct {
	P, T       float64 // Pa, K
	HL, HV     float64 // enthalpy, J/kg
	SL, SV     float64 // entropy, J/(kg K)
	RhoL, RhoV float64 // density, kg/m³
	CpL, CpV   float64 // heat capacity of each phase, J/(kg K)

	x, vV float64 // coordinate of the pressure; p/ρV in J/kg
}

// Order of the fields of the saturation table. What vapour needs comes first.
const (
	satT = iota
	satHV
	satSV
	satVV // p/ρV, which varies little where ρV varies a hundredfold
	satHL
	satRhoL
	satSL
	satInvCpL // 1/cp goes smoothly to nought where cp goes to infinity
	satInvCpV
)

// pressure clamps p to the tables and returns its coordinate x = √(⁴√(pc/p) − 1).
// A NaN becomes PMin.
func (f *Fluid) pressure(p float64) (clamped, x float64) {
	h := &f.head
	if !(p > h.PMin) {
		return h.PMin, h.XHi
	}
	if p > h.PMax {
		return h.PMax, h.XLo
	}
	return p, math.Sqrt(math.Sqrt(math.Sqrt(h.PC/p)) - 1)
}

// field sums one field of the saturation table.
func field(c []float64, w weights, k int) float64 {
	return w.a*c[k] + w.b*c[satFields+k] + w.c*c[2*satFields+k] + w.d*c[3*satFields+k]
}

func (f *Fluid) satCell(x float64) ([]float64, weights) {
	i, u := f.x.cell(x)
	k := i * satFields
	return f.sat[k : k+4*satFields : k+4*satFields], values(u)
}

// Sat returns saturation at p in Pa. p is clamped to [PMin, PMax]; P of the
// result is the clamped value.
func (f *Fluid) Sat(p float64) Sat {
	p, x := f.pressure(p)
	c, w := f.satCell(x)
	vV := field(c, w, satVV)
	return Sat{
		P: p, T: field(c, w, satT),
		HL: field(c, w, satHL), HV: field(c, w, satHV),
		SL: field(c, w, satSL), SV: field(c, w, satSV),
		RhoL: field(c, w, satRhoL), RhoV: p / vV,
		CpL: 1 / field(c, w, satInvCpL), CpV: 1 / field(c, w, satInvCpV),
		x: x, vV: vV,
	}
}

// satVapour is [Fluid.Sat] with only what vapour needs.
func (f *Fluid) satVapour(p float64) (s Sat) {
	s.P, s.x = f.pressure(p)
	c, w := f.satCell(s.x)
	s.T, s.HV, s.SV, s.vV = field(c, w, satT), field(c, w, satHV), field(c, w, satSV), field(c, w, satVV)
	return s
}

// satLiquid is [Fluid.Sat] with only what liquid needs.
func (f *Fluid) satLiquid(p float64) (s Sat) {
	s.P, s.x = f.pressure(p)
	c, w := f.satCell(s.x)
	s.T, s.HL, s.RhoL = field(c, w, satT), field(c, w, satHL), field(c, w, satRhoL)
	return s
}

// TSat returns the saturation temperature in K at p in Pa, clamped as in
// [Fluid.Sat].
func (f *Fluid) TSat(p float64) float64 {
	_, x := f.pressure(p)
	c, w := f.satCell(x)
	return field(c, w, satT)
}

// PSat returns the saturation pressure in Pa at T in K, the inverse of
// [Fluid.TSat] to rounding. T is clamped to the temperatures of PMin and PMax.
func (f *Fluid) PSat(T float64) float64 {
	h := &f.head
	if !(T > h.TMin) {
		return h.PMin
	}
	if T >= h.TMax {
		return h.PMax
	}
	q := math.Sqrt(1 - T/h.TC)
	i, u := f.q.cell(q)
	s, w := f.psat[i:i+4:i+4], values(u)
	x := q * (w.a*s[0] + w.b*s[1] + w.c*s[2] + w.d*s[3])
	// The start is good to 1e-5; one step of Newton's method does the rest.
	i, u = f.x.cell(x)
	c := f.sat[i*satFields : (i+4)*satFields]
	x -= (field(c, values(u), satT) - T) / (field(c, slopes(u), satT) * f.x.inv)
	y := 1 + x*x
	y *= y
	return h.PC / (y * y)
}
