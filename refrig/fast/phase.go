package fast

import "math"

// phase is one side of the dome. All its surfaces run over x (pressure) and
//
//	t = y (yEnd + soft) / ((y + soft) yEnd),   y = |h − hsat|,
//
// which spreads the neighbourhood of saturation, where curves bend.
type phase struct {
	end, soft float64 // enthalpy of the far end; width of the neighbourhood, J/kg
	endT      float64 // temperature of the far end, K, for the start of inversion

	temp, vol, entropy surface // |T − Tsat|/y, |v − vsat| p/y or |ρ − ρL|/y, |s − ssat|/y

	// Starts of inversions: y/θ over θ = |T − Tsat|, y/z over z = Tsat |s − ssat|.
	startT, startS surface
}

// Judgement: about the enthalpy and temperature over which cp falls from its
// value at saturation near the critical point.
const (
	vapourSoft, liquidSoft = 40e3, 60e3
	softT                  = 20
)

// spread maps y in 0…end to a place in the cells of the second axis.
func spread(y, end, soft float64) (j int, u float64) {
	t := y * (end + soft) / ((y + soft) * end) * phaseCellsY
	j = min(max(int(t), 0), phaseCellsY-1)
	return j, t - float64(j)
}

// spreadSlope is the derivative of spread by y, in cells.
func spreadSlope(y, end, soft float64) float64 {
	s := y + soft
	return soft * (end + soft) / (s * s * end) * phaseCellsY
}

// gainSlope returns y·G, the departure of a property from saturation, and its
// derivative by y. row is the index of the cell of pressure, with weights x.
// Beyond the end of the table the tangent goes on.
func (ph *phase) gainSlope(s *surface, row int, x weights, end, y float64) (gain, slope float64) {
	z := min(y, end)
	j, u := spread(z, end, ph.soft)
	g, d := s.both(row+j, x, values(u), slopes(u))
	slope = g + z*spreadSlope(z, end, ph.soft)*d
	return z*g + (y-z)*slope, slope
}

// invert returns the y at which the property of surface s is v away from
// saturation: a rough start from a table of its own, over z, then one step of
// Newton's method on the surface itself.
func (f *Fluid) invert(ph *phase, s, start *surface, x, end, v, z, zEnd, zSoft float64) float64 {
	row, wx := f.row(x)
	j, u := spread(z, zEnd, zSoft)
	y := z * start.at(row+j, wx, values(min(u, 1)))
	g, slope := ph.gainSlope(s, row, wx, end, y)
	return y - (g-v)/slope
}

// reach bounds enthalpy, entropy and temperature asked for, in their SI units: far
// beyond any state, and near enough that the straight lines stay finite.
const reach = 1e9

// bounded holds v within ±reach. NaN stays: each caller takes it as saturation.
func bounded(v float64) float64 { return max(-reach, min(v, reach)) }

// row returns where the coefficients of the cell of x begin, with their weights.
func (f *Fluid) row(x float64) (int, weights) {
	i, u := f.xPhase.cell(x)
	return i * (phaseCellsY + 3), values(u)
}

// Vapour returns temperature in K, density in kg/m³ and entropy in J/(kg K) of
// superheated vapour at p in Pa and h in J/kg. h below saturated vapour gives
// saturated vapour; above the end of the table properties go on along straight
// lines in h.
func (f *Fluid) Vapour(p, h float64) (T, rho, s float64) { return f.VapourAt(f.satVapour(p), h) }

// VapourAt is [Fluid.Vapour] at the pressure of s, which must come from
// [Fluid.Sat] of the same fluid; it saves the look-up.
func (f *Fluid) VapourAt(s Sat, h float64) (T, rho, entropy float64) {
	y := bounded(h) - s.HV
	if !(y > 0) {
		return s.T, s.P / s.vV, s.SV
	}
	ph := &f.vapour
	row, wx := f.row(s.x)
	end := ph.end - s.HV
	if y > end {
		dT, _ := ph.gainSlope(&ph.temp, row, wx, end, y)
		dv, _ := ph.gainSlope(&ph.vol, row, wx, end, y)
		ds, _ := ph.gainSlope(&ph.entropy, row, wx, end, y)
		return s.T + dT, s.P / (s.vV + dv), s.SV + ds
	}
	j, u := spread(y, end, ph.soft)
	k, wt := row+j, values(u)
	return s.T + y*ph.temp.at(k, wx, wt),
		s.P / (s.vV + y*ph.vol.at(k, wx, wt)),
		s.SV + y*ph.entropy.at(k, wx, wt)
}

// VapourH returns the enthalpy in J/kg of superheated vapour at p in Pa and T
// in K; T below saturation gives saturated vapour. It inverts [Fluid.Vapour].
func (f *Fluid) VapourH(p, T float64) float64 { return f.VapourHAt(f.satVapour(p), T) }

// VapourHAt is [Fluid.VapourH] at the pressure of s, from [Fluid.Sat].
func (f *Fluid) VapourHAt(s Sat, T float64) float64 {
	theta := bounded(T) - s.T
	if !(theta > 0) {
		return s.HV
	}
	ph := &f.vapour
	return s.HV + f.invert(ph, &ph.temp, &ph.startT, s.x, ph.end-s.HV, theta, theta, ph.endT-s.T, softT)
}

// VapourHS returns the enthalpy in J/kg at p in Pa and entropy s in J/(kg K).
// Below the entropy of saturated vapour it is that of the two-phase mixture,
//
//	h = hL + (s − sL)(hV − hL)/(sV − sL),
//
// and this line goes on below saturated liquid.
func (f *Fluid) VapourHS(p, s float64) float64 {
	if q := f.satVapour(p); s > q.SV {
		return f.VapourHSAt(q, s)
	}
	return f.VapourHSAt(f.Sat(p), s)
}

// VapourHSAt is [Fluid.VapourHS] at the pressure of q, from [Fluid.Sat].
func (f *Fluid) VapourHSAt(q Sat, s float64) float64 {
	ds := bounded(s) - q.SV
	if !(ds > 0) {
		if math.IsNaN(ds) {
			return q.HV
		}
		return q.HV + ds*(q.HV-q.HL)/(q.SV-q.SL)
	}
	ph := &f.vapour
	end := ph.end - q.HV
	return q.HV + f.invert(ph, &ph.entropy, &ph.startS, q.x, end, ds, q.T*ds, end, ph.soft)
}

// Liquid returns temperature in K and density in kg/m³ of compressed liquid at
// p in Pa and h in J/kg. h above saturated liquid gives saturated liquid.
func (f *Fluid) Liquid(p, h float64) (T, rho float64) { return f.LiquidAt(f.satLiquid(p), h) }

// LiquidAt is [Fluid.Liquid] at the pressure of s, from [Fluid.Sat].
func (f *Fluid) LiquidAt(s Sat, h float64) (T, rho float64) {
	y := s.HL - bounded(h)
	if !(y > 0) {
		return s.T, s.RhoL
	}
	ph := &f.liquid
	row, wx := f.row(s.x)
	end := s.HL - ph.end
	if y > end {
		dT, _ := ph.gainSlope(&ph.temp, row, wx, end, y)
		dRho, _ := ph.gainSlope(&ph.vol, row, wx, end, y)
		return s.T - dT, s.RhoL + dRho
	}
	j, u := spread(y, end, ph.soft)
	k, wt := row+j, values(u)
	return s.T - y*ph.temp.at(k, wx, wt), s.RhoL + y*ph.vol.at(k, wx, wt)
}

// LiquidH returns the enthalpy in J/kg of compressed liquid at p in Pa and T in
// K; T above saturation gives saturated liquid. It inverts [Fluid.Liquid].
func (f *Fluid) LiquidH(p, T float64) float64 { return f.LiquidHAt(f.satLiquid(p), T) }

// LiquidHAt is [Fluid.LiquidH] at the pressure of s, from [Fluid.Sat].
func (f *Fluid) LiquidHAt(s Sat, T float64) float64 {
	theta := s.T - bounded(T)
	if !(theta > 0) {
		return s.HL
	}
	ph := &f.liquid
	return s.HL - f.invert(ph, &ph.temp, &ph.startT, s.x, s.HL-ph.end, theta, theta, s.T-ph.endT, softT)
}
