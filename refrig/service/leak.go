package service

import (
	"math"

	"twoneedles/refrig/car"
)

// LeakInput is what is known of a loss.
type LeakInput struct {
	Label       float64  // kg
	Lost        Estimate // kg gone since the charge was right, worst cases; see [Recovery]
	Months      float64  // since the charge was right
	Evaporators int      // 1 or 2
	Refrigerant string   // decides which limits apply; "" where it is not known
}

// LeakReport says how fast it leaks and what that means.
type LeakReport struct {
	Rate Estimate // kg/year, worst cases; up to +Inf where all of it may be gone
	// MonthsToPoor is how long a right charge lasts until cooling suffers: until
	// Reserve of it is gone. +Inf where the loss may be nothing.
	MonthsToPoor Estimate
	Reserve      Rule // fraction that may be missing before it is felt
	Limits       []LimitCheck
	Detectors    []DetectorCheck
}

// LimitCheck compares the rate with one published figure.
type LimitCheck struct {
	Limit Rule   // kg/year
	Is    string // "below", "above", or "unclear" where the limits of the rate straddle it
}

// DetectorCheck says if a detector set to one sensitivity would answer to the whole
// loss coming from one place; several small leaks each need a finer one.
type DetectorCheck struct {
	Setting Rule   // kg/year it must respond to
	Finds   string // "yes", "no", or "unclear"
}

var (
	// ReserveUsual: judgement around [ShopTests], where 25 % short moved an orifice-tube
	// car's vent by 0.3 K, and 21 % short a valve car's high side by 5 psi of 300. How
	// much more it takes depends on the receiver or accumulator.
	ReserveUsual = Rule{"reserve_usual", 0.20, 0.30, Judgement, ""}
	// ReserveSmall: systems below 500 g have small receivers and tolerate less.
	ReserveSmall = Rule{"reserve_small", 0.10, 0.25, CommonPractice, ""}
)

// Published rates of loss, kg/year. The European ones are for the type approval of
// systems whose gas has a warming potential above 150: R-134a, not R-1234yf, and an
// R-12 car is older than they are. Outside the EU they bind nobody.
var (
	euSingle = Rule{"eu_single_evaporator", 40 * gram, 40 * gram, Published, "EU200640"}
	euDual   = Rule{"eu_dual_evaporator", 60 * gram, 60 * gram, Published, "EU200640"}
	measured = Rule{"measured_sound_cars", 28.8 * gram, 81.9 * gram, Published, "OekoRecherche2003"} // makes' means; 300 cars up to seven years old
	typical  = Rule{"calculated_typical_car", 7 * gram, 20 * gram, Published, "SAEJ2727"}
	army     = Rule{"army_normal", 200 * gram, 200 * gram, Published, "USArmy2420"} // "up to 7 oz"; another era
)

// leakLimits returns the rates of loss to hold a car against.
func leakLimits(refrigerant string, evaporators int) []Rule {
	switch {
	case refrigerant != car.R134a && refrigerant != "":
		return []Rule{measured, typical, army}
	case evaporators == 2:
		return []Rule{euDual, measured, typical, army}
	}
	return []Rule{euSingle, measured, typical, army}
}

// DetectorSettings are the sensitivities of electronic detectors, kg/year: three to
// select from, and the leak standard they are checked with. The same three hold for
// R-1234yf ([SAEJ2913], title read).
func DetectorSettings() []Rule {
	return []Rule{
		{"fine", 4 * gram, 4 * gram, Published, "SAEJ2791"},
		{"middle", 7 * gram, 7 * gram, Published, "SAEJ2791"},
		{"coarse", 14 * gram, 14 * gram, Published, "SAEJ2791"},
	}
}

// Leak turns a loss into a rate and a time:
//
//	rate = lost / time,   months to poor cooling = reserve · label / rate
//
// The rate is constant while liquid is left, because its pressure is. The limits of
// the loss pass through to the results; a loss that may be zero gives an infinite
// upper time, one that may be all of it an infinite rate: nobody knows when it ran empty.
//
// A [*refrig.RangeError] names a label outside 0.1…20 kg, a loss outside 0…label
// (its limits may reach beyond: they are clipped), or months outside 0.25…360.
func Leak(in LeakInput) (LeakReport, error) {
	err := first(
		checkLabel(in.Label),
		check("lost refrigerant", in.Lost.Value, 0, in.Label, "kg", "judgement"),
		check("months", in.Months, 0.25, 360, "", "judgement"),
	)
	if err != nil {
		return LeakReport{}, err
	}
	perYear := 12 / in.Months
	lo, hi := clip(in.Lost.Lo, 0, in.Lost.Value), clip(in.Lost.Hi, in.Lost.Value, in.Label)
	r := LeakReport{
		Rate:    Estimate{in.Lost.Value * perYear, lo * perYear, hi * perYear},
		Reserve: ReserveUsual,
	}
	if in.Label < 0.5 { // common practice
		r.Reserve = ReserveSmall
	}
	if hi >= in.Label {
		r.Rate.Hi = math.Inf(1)
	}
	r.MonthsToPoor = Estimate{
		Value: monthsTo((r.Reserve.Lo+r.Reserve.Hi)/2*in.Label, r.Rate.Value),
		Lo:    monthsTo(r.Reserve.Lo*in.Label, r.Rate.Hi),
		Hi:    monthsTo(r.Reserve.Hi*in.Label, r.Rate.Lo),
	}
	for _, l := range leakLimits(in.Refrigerant, in.Evaporators) {
		is := "unclear"
		switch {
		case r.Rate.Hi <= l.Lo:
			is = "below"
		case r.Rate.Lo > l.Hi:
			is = "above"
		}
		r.Limits = append(r.Limits, LimitCheck{l, is})
	}
	for _, d := range DetectorSettings() {
		finds := "unclear"
		switch {
		case r.Rate.Lo >= d.Hi:
			finds = "yes"
		case r.Rate.Hi < d.Lo:
			finds = "no"
		}
		r.Detectors = append(r.Detectors, DetectorCheck{d, finds})
	}
	return r, nil
}

// monthsTo returns how long a loss of mass takes at rate (kg/year), +Inf at none.
func monthsTo(mass, rate float64) float64 {
	if rate <= 0 {
		return math.Inf(1)
	}
	return 12 * mass / rate
}

// clip returns v held to lo…hi; NaN becomes lo.
func clip(v, lo, hi float64) float64 {
	if v > lo {
		return min(v, hi)
	}
	return lo
}
