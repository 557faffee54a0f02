package service

import "twoneedles/refrig"

// RecoveryInput is what the machine and the label say.
type RecoveryInput struct {
	Recovered    float64            // kg shown by the machine
	Label        float64            // kg on the under-bonnet label
	Temperature  refrig.Temperature // of the car and the shop
	DisplayError float64            // kg the display may be off; 0 takes that of [MachineFor]
	Refrigerant  string             // "" where it is not known
	Oil          float64            // m³ of oil that came out with it; 0 if none or not measured
}

// Recovery is what was in the car.
type Recovery struct {
	Charge   Estimate // kg that were in the car, worst cases
	Fraction Estimate // of the label charge, worst cases
	Missing  Estimate // kg short of the label; negative if there was too much
	Residual Rule     // fraction a machine must at least recover at this temperature
	// OilToReturn is the new oil that replaces what came out, m³, with the error of
	// the machine's measurement. Refrigerant dissolved in the drained oil makes it
	// look like more than it is: let it stand.
	OilToReturn Estimate
	Warnings    []refrig.Warning
}

// Recover turns the recovered mass into the charge that was in the car. What stays
// behind is between nothing and what the standard lets a machine leave, so
//
//	m − display ≤ charge ≤ (m + display)/least fraction
//
// with the least fraction 0.85 up to 13 °C, 0.95 from 21 °C and linear between
// (judgement). The value assumes half of the residual allowed. Below 10 °C nothing
// is promised: a warning says so.
//
// A [*refrig.RangeError] names a label outside 0.1…20 kg, a recovered mass outside
// 0…3 labels (a system full of liquid), a temperature outside −20…55 °C, a display error outside 0…0.5 kg, oil
// outside 0…1 l.
func Recover(in RecoveryInput) (Recovery, error) {
	machine, display := MachineFor(in.Refrigerant), in.DisplayError
	if display == 0 {
		display = machine.Display.Hi
	}
	T := float64(in.Temperature)
	err := first(
		checkLabel(in.Label),
		check("recovered mass", in.Recovered, 0, 3*in.Label, "kg", "judgement"),
		check("shop temperature", T, 253.15, 328.15, "K", "judgement"),
		check("display error", display, 0, 0.5, "kg", "judgement"),
		check("recovered oil", in.Oil, 0, 1e-3, "m³", "judgement"),
	)
	if err != nil {
		return Recovery{}, err
	}
	r := Recovery{Residual: machine.residual(T)}
	least := r.Residual.Lo
	r.Charge = Estimate{
		Value: in.Recovered / ((1 + least) / 2),
		Lo:    max(0, in.Recovered-display),
		Hi:    (in.Recovered + display) / least,
	}
	r.Fraction = Estimate{r.Charge.Value / in.Label, r.Charge.Lo / in.Label, r.Charge.Hi / in.Label}
	r.Missing = Estimate{in.Label - r.Charge.Value, in.Label - r.Charge.Hi, in.Label - r.Charge.Lo}
	if in.Oil > 0 {
		r.OilToReturn = Estimate{in.Oil, max(0, in.Oil-machine.Oil.Hi), in.Oil + machine.Oil.Hi}
		r.Warnings = append(r.Warnings, warn("oil_holds_refrigerant", "oil", in.Oil))
	}
	if T < 283.15 { // lower end of the cold test [SAEJ2810]
		r.Warnings = append(r.Warnings, warn("recovery_too_cold", "temperature", T))
	}
	if in.Recovered <= display {
		r.Warnings = append(r.Warnings, warn("recovered_less_than_display_error", "mass", in.Recovered))
	}
	if r.Fraction.Lo > 1 {
		r.Warnings = append(r.Warnings, warn("more_than_label", "fraction", r.Fraction.Value))
	}
	return r, nil
}

// residual returns the fraction the machine must recover at T (K).
func (m Machine) residual(T float64) Rule {
	const cold, warm = 286.15, 294.15 // 13 and 21 °C, where the two tests end and begin
	switch {
	case T <= cold:
		return m.RecoverCold
	case T >= warm:
		return m.RecoverWarm
	}
	x := (T - cold) / (warm - cold)
	return Rule{"recovery_between", m.RecoverCold.Lo + x*(m.RecoverWarm.Lo-m.RecoverCold.Lo), 1, Judgement, ""}
}
