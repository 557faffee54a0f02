package service

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// Clutch is how a compressor's clutch cycled.
type Clutch struct {
	Cycles  int      // whole ones, from one engagement to the next
	Rate    Estimate // cycles/min, 95 %
	On, Off float64  // mean time engaged and not, s
	Share   float64  // of the time that it was engaged, 0…1
}

// tapError is how far a tap is from the click that a hand answers, s (judgement: half
// of what people's reactions to a sound take).
const tapError = 0.15

// mostTaps bounds a log; twenty cycles are plenty.
const mostTaps = 200

// LeastBetweenTaps is the least time between two clicks, s: no clutch and no thumb is
// faster (judgement). What comes sooner is one tap that bounced.
const LeastBetweenTaps = 0.05

// ClutchOf turns the times of clicks, s, into a rate. They are by turns in and out, the
// first is in; two engagements are the least. The limits hold the error of the taps and
// the scatter from cycle to cycle.
//
// A [*refrig.RangeError] names fewer than 3 or more than 200 clicks, or times that do
// not increase.
func ClutchOf(clicks []float64) (Clutch, error) {
	if err := check("number of clicks", float64(len(clicks)), 3, mostTaps, "", "judgement"); err != nil {
		return Clutch{}, err
	}
	for i, t := range clicks {
		least := 0.0
		if i > 0 {
			least = clicks[i-1] + LeastBetweenTaps
		}
		if err := check("time of a click", t, least, 86400, "s", "judgement"); err != nil {
			return Clutch{}, err
		}
	}
	var periods, on, off []float64
	for i := 2; i < len(clicks); i += 2 {
		periods = append(periods, clicks[i]-clicks[i-2])
		on = append(on, clicks[i-1]-clicks[i-2])
		off = append(off, clicks[i]-clicks[i-1])
	}
	n := float64(len(periods))
	mean := stat.Mean(periods, nil)
	doubt := math.Sqrt2 * tapError / n // first and last tap; those between cancel
	if n > 1 {
		doubt = math.Hypot(doubt, stat.StdDev(periods, nil)/math.Sqrt(n))
	}
	c := Clutch{Cycles: len(periods), On: stat.Mean(on, nil), Off: stat.Mean(off, nil)}
	c.Share = c.On / mean
	c.Rate = Estimate{Value: 60 / mean, Lo: 60 / (mean + 2*doubt), Hi: 60 / max(mean-2*doubt, mean/2)}
	return c, nil
}

// PullDown is how the air from the vent came down after the start.
type PullDown struct {
	From, To float64 // K, first and last
	Minutes  float64 // between them
	// Settled says that the last readings differ by less than they can be read to: only
	// then is a reading one of the running system and not of one on its way.
	Settled bool
}

// Settled is what counts as settled: half a kelvin over three minutes (judgement: a
// thermometer's step, and the time in which a car on its way cools by more than that).
const (
	settledWithin = 0.5   // K
	settledOver   = 180.0 // s
)

// PullDownOf looks at vent temperatures, K, over the time since the start, s. A
// [*refrig.RangeError] names fewer than 2 readings, times that do not increase or
// temperatures outside −20…60 °C.
func PullDownOf(t, vent []float64) (PullDown, error) {
	if err := check("number of vent readings", float64(min(len(t), len(vent))), 2, mostTaps, "", "judgement"); err != nil {
		return PullDown{}, err
	}
	for i := range t {
		least := 0.0
		if i > 0 {
			least = t[i-1] + 1
		}
		if err := first(check("time of a reading", t[i], least, 86400, "s", "judgement"),
			check("vent temperature", vent[i], 253.15, 333.15, "K", "judgement")); err != nil {
			return PullDown{}, err
		}
	}
	last := len(t) - 1
	p := PullDown{From: vent[0], To: vent[last], Minutes: (t[last] - t[0]) / 60}
	lo, hi := vent[last], vent[last]
	for i := last; i >= 0; i-- {
		lo, hi = min(lo, vent[i]), max(hi, vent[i])
		if t[last]-t[i] >= settledOver {
			p.Settled = hi-lo <= settledWithin
			break
		}
	}
	return p, nil
}
