package chart

import (
	"fmt"
	"math"
	"strings"

	"twoneedles/chart/svg"
)

// PressureUnit is a unit of gauge pressure; the texts are those of saved jobs.
type PressureUnit string

// The pressure units.
const (
	PSI PressureUnit = "psi"
	KPa PressureUnit = "kPa"
	Bar PressureUnit = "bar"
)

// TemperatureUnit is a unit of temperature.
type TemperatureUnit string

// The temperature units.
const (
	Fahrenheit TemperatureUnit = "F"
	Celsius    TemperatureUnit = "C"
)

// Units are the units a figure shows. Enthalpy and vacuum follow the pressure:
// Btu/lb and micron with psi, kJ/kg and Pa with kPa, kJ/kg and mbar with bar.
type Units struct {
	Pressure    PressureUnit
	Temperature TemperatureUnit
}

// Pa per unit, exact by definition [NIST811]; conventional inch and micrometre
// of mercury; Btu (International Table) per pound.
const (
	psiPa    = 0.45359237 * 9.80665 / (0.0254 * 0.0254)
	inHgPa   = 25.4 * 13.5951 * 9.80665
	micronPa = 13.5951e-3 * 9.80665
	btuLb    = 2326.0 // J/kg
)

func (u Units) check() error {
	if u.Pressure != PSI && u.Pressure != KPa && u.Pressure != Bar {
		return fmt.Errorf("chart: unknown pressure unit %q", u.Pressure)
	}
	if u.Temperature != Fahrenheit && u.Temperature != Celsius {
		return fmt.Errorf("chart: unknown temperature unit %q", u.Temperature)
	}
	return nil
}

func (u Units) pressureSize() float64 {
	switch u.Pressure {
	case PSI:
		return psiPa
	case KPa:
		return 1e3
	}
	return 1e5
}

// pressure converts Pa.
func (u Units) pressure(pa float64) float64 { return pa / u.pressureSize() }

// pressureNumber writes Pa in the unit, as finely as a gauge is read.
func (u Units) pressureNumber(pa float64) string {
	v := u.pressure(pa)
	switch {
	case u.Pressure != Bar:
		return svg.Number(v, 0)
	case math.Abs(v) < 4.995:
		return svg.Number(v, 2)
	}
	return svg.Number(v, 1)
}

// temperature converts K.
func (u Units) temperature(k float64) float64 {
	if u.Temperature == Fahrenheit {
		return k*1.8 - 459.67
	}
	return k - 273.15
}

func (u Units) temperatureNumber(k float64) string { return svg.Number(u.temperature(k), 0) }

// difference writes a difference of temperatures in K.
func (u Units) differenceNumber(k float64) string {
	if u.Temperature == Fahrenheit {
		k *= 1.8
	}
	return svg.Number(k, 0)
}

// enthalpy converts J/kg.
func (u Units) enthalpy(h float64) float64 {
	if u.Pressure == PSI {
		return h / btuLb
	}
	return h / 1e3
}

// vacuum converts Pa absolute.
func (u Units) vacuum(pa float64) float64 {
	switch u.Pressure {
	case PSI:
		return pa / micronPa
	case KPa:
		return pa
	}
	return pa / 100
}

// The texts of values with their units. A vacuum is written as the trade says
// it where the unit is psi.
func (o Options) pressureText(pa float64) string {
	if o.Units.Pressure == PSI && pa < -psiPa/2 {
		return o.Words("chart.unit.inHg", "v", svg.Number(-pa/inHgPa, 0))
	}
	return o.Words("chart.unit."+string(o.Units.Pressure), "v", o.Units.pressureNumber(pa))
}

func (o Options) temperatureText(k float64) string {
	return o.Words("chart.unit."+string(o.Units.Temperature), "v", o.Units.temperatureNumber(k))
}

func (o Options) differenceText(k float64) string {
	return o.Words("chart.unit.d"+string(o.Units.Temperature), "v", o.Units.differenceNumber(k))
}

func (o Options) vacuumText(pa float64) string {
	return o.Words("chart.unit.vacuum."+string(o.Units.Pressure), "v", vacuumNumber(o.Units.vacuum(pa)))
}

func vacuumNumber(v float64) string {
	switch {
	case math.Abs(v) < 10:
		return svg.Number(v, 1)
	case math.Abs(v) < 1000:
		return svg.Number(v, 0)
	}
	return svg.Number(math.Round(v/10)*10, 0)
}

// pressureRange writes a range as numbers without the unit.
func (o Options) pressureRange(lo, hi float64) string {
	return o.rangeOf(o.Units.pressureNumber(lo), o.Units.pressureNumber(hi))
}

func (o Options) rangeOf(lo, hi string) string {
	if lo == hi {
		return lo
	}
	if strings.HasPrefix(lo, "−") {
		return o.Words("chart.range.signed", "lo", lo, "hi", hi)
	}
	return o.Words("chart.range", "lo", lo, "hi", hi)
}
