package cycle_test

import (
	"fmt"
	"strings"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/reftest"

	"twoneedles/refrig/cycle"
)

// A regression test: the numbers are this code's own, kept so that a change that
// moves the needles is seen, and so that natively compiled and wasm programs agree
// to the digits that are shown (kPa, tenths of a degree, grams). Sixteenth digits
// differ: Go may fuse a multiplication and an addition on some machines.
func TestRegressionOfRandomCars(t *testing.T) {
	var b strings.Builder
	b.WriteString("seed  label_g  low_kPa  high_kPa  vent_C  discharge_C  flow_g_s  mode\n")
	for seed := range uint64(40) {
		p, f, c, err := randomCase(seed)
		if err != nil {
			t.Fatal(err)
		}
		r, err := cycle.Solve(p, f, c)
		if err != nil { // as any other answer: it must not come and go
			fmt.Fprintf(&b, "%4d  %7.0f  no state found\n", seed, p.Charge*1e3)
			continue
		}
		fmt.Fprintf(&b, "%4d  %7.0f  %7.0f  %8.0f  %6.1f  %11.1f  %8.1f  %s\n", seed, p.Charge*1e3,
			r.Low/1e3, r.High/1e3, r.Vent-273.15, r.DischargeLine-273.15, r.MassFlow*1e3, r.Mode())
	}
	reftest.Golden(t, "cycle/random_cars.txt", b.String())
}

// The same arguments give the same result to the last bit, whatever was solved
// before and on whichever goroutine: nothing is kept between solves.
func TestSolveKeepsNothing(t *testing.T) {
	p, f, c, err := randomCase(3)
	if err != nil {
		t.Fatal(err)
	}
	a, err := cycle.Solve(p, f, c)
	if err != nil {
		t.Fatal(err)
	}
	before := *p
	eachCase(50, func(seed uint64) {
		q, g, d, _ := randomCase(seed)
		_, _ = cycle.Solve(q, g, d)
		if b, _ := cycle.Solve(p, f, c); b != a {
			t.Errorf("after seed %d the result differs", seed)
		}
	})
	if *p != before {
		t.Error("Solve changed the plant")
	}
}

// A blocked suction line starves the low port; it never drowns the coil. The
// solver once had a second state here, in which a pressure drop larger than there
// was room for cancelled a flow that did not match.
func TestBlockedSuctionStarvesTheLowPort(t *testing.T) {
	for _, kind := range []string{orifice, valve, variable} {
		p := typical(t, kind, car.R134a)
		sound := solve(t, p, hot, nil)
		for _, area := range []float64{45e-6, 30e-6, 20e-6, 12e-6, 8e-6, 5e-6} {
			r := solve(t, p, hot, func(f *cycle.Fault) { f.SuctionArea = area })
			if r.Cooling < 0.1*sound.Cooling || r.EvapSuperheat < sound.EvapSuperheat-15 || r.LowSwing[0] > sound.Low+1e3 {
				t.Errorf("%s, %.0f mm²: low %.0f Pa, cooling %.0f W, superheat %.1f K", kind, area*1e6, r.Low, r.Cooling, r.EvapSuperheat)
			}
		}
	}
	for _, seed := range []uint64{121, 304, 975, 1995, 2815} { // where the second state was found
		p, f, c, err := randomCase(seed)
		if err != nil {
			t.Fatal(err)
		}
		if r, err := cycle.Solve(p, f, c); err != nil || r.Cooling < 200 {
			t.Errorf("seed %d: %v W, %v", seed, r.Cooling, err)
		}
	}
}

func ExampleSolve() {
	p, err := fleet.Typical(car.Spec{Refrigerant: car.R134a, Metering: car.OrificeTube, Compressor: car.Fixed})
	if err != nil {
		panic(err)
	}
	day := cycle.Conditions{Ambient: 308.15, Humidity: 0.4, PAtm: 101325, RPM: 1500, Blower: 1}
	dirty := cycle.Sound()
	dirty.CondAir = 0.6
	for _, f := range []cycle.Fault{cycle.Sound(), dirty} {
		r, err := cycle.Solve(p, f, day)
		if err != nil {
			panic(err)
		}
		fmt.Printf("low %.0f kPa, high %.0f kPa, vent %.0f °C\n", r.Low/1e3, r.High/1e3, r.Vent-273.15)
	}
	// Output:
	// low 246 kPa, high 1744 kPa, vent 16 °C
	// low 274 kPa, high 2139 kPa, vent 17 °C
}
