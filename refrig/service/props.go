package service

import (
	"twoneedles/refrig"
	"twoneedles/refrig/eos"
)

// boiling returns the equation of id and its state where it boils at T (K). An unknown
// refrigerant is a [*refrig.UnknownError]; "" is "don't know", which is no answer where a
// sum needs a density.
func boiling(id string, T float64) (*eos.Fluid, eos.Sat, error) {
	f, err := eos.Load(id)
	if err != nil {
		return nil, eos.Sat{}, err
	}
	s, err := f.SatT(T)
	return f, s, err
}

// vapourDensity returns the density of vapour at p (Pa) and T (K), kg/m³. At or
// above saturation it is that of saturated vapour.
func vapourDensity(id string, p, T float64) (float64, error) {
	f, s, err := boiling(id, T)
	if err != nil || p >= s.P {
		return s.RhoV, err
	}
	st, err := f.PT(p, T)
	if err != nil {
		return 0, err
	}
	if st.Phase == refrig.Liquid {
		return s.RhoV, nil
	}
	return st.Rho, nil
}
