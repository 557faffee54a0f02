package diagnose

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/sim"
)

// What a recovery machine leaves open: its display, and what stays dissolved in the
// oil of the car. [CFR82] asks for the display; the rest is common practice.
const (
	displayError = 0.030 // kg
	mostResidue  = 0.05  // share of the charge
)

// weighed turns the recovered share of the label charge back into mass.
func weighed(c *car.Case) *Weighed {
	r, ok := c.Readings[car.Recovered]
	if !ok || c.Car.LabelCharge <= 0 {
		return nil
	}
	m := r.Value * c.Car.LabelCharge
	return &Weighed{
		Charge: m / (1 - mostResidue/2),
		Lo:     math.Max(m-displayError, 0),
		Hi:     (m + displayError) / (1 - mostResidue),
		Label:  c.Car.LabelCharge,

		Tolerance: sim.ChargeTolerance,
	}
}
