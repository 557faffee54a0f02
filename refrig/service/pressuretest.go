package service

import (
	"twoneedles/refrig"
	"twoneedles/refrig/air"
)

// PressureTestInput is a circuit filled with dry nitrogen or tracer gas and left alone.
type PressureTestInput struct {
	Start, End                       refrig.Gauge
	StartTemperature, EndTemperature refrig.Temperature // of the car's parts
	Time                             float64            // s between the two
	Altitude                         float64            // m
	Volume                           Estimate           // m³, see [Volume]
	// Refrigerant and Label (kg) say what the same hole would let out later; "" and 0
	// where they are not known.
	Refrigerant string
	Label       float64
}

// PressureVerdict is what the test says. Its value is its stable code.
type PressureVerdict string

// The verdicts.
const (
	PressureLeak   PressureVerdict = "leak"
	PressureHolds  PressureVerdict = "holds"  // no drop that these readings could show
	PressureWarmed PressureVerdict = "warmed" // it rose by more than the temperatures say
)

// PressureTest is a test with gas, corrected for temperature.
type PressureTest struct {
	Verdict  PressureVerdict
	Expected Estimate // Pa gauge at the end had nothing left, worst cases
	Drop     Estimate // Pa that the pressure lies below that, worst cases
	// Empties is how long a full charge lasts through the largest hole that the readings
	// allow, s: what this test cannot exclude. 0 where refrigerant or label are missing,
	// or where no hole at all is left.
	Empties float64
}

// How well one needle is read twice, and a temperature taken: judgement. The error of
// the gauge itself is in both readings and drops out.
const (
	needleRead = 2 * psi
	soakRead   = 1.0 // K
)

var (
	// PressureTestTime is how long the gas is left alone at least, s. A short test shows
	// gross leaks only: soap or tracer gas at each joint decides.
	PressureTestTime = Rule{"pressure_test_time", 15 * minute, 30 * minute, CommonPractice, ""}
)

// HoldPressure holds the end of a test with gas against its start. A shut volume of gas
// keeps p/T,
//
//	expected = (start + atmosphere) · T₂/T₁ − atmosphere
//
// so that ten kelvin of shade cost 5 psi of 150 without any leak. What the readings leave
// open is turned into refrigerant: the drop over the time gives the flow of nitrogen,
// q = V Δp/t at the mean pressure of the test, and the same hole passes refrigerant as one
// that a vacuum shows does ([Hold]); the larger of a short hole and a long crack counts.
//
// A [*refrig.RangeError] names a start outside 50 kPa…3.5 MPa, an end outside vacuum…3.5
// MPa, a temperature outside −20…55 °C, a time outside 1 min…48 h, a volume outside
// 0.1…150 l.
func HoldPressure(in PressureTestInput) (PressureTest, error) {
	atm := float64(air.AtmosphericPressure(in.Altitude))
	T1, T2 := float64(in.StartTemperature), float64(in.EndTemperature)
	err := first(
		check("test pressure", float64(in.Start), 50e3, 3.5e6, "Pa", "judgement"),
		check("pressure at the end", float64(in.End), -atm, 3.5e6, "Pa", "judgement"),
		check("temperature at the start", T1, 253.15, 328.15, "K", "judgement"),
		check("temperature at the end", T2, 253.15, 328.15, "K", "judgement"),
		check("time of the test", in.Time, minute, 48*3600, "s", "judgement"),
		check("inner volume", in.Volume.Hi, 1e-4, 1.5*largestVolume, "m³", "judgement"),
	)
	if err != nil {
		return PressureTest{}, err
	}
	at := func(start, t1, t2 float64) float64 { return (start+atm)*t2/t1 - atm }
	start, end := float64(in.Start), float64(in.End)
	p := PressureTest{Verdict: PressureHolds, Expected: Estimate{
		Value: at(start, T1, T2),
		Lo:    at(start-needleRead, T1+soakRead, T2-soakRead),
		Hi:    at(start+needleRead, T1-soakRead, T2+soakRead),
	}}
	p.Drop = Estimate{p.Expected.Value - end, p.Expected.Lo - needleRead - end, p.Expected.Hi + needleRead - end}
	switch {
	case p.Drop.Lo > 0:
		p.Verdict = PressureLeak
	case p.Drop.Hi < 0:
		p.Verdict = PressureWarmed
	}
	if in.Refrigerant == "" || in.Label <= 0 || p.Drop.Hi <= 0 {
		return p, nil
	}
	mean := (start+end)/2 + atm
	sonic, laminar, err := throughHole(nitrogen, mean, atm, atm, T2, in.Refrigerant)
	if err != nil {
		return PressureTest{}, err
	}
	if mean > atm { // else what is left of it lets nothing out
		p.Empties = in.Label / (in.Volume.Hi * p.Drop.Hi / in.Time * max(sonic, laminar))
	}
	return p, nil
}
