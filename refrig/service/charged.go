package service

// Charged is a charge that was weighed in, against the plan.
type Charged struct {
	Dispensed Estimate // kg that left the cylinder, worst cases of the scale
	InCar     Estimate // kg of them that are in the car
	// Label is where the charge lies against the label: "inside" if the label lies
	// within the worst cases of the scale.
	Label Standing
	Off   float64 // kg more than the label, negative if less, at best estimate
}

// Weighed compares a dispensed mass in kg with the plan; the mass in the hoses is
// taken off. A [*refrig.RangeError] names a mass outside
// 0…40 kg.
func (p ChargePlan) Weighed(dispensed float64) (Charged, error) {
	if err := check("charged mass", dispensed, 0, 40, "kg", "judgement"); err != nil {
		return Charged{}, err
	}
	label, tol := p.InCar.Value, p.Tolerance.Hi
	in := dispensed - p.InHoses
	c := Charged{
		Dispensed: Estimate{dispensed, max(0, dispensed-tol), dispensed + tol},
		InCar:     Estimate{max(0, in), max(0, in-tol), max(0, in+tol)},
		Off:       in - label,
		Label:     InsideBand,
	}
	switch {
	case c.InCar.Hi < label:
		c.Label = BelowBand
	case c.InCar.Lo > label:
		c.Label = AboveBand
	}
	return c, nil
}
