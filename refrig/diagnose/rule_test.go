package diagnose

import (
	"math"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/internal/nets"
	"twoneedles/refrig/reftest"
	"twoneedles/refrig/sim"
	"twoneedles/refrig/unit"
)

// What a network gives back is what it was given: out is the inverse of in, for
// every quantity over the whole range of its instrument, every refrigerant, at sea
// level and high up. Between the two lie a table of saturation and its inverse, alike
// within 1e-5 (tested in package fast); the last thousandth of the range is judged by
// a thousandth of it.
func TestOutIsTheInverseOfIn(t *testing.T) {
	for _, fluid := range []string{car.R134a, car.R1234yf, car.R12} {
		for _, altitude := range []float64{0, 2500} {
			c := car.Case{Car: car.Spec{Refrigerant: fluid}}
			c.Weather.Ambient, c.Weather.Altitude = 303.15, altitude
			sc, err := nets.NewScaler(&c)
			if err != nil {
				t.Fatal(err)
			}
			for _, q := range quantities {
				if q.Info().Kind == unit.Choice {
					continue
				}
				lo, hi, _ := q.Limits(sc.Atm)
				if q.Info().Scale.Logarithm {
					lo = math.Max(lo, 1) // a second is the shortest time that is told apart
				}
				for i := range 201 {
					v := lo + (hi-lo)*math.Pow(float64(i)/200, 3) // close together in the vacuum, where the table ends
					reftest.Close(t, fluid+" "+string(q), sc.Out(q, sc.In(q, v)), v, 1e-5*(hi-lo), "the table of saturation and its inverse")
				}
			}
		}
	}
}

// A saturation temperature rises with pressure, through both ends of the table and
// into a vacuum, so that a deeper needle never reads as a higher one.
func TestScaledPressureRises(t *testing.T) {
	c := car.Case{Car: car.Spec{Refrigerant: car.R134a}}
	c.Weather.Ambient = 303.15
	sc, err := nets.NewScaler(&c)
	if err != nil {
		t.Fatal(err)
	}
	lo, hi, _ := car.High.Limits(sc.Atm)
	last := math.Inf(-1)
	for i := range 1001 {
		x := sc.In(car.High, lo+(hi-lo)*float64(i)/1000)
		if !(x > last) {
			t.Fatalf("falls at step %d", i)
		}
		last = x
	}
}

// Three points of Gauss–Hermite quadrature give the moments of a standard normal
// variable exactly up to the fifth: 1, 0, 1, 0, 3, 0 (definition).
func TestQuadratureIsExactToTheFifthPower(t *testing.T) {
	for k, want := range []float64{1, 0, 1, 0, 3, 0} {
		got := 0.0
		for i, z := range nodes {
			got += weights[i] * math.Pow(z, float64(k))
		}
		reftest.Close(t, "moment", got, want, 1e-12, "rounding")
	}
}

// Entropy is in bit: n things alike have log₂ n, one that is sure has none.
func TestEntropyIsInBit(t *testing.T) {
	for n := 1; n <= 16; n *= 2 {
		p := make([]float64, n)
		for i := range p {
			p[i] = 1 / float64(n)
		}
		reftest.Close(t, "entropy", entropy(p), math.Log2(float64(n)), 1e-12, "rounding")
	}
}

// The expected gain by three points against forty, on the same forecast. A fifth:
// what a plan may be off without changing its order (judgement).
func TestThreePointsAreEnough(t *testing.T) {
	m := model(t)
	w := sim.World{}
	samples, _ := w.DrawMany(40, 31)
	var coarse, fine float64
	for i := range samples {
		c := samples[i].Case
		c.Readings = car.Readings{car.Low: c.Readings[car.Low], car.High: c.Readings[car.High]}
		a, err := m.Ask(c)
		if err != nil {
			t.Fatal(err)
		}
		live, means, sds := a.forecast()
		for _, k := range a.gains(live, means, sds) {
			coarse += k.Gain
			fine += a.fineGain(k.Quantity, live, means, sds)
		}
	}
	reftest.CloseRel(t, "expected gain", coarse, fine, 0.2, "what changes no order")
}

// fineGain is H(p) − Σ_c p_c ∫ φ(z) H(p | y = μ_c + z σ_c) dz by rectangles.
func (a *Inference) fineGain(q car.Quantity, live []int, means, sds [][]float64) float64 {
	total, after := 0.0, 0.0
	for _, c := range live {
		total += a.p[c]
	}
	k := q.Place()
	for i, c := range live {
		sum, weight := 0.0, 0.0
		for n := range 41 {
			z := -4 + 8*float64(n)/40
			w := math.Exp(-z * z / 2)
			sum += w * entropy(a.given(q, means[i][k]+z*sds[i][k], i, means))
			weight += w
		}
		after += a.p[c] / total * sum / weight
	}
	h := 0.0
	for _, p := range a.p {
		if p > 0 {
			h -= p * math.Log2(p)
		}
	}
	return h - after
}

// Effort grows with the minutes, and no measurement is free. The four minutes that a
// tool and a second look cost are judgement: a regression.
func TestEffort(t *testing.T) {
	last := 0.0
	for _, minutes := range []float64{0, 1, 2, 20, 40} {
		e := Next{Minutes: minutes}.effort()
		if e <= last {
			t.Errorf("%g minutes cost %g", minutes, e)
		}
		last = e
		reftest.Close(t, "effort", e, minutes+4, 1e-12, "regression")
	}
}

// What may be claimed: one condition is named from 80 % on (README, report), leads
// from one half on, and readings that spoil themselves are doubted from one half on.
func TestVerdict(t *testing.T) {
	for _, k := range []struct {
		ranking []Ranked
		want    Verdict
	}{
		{[]Ranked{{car.Undercharge, 0.81}, {car.Healthy, 0.19}}, Named},
		{[]Ranked{{car.Undercharge, 0.79}, {car.Healthy, 0.21}}, Leaning},
		{[]Ranked{{car.Undercharge, 0.51}, {car.Healthy, 0.49}}, Leaning},
		{[]Ranked{{car.Undercharge, 0.49}, {car.Healthy, 0.48}, {car.Air, 0.03}}, CannotTell},
		{[]Ranked{{car.Gauge, 0.55}, {car.Healthy, 0.45}}, Doubtful},
		{[]Ranked{{car.NoneOfThese, 0.55}, {car.Healthy, 0.45}}, Doubtful},
		{[]Ranked{{car.Healthy, 0.45}, {car.Gauge, 0.3}, {car.NoneOfThese, 0.25}}, Doubtful},
		{[]Ranked{{car.Healthy, 0.55}, {car.Gauge, 0.25}, {car.NoneOfThese, 0.2}}, Leaning},
	} {
		if got := verdict(&Report{Ranking: k.ranking}); got != k.want {
			t.Errorf("%v: %s, want %s", k.ranking, got, k.want)
		}
	}
}

// Two faults are named together only if the second is nearly as likely as not to be
// there. Where between 0.3 and 0.5 the line is drawn is judgement: a regression.
func TestPairIsNamedOnlyOnData(t *testing.T) {
	pair := make([]float64, len(nets.Pairables))
	for i := range pair {
		pair[i] = 0.05
	}
	pair[2], pair[4] = 0.9, 0.3
	if a, b := likeliest(pair); a != "" || b != "" {
		t.Errorf("named %s and %s with the second at 0.3", a, b)
	}
	pair[4] = 0.5
	if a, b := likeliest(pair); a != nets.Pairables[2] || b != nets.Pairables[4] {
		t.Errorf("named %s and %s", a, b)
	}
}

// A condition is a member of a pattern if it makes a car show it, and not if it does so
// no oftener than chance makes a healthy one. Counted on simulated cars: those that
// clearly do (twice as often as healthy ones, and one car in ten) are members, those
// that hardly ever do are not.
func TestMembersStandOutFromHealthyCars(t *testing.T) {
	m := model(t)
	r := fleet.NewRand(41)
	const n = 150
	count := map[Group]map[car.ConditionID]float64{}
	tried := []car.ConditionID{car.Healthy, car.Undercharge, car.CondenserAirflow, car.EvaporatorAirflow, car.Restriction,
		car.ValveClosed, car.ValveOpen, car.WeakCompressor, car.SuctionBlocked, car.Moisture, car.SwitchRange, car.Air, car.Overcharge}
	for _, id := range tried {
		for range n {
			w := sim.World{}
			s, err := w.DrawOf(r, id, fleet.Complete(r, car.Spec{}), 1)
			if err != nil {
				continue
			}
			k, err := m.about(s.Case)
			if err != nil {
				t.Fatal(err)
			}
			low, high := k.bands()
			g := group(s.Case.Readings, low, high)
			if count[g] == nil {
				count[g] = map[car.ConditionID]float64{}
			}
			count[g][id] += 1. / n
		}
	}
	for _, g := range []Group{GroupBothLow, GroupBothHigh, GroupLowOnly, GroupHighOnly, GroupLowHighHighLow} {
		member := map[car.ConditionID]bool{}
		for _, id := range m.Members(g, car.Spec{}) {
			member[id] = true
		}
		healthy := count[g][car.Healthy]
		for _, id := range tried[1:] {
			switch share := count[g][id]; {
			case share > 0.1 && share > 2.2*healthy+0.03 && !member[id]:
				t.Errorf("%s: %.0f %% of cars with %s show it, %.0f %% of healthy ones; no member", g, 100*share, id, 100*healthy)
			case share < healthy && share < 0.02 && member[id]:
				t.Errorf("%s: %.0f %% of cars with %s show it, fewer than healthy ones; a member", g, 100*share, id)
			}
		}
	}
}
