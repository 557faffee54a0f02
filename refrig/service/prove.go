package service

import "twoneedles/refrig"

// ProofInput is the car after the repair, with what the model expects of a healthy
// one in this weather. Expectations are the model's; this package makes none.
type ProofInput struct {
	Low, High                 refrig.Gauge // Pa gauge
	LowExpected, HighExpected Estimate     // Pa gauge, the healthy band
	Vent                      refrig.Temperature
	VentExpected              Estimate           // K
	Ambient                   refrig.Temperature // K
	Humidity                  float64            // 0…1
	HumidityKnown             bool
	RPM                       float64
}

// Proof is how the readings compare.
type Proof struct {
	Low, High, Vent Standing
	// Passed: both needles inside their bands and the vent no warmer than its own.
	Passed bool
	Vents  VentCheck
}

// Standing is where a reading lies against its expectation.
type Standing string

// The standings.
const (
	BelowBand  Standing = "below"
	InsideBand Standing = "inside"
	AboveBand  Standing = "above"
)

// VentCheck is the one published vent temperature that could be read: 40–50 °F at
// 70 °F outside in dry air, 1500 rpm, doors open, after five minutes.
type VentCheck struct {
	Rule    Rule     // K
	Applies bool     // the test is run under its conditions
	Because []string // why it does not: "ambient", "humidity", "humidity_unknown", "rpm"
	Vent    Standing // against it, whether or not it applies
}

// PublishedVent is the published vent temperature, K.
var PublishedVent = Rule{"vent_40_50_at_70", fahrenheit(40), fahrenheit(50), Published, "USArmy387"}

// How near a test must be to the published conditions, judgement: 3 K of outside air
// move the vent by about as much as the band leaves; "low humidity" is taken as at
// most 40 %; 200 rpm is what a rev counter leaves.
const (
	ventAmbientSlack = 3.0 // K
	ventHumidity     = 0.40
	ventRPM          = 1500.0
	ventRPMSlack     = 200.0
)

// Prove compares the readings after a repair with their expectations. A vent colder
// than expected passes: the low needle tells if the coil ices.
//
// A [*refrig.RangeError] names a gauge outside −101 kPa…4 MPa, a vent outside
// −20…60 °C, an ambient outside −30…60 °C, a humidity outside 0…1 where known, an
// engine speed outside 0…8000, or an expectation whose limits are not in order.
func Prove(in ProofInput) (Proof, error) {
	err := first(
		check("low-side pressure", float64(in.Low), -101.4e3, 4e6, "Pa", "judgement"),
		check("high-side pressure", float64(in.High), -101.4e3, 4e6, "Pa", "judgement"),
		check("vent temperature", float64(in.Vent), 253.15, 333.15, "K", "judgement"),
		check("ambient temperature", float64(in.Ambient), 243.15, 333.15, "K", "judgement"),
		check("engine speed", in.RPM, 0, 8000, "1/min", "judgement"),
		checkOrder("expected low side", in.LowExpected, "Pa"),
		checkOrder("expected high side", in.HighExpected, "Pa"),
		checkOrder("expected vent temperature", in.VentExpected, "K"),
	)
	if err == nil && in.HumidityKnown {
		err = check("relative humidity", in.Humidity, 0, 1, "", "judgement")
	}
	if err != nil {
		return Proof{}, err
	}
	p := Proof{
		Low:   standing(float64(in.Low), in.LowExpected.Lo, in.LowExpected.Hi),
		High:  standing(float64(in.High), in.HighExpected.Lo, in.HighExpected.Hi),
		Vent:  standing(float64(in.Vent), in.VentExpected.Lo, in.VentExpected.Hi),
		Vents: ventCheck(in),
	}
	p.Passed = p.Low == InsideBand && p.High == InsideBand && p.Vent != AboveBand
	return p, nil
}

func checkOrder(quantity string, e Estimate, unit string) error {
	const far = 1e9 // any finite band; the order is what matters
	return first(
		check(quantity, e.Hi, -far, far, unit, "judgement"),
		check(quantity, e.Lo, -far, e.Hi, unit, "judgement"),
	)
}

func standing(v, lo, hi float64) Standing {
	switch {
	case v < lo:
		return BelowBand
	case v > hi:
		return AboveBand
	}
	return InsideBand
}

func ventCheck(in ProofInput) VentCheck {
	c := VentCheck{Rule: PublishedVent, Vent: standing(float64(in.Vent), PublishedVent.Lo, PublishedVent.Hi)}
	not := func(condition bool, why string) {
		if condition {
			c.Because = append(c.Because, why)
		}
	}
	off := float64(in.Ambient) - fahrenheit(70)
	not(off > ventAmbientSlack || off < -ventAmbientSlack, "ambient")
	not(!in.HumidityKnown, "humidity_unknown")
	not(in.HumidityKnown && in.Humidity > ventHumidity, "humidity")
	not(in.RPM > ventRPM+ventRPMSlack || in.RPM < ventRPM-ventRPMSlack, "rpm")
	c.Applies = c.Because == nil
	return c
}
