package service_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"twoneedles/refrig/service"
)

// By hand: in for 6 s, out for 4 s, is six cycles a minute and 60 % of the time.
func TestClutchByHand(t *testing.T) {
	c, err := service.ClutchOf([]float64{0, 6, 10, 16, 20, 26, 30, 36, 40})
	if err != nil || c.Cycles != 4 {
		t.Fatal(c, err)
	}
	near(t, "rate", c.Rate.Value, 6, 1e-9)
	near(t, "on, s", c.On, 6, 1e-9)
	near(t, "off, s", c.Off, 4, 1e-9)
	near(t, "share", c.Share, 0.6, 1e-9)
	// Two taps 0.15 s off over 40 s: a period of 10 s known to 0.053 s, twice that each way.
	near(t, "least rate", c.Rate.Lo, 60/10.106, 1e-3)
	for quantity, clicks := range map[string][]float64{
		"number of clicks": {0, 6}, "time of a click": {0, 6, 5}} {
		_, err := service.ClutchOf(clicks)
		outOfRange(t, err, quantity)
	}
	_, err = service.ClutchOf([]float64{0, math.NaN(), 5})
	outOfRange(t, err, "time of a click")
}

// The limits hold the true rate: cycles that scatter by a second, taps by 0.15 s.
func TestClutchLimitsHoldTheRate(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 7))
	held := 0
	const draws = 400
	for range draws {
		period := 6 + 14*rng.Float64()
		var clicks []float64
		at := 0.5
		for range 8 {
			clicks = append(clicks, at+0.15*rng.NormFloat64(), at+0.6*period+0.15*rng.NormFloat64())
			at += period + rng.NormFloat64()
		}
		c, err := service.ClutchOf(clicks[:15])
		if err != nil {
			continue
		}
		if r := 60 / period; c.Rate.Lo <= r && r <= c.Rate.Hi {
			held++
		}
	}
	// 95 %, with seven periods rather 90 (Student), less three standard errors of 400.
	if held < draws*85/100 {
		t.Errorf("the limits hold the rate %d times in %d", held, draws)
	}
}

func TestPullDown(t *testing.T) {
	minutes := []float64{0, 120, 240, 360, 480, 600}
	p, err := service.PullDownOf(minutes, []float64{310, 298, 290, 286, 284, 283})
	if err != nil || p.Settled || p.From != 310 || p.To != 283 || p.Minutes != 10 {
		t.Errorf("on its way: %+v, %v", p, err)
	}
	p, err = service.PullDownOf(minutes, []float64{310, 298, 290, 283.2, 283.0, 282.9})
	if err != nil || !p.Settled {
		t.Errorf("settled: %+v, %v", p, err)
	}
	// Two readings a minute apart tell nothing of three.
	p, err = service.PullDownOf([]float64{0, 60}, []float64{283, 283})
	if err != nil || p.Settled {
		t.Errorf("too soon: %+v, %v", p, err)
	}
	_, err = service.PullDownOf([]float64{0, 0}, []float64{283, 283})
	outOfRange(t, err, "time of a reading")
}
