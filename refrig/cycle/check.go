package cycle

import (
	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// check returns a *refrig.RangeError for weather, running or a fault outside what
// the equations are for. The limits are judgement: wider than any workshop, and
// narrow enough that no component divides by nothing.
func check(p *Plant, f *Fault, c *Conditions) error {
	if p.Fluid == nil || p.Metering == car.MeteringUnknown || p.Compressor == car.CompressorUnknown {
		panic("cycle: a plant without refrigerant, metering device or compressor")
	}
	rpm := c.RPM
	if p.Compressor == car.Electric {
		rpm = 1000 // has no say
	}
	for _, q := range [...]struct {
		v, min, max float64
		name, unit  string
	}{
		{c.Ambient, 243.15, 333.15, "outside temperature", "K"},
		{c.Humidity, 0, 1, "relative humidity", ""},
		{c.PAtm, 40e3, 115e3, "atmospheric pressure", "Pa"},
		{rpm, 200, 8000, "engine speed", "1/min"},
		{c.Blower, 0.02, 1.5, "blower setting", ""},
		{c.Minutes, 0, 1e4, "minutes of cooling", "min"},
		{c.RamAir, 0, 5, "extra condenser air", "m³/s"},
		{f.Charge, 0.01, 5, "charge over label charge", ""},
		{f.AirPressure, 0, 1e6, "partial pressure of air", "Pa"},
		{f.CondAir, 0.02, 5, "condenser air factor", ""},
		{f.IdleAir, 0.02, 5, "condenser air factor at idle", ""},
		{f.CondHeat, -50, 80, "rise of the condenser's air", "K"},
		{f.EvapAir, 0.02, 5, "evaporator air factor", ""},
		{f.EtaV, 0.01, 2, "volumetric efficiency factor", ""},
		{f.Speed, 0.01, 3, "compressor speed factor", ""},
		{f.MeterArea, 0.01, 20, "metering area factor", ""},
		{f.LeakArea, 0, 1e-3, "leak inside the compressor", "m²"},
		{f.LiquidArea, 0, 1, "throat in the liquid line", "m²"},
		{f.SuctionArea, 0, 1, "throat in the suction line", "m²"},
		{f.ValveOpening, 0, 10, "opening of a stuck valve", ""},
		{f.StrokeStuck, 0, 1, "stuck stroke", ""},
		{f.CutShift, -1e6, 1e6, "shift of the switch", "Pa"},
		{f.FinShift, -60, 60, "shift of the fin switch", "K"},
	} {
		if !(q.v >= q.min && q.v <= q.max) { // so written that a NaN is refused
			return &refrig.RangeError{Quantity: q.name, Value: q.v, Min: q.min, Max: q.max, Unit: q.unit, Source: "judgement"}
		}
	}
	return nil
}
