package cycle_test

import (
	"math"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/reftest"
)

// A cycling clutch: the needle turns where the switch acts, the mean lies between,
// on and off times make up the duty, and the high side swings about its mean.
func TestSwing(t *testing.T) {
	p := typical(t, orifice, car.R134a)
	r := solve(t, p, mild, nil)
	if !r.Cycling || r.HighCutOut {
		t.Fatal("a sound orifice-tube car cycles on a cool day")
	}
	reftest.Close(t, "bottom of the swing", r.LowSwing[0], p.CutOut, 1, "the switch opens there")
	reftest.Close(t, "top of the swing", r.LowSwing[1], p.CutIn, 1, "the switch closes there")
	if !(r.Low > p.CutOut && r.Low < p.CutIn && r.HighSwing[0] <= r.High && r.High <= r.HighSwing[1]) {
		t.Errorf("means outside their swings: low %.0f in %.0f, high %.0f in %.0f", r.Low, r.LowSwing, r.High, r.HighSwing)
	}
	// Real clutches cycle a few times a minute at most; ten would wear them out.
	if r.CyclesPerMin < 0.5 || r.CyclesPerMin > 10 {
		t.Errorf("%.1f cycles a minute", r.CyclesPerMin)
	}
	// Less heat to move, shorter duty.
	cool := mild
	cool.Ambient -= 6
	if c := solve(t, p, cool, nil); !(c.Cycling && c.Duty < r.Duty) {
		t.Errorf("six degrees cooler: duty %.2f, before %.2f", c.Duty, r.Duty)
	}
	// "Rapid clutch cycling" is the trade's sign of undercharge on an orifice tube
	// [AutoHeating2009, read]: a starved coil has little to boil off.
	// (On a cool day even a third of the charge is enough for the little that is
	// moved; the sign comes with warmth.)
	warm := mild
	warm.Ambient += 6
	a, b := solve(t, p, warm, nil), solve(t, p, warm, faults["charge 30 %"])
	if !(a.Cycling && b.Cycling && b.CyclesPerMin > 1.1*a.CyclesPerMin) {
		t.Errorf("at 30 %% charge %.2f cycles a minute, sound %.2f", b.CyclesPerMin, a.CyclesPerMin)
	}
	if b := solve(t, p, hot, faults["charge 30 %"]); !b.Cycling {
		t.Error("at 30 % charge the clutch does not cycle on a hot day")
	}
	// A switch that never opens does not cycle and lets the low side fall.
	if c := solve(t, p, mild, func(f *cycle.Fault) { f.NoCut = true }); c.Cycling || c.Low > p.CutOut {
		t.Errorf("a switch stuck shut: cycling %v, low side %.0f Pa", c.Cycling, c.Low)
	}
	// A fin switch: swing by temperature.
	v := typical(t, valve, car.R134a)
	cold := mild
	cold.Ambient -= 7
	if c := solve(t, v, cold, nil); !c.Cycling || c.Fin < v.FinOff-1 || c.Fin > v.FinOn+1 {
		t.Errorf("a valve car on a cold day: cycling %v, fin %.1f K, switch %.1f…%.1f K", c.Cycling, c.Fin, v.FinOff, v.FinOn)
	}
	// The high-pressure cut-out holds the high side under its setting.
	blocked := solve(t, v, hot, func(f *cycle.Fault) { f.CondAir = 0.15 })
	if !blocked.HighCutOut || blocked.High > v.HighCut {
		t.Errorf("blocked condenser: cut-out %v, high side %.0f of %.0f Pa", blocked.HighCutOut, blocked.High, v.HighCut)
	}
	reftest.Close(t, "top of the high side's swing", blocked.HighSwing[1], v.HighCut, 1, "the cut-out opens there")
}

// A variable compressor under control holds its set point, whatever the load.
func TestStrokeHoldsTheSetPoint(t *testing.T) {
	p := typical(t, variable, car.R134a)
	for _, T := range []float64{283, 288, 293} {
		c := mild
		c.Ambient = T
		r := solve(t, p, c, nil)
		if r.Stroke > 0.98 || r.Stroke < p.StrokeMin {
			t.Fatalf("%v K: stroke %.2f: not under control", T, r.Stroke)
		}
		reftest.Close(t, "suction pressure", r.Low, p.SetPoint, 7.6e3, "half the proportional band of 15 kPa")
	}
	// A higher setting is a higher pressure at once.
	a := solve(t, p, mild, nil)
	b := solve(t, p, mild, func(f *cycle.Fault) { f.CutShift = 30e3 })
	reftest.Close(t, "shifted set point", b.Low-a.Low, 30e3, 7.6e3, "half the proportional band")
}

// The port's place: between compressor and condenser it reads above one in the
// liquid line by the condenser's drop; one after a blockage reads what is left.
func TestWhereTheHighPortIs(t *testing.T) {
	p := typical(t, valve, car.R134a)
	l := *p
	l.HighPort = car.PortLiquid
	a, b := solve(t, p, hot, nil), solve(t, &l, hot, nil)
	if d := a.High - b.High; d < 5e3 || d > 150e3 {
		t.Errorf("discharge port %.0f Pa, liquid port %.0f", a.High, b.High)
	}
	if a.States != b.States {
		t.Error("where the gauge is connected changes the cycle")
	}
	l.PortAfter = true
	before, after := solve(t, p, hot, faults["restriction"]), solve(t, &l, hot, faults["restriction"])
	if after.High > before.High-200e3 {
		t.Errorf("a port after a blockage reads %.0f Pa, one before it %.0f", after.High, before.High)
	}
}

// Air in a system that rests at 100 kPa above saturation adds more than that when
// it is swept into the condenser and warmed, and takes conductance besides; but
// not without limit.
func TestAirAddsItsPressure(t *testing.T) {
	p := typical(t, valve, car.R134a)
	a := solve(t, p, hot, nil)
	b := solve(t, p, hot, faults["air 100 kPa"])
	if d := b.High - a.High; d < 100e3 || d > 500e3 {
		t.Errorf("air of 100 kPa at rest raises the high side by %.0f Pa", d)
	}
	if math.Abs(b.Condensing-a.Condensing) > 3 {
		t.Errorf("the refrigerant itself condenses at %.1f K, before %.1f", b.Condensing, a.Condensing)
	}
}
