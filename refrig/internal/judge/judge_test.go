package judge

import (
	"math"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/sim"
)

func model(t testing.TB) *diagnose.Model {
	t.Helper()
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// The fitted posterior against Bayes' rule over simulated cars with nothing in
// between (Brute), on new cars. The mean log-loss of the two may differ by 0.2 bit
// here: with 80 cars the standard error of the difference is about 0.07; the
// report measures the same on many more and finds under 0.1.
func TestPosteriorAgainstBruteForce(t *testing.T) {
	if testing.Short() {
		t.Skip("simulates 16,000 cars")
	}
	m := model(t)
	r := fleet.NewRand(31)
	var fitted, brute, n float64
	for range 2 {
		w := BruteWorld(r)
		full := NewBrute(w, 8000, r.Uint64()>>24)
		samples, _ := w.DrawMany(40, r.Uint64()>>24)
		k, err := CompareBrute(m, samples, ReadingSets()[1], full, full)
		if err != nil {
			t.Fatal(err)
		}
		fitted += k.LogLoss[0] * k.Cars
		brute += k.LogLoss[1] * k.Cars
		n += k.Cars
	}
	if n < 60 {
		t.Fatalf("compared %g cars", n)
	}
	if d := (fitted - brute) / n; d > 0.2 {
		t.Errorf("log-loss %.3f bit fitted, %.3f brute force", fitted/n, brute/n)
	}
}

// Honest percentages on cars never used in fitting: calibration error at most 0.03
// and at most 2 % of healthy cars accused with 80 % or more (the reach of the
// design). 12,000 cars: the sampling error of ECE alone is about 0.005; with a third of them
// it was 0.008, and more than what is left to the limit at diagnose.Sharpness.
func TestCalibration(t *testing.T) {
	if testing.Short() {
		t.Skip("simulates 12,000 cars")
	}
	m := model(t)
	world := sim.World{}
	samples, failed := world.DrawMany(12_000, 4242)
	if failed > 24 {
		t.Errorf("%d of 12,000 cars have no solution", failed)
	}
	for _, set := range ReadingSets() {
		s, err := Trial(samples, set, Posterior(m))
		if err != nil {
			t.Fatal(err)
		}
		if s.ECE > 0.03 {
			t.Errorf("%s: calibration error %.3f", set.Name, s.ECE)
		}
		if s.Accused > 0.02 {
			t.Errorf("%s: %.1f %% of healthy cars accused", set.Name, 100*s.Accused)
		}
		if h := math.Log2(float64(len(car.Conditions()))); s.LogLoss > h/1.8 {
			t.Errorf("%s: log-loss %.2f bit; knowing nothing costs %.2f", set.Name, s.LogLoss, h)
		}
	}
}

// Expected gain must be what measuring really brings: over cars drawn by the prior
// odds, the mean expected drop of entropy for the discharge line against the mean
// drop that follows. 0.06 bit: the standard error of 500 cars is 0.03.
func TestExpectedGainIsRealised(t *testing.T) {
	m := model(t)
	world := sim.World{}
	samples, _ := world.DrawMany(500, 77)
	posterior := Posterior(m)
	var hoped, got float64
	n := 0.0
	for i := range samples {
		s := &samples[i]
		c := ReadingSets()[1].Keep(s.Case)
		r, err := m.Diagnose(c)
		if err != nil {
			t.Fatal(err)
		}
		before, err := posterior(c)
		if err != nil {
			t.Fatal(err)
		}
		c.Readings[car.DischargeLine] = s.Case.Readings[car.DischargeLine]
		after, err := posterior(c)
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range r.Next {
			if k.Quantity == car.DischargeLine {
				hoped += k.Gain
			}
		}
		got += entropy(before) - entropy(after)
		n++
	}
	if math.Abs(hoped-got)/n > 0.06 {
		t.Errorf("expected %.3f bit, realised %.3f", hoped/n, got/n)
	}
}

func entropy(p []float64) float64 { // bit
	h := 0.0
	for _, v := range p {
		if v > 0 {
			h -= v * math.Log2(v)
		}
	}
	return h
}
