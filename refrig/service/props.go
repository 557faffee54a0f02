package service

import (
	"fmt"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/eos"
)

// UnknownRefrigerantError reports a refrigerant this package has no equation for;
// "" is "don't know", which is no answer where a sum needs its density.
type UnknownRefrigerantError struct{ ID string }

func (e *UnknownRefrigerantError) Error() string {
	return fmt.Sprintf("refrigerant %q is not one of %s, %s, %s", e.ID, car.R134a, car.R1234yf, car.R12)
}

func checkRefrigerant(id string) error {
	switch id {
	case car.R134a, car.R1234yf, car.R12:
		return nil
	}
	return &UnknownRefrigerantError{id}
}

// saturationPressure returns the pressure at which id boils at T (K), Pa.
func saturationPressure(id string, T float64) (float64, error) {
	f, err := eos.Load(id)
	if err != nil {
		return 0, err
	}
	s, err := f.SatT(T)
	return s.P, err
}

// boilingTemperature returns the temperature in K at which id boils at p (Pa).
func boilingTemperature(id string, p float64) (float64, error) {
	f, err := eos.Load(id)
	if err != nil {
		return 0, err
	}
	s, err := f.SatP(p)
	return s.T, err
}

// saturatedDensities returns the densities of boiling liquid and its vapour, kg/m³.
func saturatedDensities(id string, T float64) (liquid, vapour float64, err error) {
	f, err := eos.Load(id)
	if err != nil {
		return 0, 0, err
	}
	s, err := f.SatT(T)
	return s.RhoL, s.RhoV, err
}

// vapourDensity returns the density of vapour at p (Pa) and T (K), kg/m³. At or
// above saturation it is that of saturated vapour.
func vapourDensity(id string, p, T float64) (float64, error) {
	f, err := eos.Load(id)
	if err != nil {
		return 0, err
	}
	s, err := f.SatT(T)
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

// molarMass returns the molar mass of id in kg/mol.
func molarMass(id string) (float64, error) {
	f, err := eos.Load(id)
	if err != nil {
		return 0, err
	}
	return f.MolarMass(), nil
}
