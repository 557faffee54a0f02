package service

import (
	"twoneedles/refrig"
	"twoneedles/refrig/unit"
)

// Basis says how firmly a number stands.
type Basis string

// The standings of a number.
const (
	Published      Basis = "published"       // printed by the source that Ref names; refs.json says if that was read or recalled
	CommonPractice Basis = "common_practice" // what the trade works by; recalled, no source to cite
	Computed       Basis = "computed"        // follows from an equation
	Judgement      Basis = "judgement"       // ours
)

// Rule is a number, or a span of numbers, that somebody published or works by.
type Rule struct {
	Code   string  // stable name; words live with the screen
	Lo, Hi float64 // the span, SI, in the unit its user documents; equal for a single number
	Basis  Basis
	Ref    string // key in refs.json; "" for common practice and judgement
}

// Estimate is a best value between limits. Each use says whether the limits are
// worst cases or hold the truth 95 times in 100.
type Estimate struct{ Value, Lo, Hi float64 }

// exactly returns an Estimate without doubt.
func exactly(v float64) Estimate { return Estimate{v, v, v} }

// notNegative returns e with nothing in it below zero.
func (e Estimate) notNegative() Estimate {
	return Estimate{max(e.Value, 0), max(e.Lo, 0), max(e.Hi, 0)}
}

// check returns a [*refrig.RangeError] if v is NaN or outside lo…hi. The limits are
// those of what a person can sensibly mean, hence judgement unless source says else.
func check(quantity string, v, lo, hi float64, unit, source string) error {
	if v >= lo && v <= hi {
		return nil
	}
	return &refrig.RangeError{Quantity: quantity, Value: v, Min: lo, Max: hi, Unit: unit, Source: source}
}

// first returns the first of errs that is not nil.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// warn returns a warning with a number.
func warn(code, arg string, v float64) refrig.Warning {
	return refrig.Warning{Code: code, Args: map[string]float64{arg: v}}
}

// Units in which the trade's sources state their numbers.
const (
	psi    = unit.PaPerPSI
	inHg   = unit.PaPerInHg
	mmHg   = unit.PaPerMmHg
	micron = unit.PaPerMicron
	ml     = 1e-6          // m³
	foot   = unit.MPerFoot // m
	gram   = 1e-3          // kg
	ounce  = unit.KgPerOunce
	minute = 60.0           // s
	year   = 365.25 * 86400 // s
)

// fahrenheit returns the temperature of f °F in K.
func fahrenheit(f float64) float64 { return unit.Fahrenheit.ToSI(f) }
