package service

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"twoneedles/refrig"
	"twoneedles/refrig/air"
)

// HoldPoint is one reading of the vacuum after the pump was shut off.
type HoldPoint struct {
	Time     float64         // s
	Pressure refrig.Pressure // absolute
}

// HoldInput is a hold test.
type HoldInput struct {
	Points []HoldPoint // in order of time
	// Sigma is the standard error of one reading against the others, Pa: how finely
	// the gauge can be read, not how true it is. [SigmaNeedle] and [SigmaElectronic].
	Sigma float64
	// Finest is how little Sigma may prove to be, Pa, once the readings lie close to a
	// curve; 0 is Sigma. [FinestElectronic].
	Finest float64
	// Step is what the readings are multiples of, Pa: 100 microns where hundreds were
	// noted; 0 where they are as fine as the gauge. Rounding adds to Sigma.
	Step        float64
	Ambient     refrig.Temperature // of the car
	Altitude    float64            // m
	Volume      Estimate           // m³, see [Volume]
	Refrigerant string             // to express the leak in; "" leaves that out
	Evaporators int                // 1 or 2, for the limit beside the leak
}

const (
	// SigmaNeedle is a quarter of a division of 1 inHg, Pa (judgement: how well an eye
	// reads a needle at rest).
	SigmaNeedle = inHg / 4
	// SigmaElectronic is 20 microns, Pa (judgement: steps and drift of an electronic
	// vacuum gauge over a test).
	SigmaElectronic = 20 * micron
	// FinestElectronic is a quarter of that: readings within a few microns of a line
	// were not read to twenty (judgement). An eye that finds a needle on a line has
	// only read the same division again.
	FinestElectronic = SigmaElectronic / 4
)

// HoldVerdict is what a hold test says.
type HoldVerdict string

// The verdicts.
const (
	HoldTight      HoldVerdict = "tight" // within what this gauge and this time can show
	HoldLeak       HoldVerdict = "leak"
	HoldMoisture   HoldVerdict = "moisture"
	HoldBoth       HoldVerdict = "leak_and_moisture"
	HoldCannotTell HoldVerdict = "cannot_tell"
)

// HoldReport is what the points say.
type HoldReport struct {
	Verdict HoldVerdict
	// Reason says why it cannot be told: "too_few_points", "faint_rise" (something may
	// rise), "too_short" (a leak and slow moisture look alike so far), "nothing_fits"
	// (the readings jump about), "falling"; "" otherwise.
	Reason string
	// Until is how long after the pump was shut off the test would be decided if it went
	// on as it does, s; 0 where it is decided, or no test of an hour would be.
	Until float64
	// Climb is the steady part of the rise, Pa/s, 95 %, with room for moisture that the
	// readings may hide. Without a shown leak its value
	// and lower limit are 0 and its upper limit takes the whole rise for a leak.
	Climb Estimate
	// Plateau is where moisture levels off, Pa, 95 %; nil unless Verdict is moisture.
	Plateau *Estimate
	// Water is the saturation pressure of water at the ambient temperature, Pa: the
	// highest a plateau of water can be, above what the pump left.
	Water    float64
	Criteria []CriterionCheck
	// Leak is Climb in other words; nil if the volume is not known.
	Leak     *LeakRate
	Warnings []refrig.Warning

	data  series
	fits  []fit // the explanation chosen, over its time constants
	sum   []fit // climb and plateau together, where there are readings enough
	start float64
}

// Curve returns the fitted pressure at the time t of the points, Pa, with the limits
// that hold the true curve 95 times in 100. Where nothing was decided it is the
// explanation that fits best.
func (r *HoldReport) Curve(t float64) Estimate {
	t -= r.start
	return profile(r.fits, r.data.sigma,
		func(f fit) float64 { return f.at(t) },
		func(f fit) float64 { return r.data.pressureVariance(f, t) })
}

// The evidence asked for, as twice the logarithm of a ratio of probabilities:
// "positive" from 2, "strong" from 6 [KassRaftery1995].
const (
	positive = 2.0
	strong   = 6.0
	// sure is how probable an explanation must be among those of a rise; twenty to one,
	// which is "strong" too.
	sure = 0.95
)

// leastPoints is the fewest readings that can tell a curve from a line: one more
// than the moisture curve has parameters.
const leastPoints = 4

// Hold explains the points of a hold test by a level line, a straight climb, a rise to
// a plateau, or climb and plateau together, and asks how probable the points are under
// each, averaged over its climb, plateau, time constant and error of a reading (see
// [series.weigh]). Nothing rises unless the three that rise are together more probable
// by the factor that counts as positive evidence, and strong evidence is asked for to
// say so; given a rise, a leak, moisture or both is named at 95 in 100. A moisture
// curve may end no higher than the saturation pressure of water at the ambient
// temperature (2 K for the thermometer) above the first pressure: whatever climbs past
// it is a leak, on two readings already. Past half the atmosphere, where air no longer
// enters at the speed of sound, the readings count no more: the first that is there ends
// a leak, whose climb is then the least it can be. If even the best curve scatters more than Sigma explains, Sigma is
// raised to the scatter; if that is more than a tenth of the whole rise, nothing fits.
//
// A [*refrig.RangeError] names fewer than 2 or more than 500 points, a time that does
// not increase, a test longer than 24 h, a first pressure above half the atmosphere, a
// pressure outside 0…120 kPa, Sigma outside 0.01 Pa…10 kPa, an
// ambient outside −20…55 °C, a volume outside 0…100 l, an altitude without a road.
func Hold(in HoldInput) (HoldReport, error) {
	if err := checkHold(in); err != nil {
		return HoldReport{}, err
	}
	T := float64(in.Ambient)
	r := HoldReport{Water: air.PSatWater(T), start: in.Points[0].Time}
	s := series{sigma: math.Hypot(in.Sigma, in.Step/math.Sqrt(12)), finest: in.Finest}
	if s.finest == 0 {
		s.finest = in.Sigma
	}
	for _, p := range in.Points {
		s.t = append(s.t, p.Time-r.start)
		s.p = append(s.p, float64(p.Pressure))
	}
	atm := float64(air.AtmosphericPressure(in.Altitude))
	r.Criteria = checkCriteria(s, atm)
	lost := slices.IndexFunc(s.p, func(p float64) bool { return p > atm/2 })
	if lost > 0 {
		s.t, s.p = s.t[:lost+1], s.p[:lost+1]
	}
	ceiling := s.p[0] + 2*s.sigma + air.PSatWater(T+2)
	r.decide(s, ceiling)
	if line := s.leak(); line.ok && (lost > 0 || len(s.t) < leastPoints && s.p[len(s.p)-1] > ceiling) {
		r = HoldReport{Verdict: HoldLeak, Water: r.Water, Criteria: r.Criteria, start: r.start, data: s, fits: []fit{line}}
	}
	r.measure()
	if until := r.until(ceiling); until > 0 {
		r.Until = r.start + until
	}
	if in.Volume.Value > 0 {
		leak, err := leakRate(r.Climb, in, T)
		if err != nil {
			return HoldReport{}, err
		}
		r.Leak = &leak
		if r.Verdict == HoldTight && leak.Refrigerant != nil && leak.Refrigerant.Hi > leak.Limit.Hi {
			r.Warnings = append(r.Warnings, warn("tight_does_not_show_limit", "limit", leak.Limit.Hi))
		}
	}
	return r, nil
}

func checkHold(in HoldInput) error {
	if err := first(
		air.CheckAltitude(in.Altitude),
		check("number of hold readings", float64(len(in.Points)), 2, 500, "", "judgement"),
		check("reading error", in.Sigma, 0.01, 10e3, "Pa", "judgement"),
		check("finest reading error", in.Finest, 0, in.Sigma, "Pa", "judgement"),
		check("reading step", in.Step, 0, 10e3, "Pa", "judgement"),
		check("ambient temperature", float64(in.Ambient), 253.15, 328.15, "K", "judgement"),
		check("system volume", in.Volume.Value, 0, largestVolume, "m³", "judgement"),
		check("system volume", in.Volume.Lo, 0, in.Volume.Value, "m³", "judgement"),
		check("system volume", in.Volume.Hi, in.Volume.Value, 1.5*largestVolume, "m³", "judgement"),
	); err != nil {
		return err
	}
	start := in.Points[0].Time
	if err := check("vacuum", float64(in.Points[0].Pressure), 0, float64(air.AtmosphericPressure(in.Altitude))/2, "Pa", "judgement"); err != nil {
		return err
	}
	if err := check("time of the first reading", start, 0, 86400, "s", "judgement"); err != nil {
		return err
	}
	for i, p := range in.Points {
		if err := check("vacuum", float64(p.Pressure), 0, 120e3, "Pa", "judgement"); err != nil {
			return err
		}
		if i == 0 {
			continue
		}
		// A second is as near as two readings can be taken by hand.
		if err := check("time of a reading", p.Time, in.Points[i-1].Time+1, start+86400, "s", "judgement"); err != nil {
			return err
		}
	}
	return nil
}

// decide chooses the explanation; ceiling is the highest plateau of water, Pa.
func (r *HoldReport) decide(s series, ceiling float64) {
	r.data = s
	tight := []fit{s.tight()}
	line := []fit{s.leak()}
	n := float64(len(s.t))
	if len(s.t) < leastPoints {
		r.Verdict, r.Reason, r.fits = HoldCannotTell, "too_few_points", tight
		if line[0].ok {
			r.fits = line
		}
		return
	}
	if s.falls() {
		r.Verdict, r.Reason, r.fits = HoldCannotTell, "falling", tight
		return
	}
	curve := s.overTau(func(tau float64) fit { return s.moisture(tau, ceiling) })
	sum := s.overTau(func(tau float64) fit { return s.both(tau, ceiling) })
	r.sum = sum
	all := [][]fit{tight, line, curve, sum}
	best := tight
	for _, fits := range all {
		if bestOf(fits).chi2 < bestOf(best).chi2 {
			best = fits
		}
	}
	if f := bestOf(best); improbable(f.chi2, n-f.params()) {
		scale := f.chi2 / (n - f.params())
		r.data.sigma *= math.Sqrt(scale)
		for _, fits := range all {
			for i := range fits {
				fits[i].chi2 /= scale
			}
		}
		r.Warnings = append(r.Warnings, warn("scatter_beyond_gauge", "sigma", r.data.sigma))
		if r.data.sigma > 0.1*(slices.Max(s.p)-slices.Min(s.p)) {
			r.Verdict, r.Reason, r.fits = HoldCannotTell, "nothing_fits", best
			return
		}
	}
	w := r.data.weigh(append(curve, sum...), ceiling-s.p[0])
	r.fits = best
	r.Verdict = HoldCannotTell
	rising := floats.LogSumExp([]float64{w.leak, w.moisture, w.both})
	leak, moist, both := math.Exp(w.leak-rising), math.Exp(w.moisture-rising), math.Exp(w.both-rising)
	switch {
	case rising < w.tight+positive/2:
		r.Verdict, r.fits = HoldTight, tight
	case rising < w.tight+strong/2:
		r.Reason = "faint_rise"
	case both >= sure:
		r.Verdict, r.fits = HoldBoth, sum
	case leak+both >= sure:
		r.Verdict, r.fits = HoldLeak, line
	case moist+both >= sure:
		r.Verdict, r.fits = HoldMoisture, curve
	default:
		r.Reason = "too_short"
	}
}

// longest is the longest test that is advised, s (judgement: a shop waits no longer).
const longest = 60 * minute

// until returns how long the test would have to go on to be decided, counted from its
// first reading, s; 0 for never or for one that is decided. It takes the readings on
// as the straight line and as the curve that fit best, at the pace of those made,
// and looks when both would be known for what they are.
func (r *HoldReport) until(ceiling float64) float64 {
	if r.Verdict != HoldCannotTell || r.Reason == "falling" || r.Reason == "nothing_fits" {
		return 0
	}
	s := r.data
	now := s.t[len(s.t)-1]
	pace := max(now/float64(len(s.t)-1), minute)
	truths := []fit{s.leak(), bestOf(s.overTau(func(tau float64) fit { return s.moisture(tau, ceiling) }))}
	if r.Reason == "faint_rise" {
		truths = []fit{s.tight(), s.leak()}
	}
	for _, longer := range []float64{1.25, 1.5, 2, 3, 4, 6, 10} {
		end := now * longer
		if end > longest {
			return 0
		}
		known := true
		for _, f := range truths {
			known = known && (!f.ok || s.wouldDecide(f, end, pace, ceiling))
		}
		if known {
			return end
		}
	}
	return 0
}

// wouldDecide tells if readings up to end, as f has them, would be decided.
func (s series) wouldDecide(f fit, end, pace, ceiling float64) bool {
	longer := series{sigma: s.sigma, finest: s.finest, t: slices.Clone(s.t), p: slices.Clone(s.p)}
	for last := s.t[len(s.t)-1]; last < end || len(longer.t) < leastPoints; {
		last += pace
		longer.t, longer.p = append(longer.t, last), append(longer.p, f.at(last))
	}
	var r HoldReport
	r.decide(longer, ceiling)
	return r.Verdict != HoldCannotTell
}

// measure fills in Climb and Plateau for the verdict.
func (r *HoldReport) measure() {
	s := r.data
	switch r.Verdict {
	case HoldLeak, HoldBoth:
		climb := func(f fit) float64 { return f.r }
		r.Climb = profile(r.fits, s.sigma, climb, s.slopeVariance)
		if bestOf(r.sum).ok {
			// A little moisture that the readings do not show may hide in a leak's climb. It
			// only adds: no leak is faster than the straight line.
			r.Climb.Lo = min(r.Climb.Lo, profile(r.sum, s.sigma, climb, s.slopeVariance).Lo)
		}
		r.Climb.Lo = max(0, r.Climb.Lo)
	default:
		// Whatever rose, taken for a leak, with the error of a straight line.
		half := math.Sqrt(reach95*s.slopeVariance(fit{climbs: true})) * s.sigma
		r.Climb = Estimate{Hi: max(0, slope(s)) + half}
	}
	if r.Verdict == HoldMoisture {
		forever := math.Inf(1)
		p := profile(r.fits, s.sigma,
			func(f fit) float64 { return f.a + f.b },
			func(f fit) float64 { return s.pressureVariance(f, forever) })
		r.Plateau = &p
		// Less than half of water's own pressure: little water, or refrigerant leaving
		// the oil (judgement).
		if p.Hi-s.p[0] < r.Water/2 {
			r.Warnings = append(r.Warnings, warn("plateau_below_water", "water", r.Water))
		}
	}
}
