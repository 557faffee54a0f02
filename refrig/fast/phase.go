package fast

import "math"

// phase is one side of the dome. All its surfaces run over x (pressure) and
//
//	t = y (yEnd + soft) / ((y + soft) yEnd),   y = |h − hsat|,
//
// which spreads the neighbourhood of saturation, where curves bend.
type phase struct {
	end, endT   float64 // enthalpy of the far end; temperature that scales start
	soft, softT float64 // width of the neighbourhood, J/kg and K

	temp, vol, entropy surface // |T − Tsat|/y, |v − vsat| p/y or |ρ − ρL|/y, |s − ssat|/y
	start              surface // y/θ over x and θ = |T − Tsat|, to begin inversions
	xStart             axis
}

// Judgement: about the enthalpy and temperature over which cp falls from its
// value at saturation near the critical point.
const (
	vapourSoft, vapourSoftT = 40e3, 15
	liquidSoft, liquidSoftT = 60e3, 30
)

var (
	yAxis     = newAxis(0, 1, phaseCellsY)
	startAxis = newAxis(0, 1, startCells)
)

// spread maps y in 0…end to 0…1.
func spread(y, end, soft float64) float64 { return y * (end + soft) / ((y + soft) * end) }

// place is a point of the surfaces: cells and weights of x and t.
type place struct {
	i, j   int
	wx, wt weights
	wd     weights // of ∂/∂t
	y      float64 // clamped to the end
	over   float64 // how far beyond
	dtdy   float64
}

// locate finds the place at coordinate x and distance y from saturation.
func (f *Fluid) locate(ph *phase, x, hsat, y float64, p *place) {
	i, u := f.xPhase.cell(x)
	p.i, p.wx = i, values(u)
	f.move(ph, hsat, y, p)
}

// move changes y only.
func (f *Fluid) move(ph *phase, hsat, y float64, p *place) {
	end := math.Abs(ph.end - hsat)
	p.y, p.over = y, 0
	if y > end {
		p.y, p.over = end, y-end
	}
	j, v := yAxis.cell(spread(p.y, end, ph.soft))
	p.j, p.wt, p.wd = j, values(v), slopes(v)
	s := p.y + ph.soft
	p.dtdy = ph.soft * (end + ph.soft) / (s * s * end) * yAxis.inv
}

// gain returns y·G, the departure from saturation, and beyond the end of the
// table its tangent.
func (s *surface) gain(p *place) float64 {
	g := s.at(p.i, p.wx, p.j, p.wt)
	if p.over == 0 {
		return p.y * g
	}
	return p.y*g + p.over*(g+p.y*p.dtdy*s.at(p.i, p.wx, p.j, p.wd))
}

// gainSlope returns y·G and its derivative by y.
func (s *surface) gainSlope(p *place) (gain, slope float64) {
	g := s.at(p.i, p.wx, p.j, p.wt)
	slope = g + p.y*p.dtdy*s.at(p.i, p.wx, p.j, p.wd)
	return p.y*g + p.over*slope, slope
}

// distance returns the y at which the temperature is θ away from saturation:
// a rough start from a small table, then Newton on the surface itself, so that
// the answer inverts temperature to rounding.
func (f *Fluid) distance(ph *phase, x, tsat, hsat, theta float64) float64 {
	i, u := ph.xStart.cell(x)
	w := spread(theta, math.Abs(ph.endT-tsat), ph.softT)
	j, v := startAxis.cell(min(w, 1))
	y := theta * ph.start.at(i, values(u), j, values(v))
	var p place
	f.locate(ph, x, hsat, y, &p)
	for range 2 {
		g, slope := ph.temp.gainSlope(&p)
		y -= (g - theta) / slope
		f.move(ph, hsat, y, &p)
	}
	return y
}

// Vapour returns temperature in K, density in kg/m³ and entropy in J/(kg K) of
// superheated vapour at p in Pa and h in J/kg. h below saturated vapour gives
// saturated vapour; above the end of the table properties go on along straight
// lines in h.
func (f *Fluid) Vapour(p, h float64) (T, rho, s float64) { return f.vapourAt(f.satVapour(p), h) }

// VapourAt is [Fluid.Vapour] at the pressure of s, which must come from
// [Fluid.Sat] of the same fluid; it saves the look-up.
func (f *Fluid) VapourAt(s Sat, h float64) (T, rho, entropy float64) { return f.vapourAt(s, h) }

func (f *Fluid) vapourAt(s Sat, h float64) (T, rho, entropy float64) {
	y := h - s.HV
	if !(y > 0) {
		return s.T, s.P / s.vV, s.SV
	}
	var q place
	ph := &f.vapour
	f.locate(ph, s.x, s.HV, y, &q)
	return s.T + ph.temp.gain(&q), s.P / (s.vV + ph.vol.gain(&q)), s.SV + ph.entropy.gain(&q)
}

// VapourH returns the enthalpy in J/kg of superheated vapour at p in Pa and T
// in K; T below saturation gives saturated vapour. It inverts [Fluid.Vapour].
func (f *Fluid) VapourH(p, T float64) float64 { return f.VapourHAt(f.satVapour(p), T) }

// VapourHAt is [Fluid.VapourH] at the pressure of s, from [Fluid.Sat].
func (f *Fluid) VapourHAt(s Sat, T float64) float64 {
	theta := T - s.T
	if !(theta > 0) {
		return s.HV
	}
	return s.HV + f.distance(&f.vapour, s.x, s.T, s.HV, theta)
}

// VapourHS returns the enthalpy in J/kg at p in Pa and entropy s in J/(kg K).
// Below the entropy of saturated vapour it is that of the two-phase mixture,
//
//	h = hL + (s − sL)(hV − hL)/(sV − sL),
//
// and this line goes on below saturated liquid.
func (f *Fluid) VapourHS(p, s float64) float64 { return f.VapourHSAt(f.Sat(p), s) }

// VapourHSAt is [Fluid.VapourHS] at the pressure of q, from [Fluid.Sat].
func (f *Fluid) VapourHSAt(q Sat, s float64) float64 {
	ds := s - q.SV
	if !(ds > 0) {
		if math.IsNaN(ds) {
			return q.HV
		}
		return q.HV + ds*(q.HV-q.HL)/(q.SV-q.SL)
	}
	// At constant pressure dh = T ds, so y = T ds to first order. Entropy bends
	// downwards in y: Newton approaches from the left, never leaping.
	y := q.T * ds
	var p place
	ph := &f.vapour
	f.locate(ph, q.x, q.HV, y, &p)
	for range 3 {
		g, slope := ph.entropy.gainSlope(&p)
		y -= (g - ds) / slope
		f.move(ph, q.HV, y, &p)
	}
	return q.HV + y
}

// Liquid returns temperature in K and density in kg/m³ of compressed liquid at
// p in Pa and h in J/kg. h above saturated liquid gives saturated liquid.
func (f *Fluid) Liquid(p, h float64) (T, rho float64) { return f.LiquidAt(f.satLiquid(p), h) }

// LiquidAt is [Fluid.Liquid] at the pressure of s, from [Fluid.Sat].
func (f *Fluid) LiquidAt(s Sat, h float64) (T, rho float64) {
	y := s.HL - h
	if !(y > 0) {
		return s.T, s.RhoL
	}
	var q place
	ph := &f.liquid
	f.locate(ph, s.x, s.HL, y, &q)
	return s.T - ph.temp.gain(&q), s.RhoL + ph.vol.gain(&q)
}

// LiquidH returns the enthalpy in J/kg of compressed liquid at p in Pa and T in
// K; T above saturation gives saturated liquid. It inverts [Fluid.Liquid].
func (f *Fluid) LiquidH(p, T float64) float64 { return f.LiquidHAt(f.satLiquid(p), T) }

// LiquidHAt is [Fluid.LiquidH] at the pressure of s, from [Fluid.Sat].
func (f *Fluid) LiquidHAt(s Sat, T float64) float64 {
	theta := s.T - T
	if !(theta > 0) {
		return s.HL
	}
	return s.HL - f.distance(&f.liquid, s.x, s.T, s.HL, theta)
}
