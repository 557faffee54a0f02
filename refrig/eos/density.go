package eos

import (
	"math"

	"twoneedles/refrig"
)

// PT returns the state at p in Pa and T in K. Exactly on the saturation line
// these two do not tell the phase; vapour is returned there.
// Errors: *refrig.RangeError, *refrig.ConvergenceError.
func (f *Fluid) PT(p, T float64) (refrig.State, error) {
	if err := f.flashRange(p, T); err != nil {
		return refrig.State{}, err
	}
	phase, lo, hi, err := f.branch(p, T)
	if err != nil {
		return refrig.State{}, err
	}
	var iso isotherm
	f.res.isotherm(f.eq.Tr/T, &iso)
	rho, err := f.density(&iso, p, T, lo, hi, phase)
	if err != nil {
		return refrig.State{}, err
	}
	x := f.at(&iso, T, rho)
	return refrig.State{T: T, P: p, H: x.H, S: x.S, Rho: rho, Phase: phase}, nil
}

func (f *Fluid) flashRange(p, T float64) error {
	if !(T >= satTMin && T <= f.tmax) {
		return &refrig.RangeError{Quantity: "temperature of " + f.ID(), Value: T,
			Min: satTMin, Max: f.tmax, Unit: "K", Source: f.Source()}
	}
	return f.rangeP(p)
}

func (f *Fluid) rangeP(p float64) error {
	if !(p > 0 && p <= f.PMax()) {
		return &refrig.RangeError{Quantity: "pressure of " + f.ID(), Value: p,
			Min: 0, Max: f.PMax(), Unit: "Pa", Source: f.Source()}
	}
	return nil
}

// branch returns the phase at p and T and the densities between which pressure
// rises steadily with density and passes p.
func (f *Fluid) branch(p, T float64) (phase refrig.Phase, lo, hi float64, err error) {
	dense := maxDelta * f.rhoR
	switch {
	case T >= f.tc:
		if p > f.pc {
			return refrig.Supercritical, 0, dense, nil
		}
		return refrig.Vapour, 0, dense, nil
	case T > f.SatTMax():
		// No saturation is known here; only pressures clear of it have a phase.
		_, sat := f.SatRangeP()
		if p <= sat {
			return refrig.Vapour, 0, f.dc, nil
		}
		if p <= f.pc {
			return 0, 0, 0, f.criticalError(p)
		}
		return refrig.Supercritical, f.dc, dense, nil
	}
	s, err := f.FastSatT(T)
	if err != nil {
		return 0, 0, 0, err
	}
	// The expansions are good to 1e-9: widen the interval by more than that, or
	// the density of saturation itself might lie just outside.
	const margin = 1e-7
	if p <= s.P {
		return refrig.Vapour, 0, s.RhoV * (1 + margin), nil
	}
	if p > f.pc {
		return refrig.Supercritical, s.RhoL * (1 - margin), dense, nil
	}
	return refrig.Liquid, s.RhoL * (1 - margin), dense, nil
}

// criticalError says that p is too near the critical pressure for a phase.
func (f *Fluid) criticalError(p float64) error {
	_, sat := f.SatRangeP()
	return &refrig.RangeError{Quantity: "pressure of " + f.ID() + " this near its critical point",
		Value: p, Min: 0, Max: sat, Unit: "Pa", Source: f.Source()}
}

// maxDelta bounds the density of liquids, in reducing densities. Judgement: the
// densest state of the sources (the triple point at pmax) lies below 3.6.
const maxDelta = 4.0

// density solves p(ρ) = p on an isotherm between lo and hi by Newton's method,
// halving the interval when a step leaves it. Vapour starts from the ideal gas
// (from the left of a concave curve Newton cannot overshoot), liquid from
// saturation.
func (f *Fluid) density(iso *isotherm, p, T, lo, hi float64, phase refrig.Phase) (float64, error) {
	const limit = 60
	rho := p / (f.rs * T)
	if phase != refrig.Vapour {
		rho = lo
	}
	if !(rho > lo && rho < hi) {
		rho = lo + 0.9*(hi-lo)
		if lo > 0 {
			rho = lo * 1.001
		}
	}
	step := 0.0
	for range limit {
		q, slope := f.pressure(iso, T, rho)
		if q > p {
			hi = rho
		} else {
			lo = rho
		}
		next := rho - (q-p)/slope
		if !(slope > 0 && next >= lo && next <= hi) {
			next = (lo + hi) / 2
		}
		step = next - rho
		rho = next
		// Quadratic: after a step of 1e-7 the next would be 1e-14.
		if math.Abs(step) < 1e-7*rho {
			q, slope = f.pressure(iso, T, rho)
			return rho - (q-p)/slope, nil
		}
	}
	return 0, &refrig.ConvergenceError{What: "density of " + f.ID(), Iterations: limit,
		Residual: step, Last: []float64{p, T, rho}}
}
