package chart

import (
	"fmt"
	"slices"

	"twoneedles/chart/svg"
	"twoneedles/refrig/unit"
)

func checkUnits(u unit.Units) error {
	for _, c := range []struct {
		kind unit.Kind
		have unit.Unit
	}{{unit.GaugePressure, u.Pressure}, {unit.Temperature, u.Temperature}, {unit.AbsolutePressure, u.Vacuum}} {
		if !slices.Contains(unit.Choices(c.kind), c.have) {
			return fmt.Errorf("chart: no figure is drawn in the unit %q", c.have)
		}
	}
	return nil
}

// Values on the axes, in the caller's units. An absolute pressure that is no vacuum
// is drawn in the unit of the gauges.

func (o *Options) pressure(pa float64) float64     { return o.Units.Pressure.FromSI(pa) }
func (o *Options) temperature(k float64) float64   { return o.Units.Temperature.FromSI(k) }
func (o *Options) vacuum(pa float64) float64       { return o.Units.Vacuum.FromSI(pa) }
func (o *Options) enthalpy(jPerKg float64) float64 { return o.Units.For(unit.Enthalpy).FromSI(jPerKg) }

// Writer writes numbers, as on the page: one reading is one number in both. What follows
// says the same for short.
func (o *Options) Writer() unit.Writer {
	return unit.Writer{Units: o.Units, Words: unit.Words(o.Words)}
}

func (o *Options) pressureText(pa float64) string { return o.Writer().Quantity(pa, unit.GaugePressure) }

func (o *Options) temperatureText(k float64) string { return o.Writer().Quantity(k, unit.Temperature) }

func (o *Options) differenceText(k float64) string { return o.Writer().Quantity(k, unit.TempDiff) }

// absoluteText writes a pressure of the refrigerant, not of a vacuum gauge.
func (o *Options) absoluteText(pa float64) string {
	return o.Words("chart.absolute", "pressure", o.Writer().QuantityIn(pa, o.Units.Pressure))
}

// pressureNumber and pressureRange leave out the unit, which stands on the axis or
// over the column; so does temperatureNumber.
func (o *Options) pressureNumber(pa float64) string { return o.pressureRange(pa, pa) }

func (o *Options) pressureRange(lo, hi float64) string {
	return o.Writer().Numbers(lo, hi, unit.GaugePressure)
}

func (o *Options) temperatureNumber(k float64) string {
	return o.Writer().Numbers(k, k, unit.Temperature)
}

// ranges says key of the ranges of both needles.
func (o *Options) ranges(key string, low, high svg.Span) string {
	return o.Words(key, "low_lo", o.pressureText(low.Lo), "low_hi", o.pressureText(low.Hi),
		"high_lo", o.pressureText(high.Lo), "high_hi", o.pressureText(high.Hi))
}

// readText and readNumbers write pressures that were read, as they were typed.
func (o *Options) readText(pa float64) string { return o.Writer().ReadingText(pa, unit.GaugePressure) }

func (o *Options) readNumbers(lo, hi float64) string {
	return o.Writer().ReadingNumbers(lo, hi, unit.GaugePressure)
}

// unitName names the unit in which values of kind k are drawn.
func (o *Options) unitName(k unit.Kind) string {
	return o.Words("unit." + string(o.Units.For(k)))
}

// ticks are those of an axis, with the language's decimal sign.
func (o *Options) ticks(lo, hi float64, n int) []svg.Tick { return o.signed(svg.Ticks(lo, hi, n)) }

func (o *Options) decadeTicks(lo, hi float64) []svg.Tick { return o.signed(svg.DecadeTicks(lo, hi)) }

func (o *Options) signed(ticks []svg.Tick) []svg.Tick {
	for i := range ticks {
		ticks[i].Label = o.Writer().Sign(ticks[i].Label)
	}
	return ticks
}
