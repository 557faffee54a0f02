package practice_test

import (
	"math"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/practice"
)

// state solves the rig.
func state(t *testing.T, g *practice.Rig, s practice.Settings) *practice.State {
	t.Helper()
	r, err := g.Solve(s)
	if err != nil {
		t.Fatal(err)
	}
	fl, err := g.Fluid(s)
	if err != nil {
		t.Fatal(err)
	}
	return &practice.State{Set: s, Is: r, Fluid: fl}
}

// What the trade's books say of one dial at a time, common practice: each reason is the
// one a teacher would give, and turning back gives the same reason the other way.
func TestReasonsOfOneDial(t *testing.T) {
	var g practice.Rig
	for _, c := range []struct {
		dial practice.Dial
		to   float64
		sign practice.Sign
		way  int
		why  practice.Reason
	}{
		{practice.Outside, 313, practice.HighSide, 1, practice.ByOutside},
		{practice.CondAir, 0.4, practice.HighSide, 1, practice.BySurface},
		{practice.Air, 50e3, practice.HighSide, 1, practice.ByGas},
		{practice.Charge, 0.3, practice.LowSide, -1, practice.ByGiving},
		{practice.Restriction, 0.5, practice.LowSide, -1, practice.ByGiving},
		{practice.Wear, 0.9, practice.LowSide, 1, practice.ByPull},
		{practice.Humidity, 0.95, practice.HighSide, 1, practice.ByHeat},
		{practice.Wear, 0.9, practice.VentAir, 1, practice.ByCold},
		{practice.Restriction, 0.5, practice.VentAir, 1, practice.ByTaking},
		{practice.CondAir, 0.4, practice.Discharge, 1, practice.BySqueeze},
		{practice.Charge, 0.5, practice.Superheated, 1, practice.ByLiquid},
	} {
		base := practice.NewSettings()
		a := state(t, &g, base)
		b := state(t, &g, base.With(c.dial, c.to))
		there, back := practice.Compare(a, b), practice.Compare(b, a)
		for i, x := range there {
			if x.Sign != c.sign {
				continue
			}
			if x.Way != c.way || x.Why != c.why {
				t.Errorf("%s to %g: %s moves %+d by %q (%g to %g), want %+d by %q", c.dial, c.to, c.sign, x.Way, x.Why, x.From, x.To, c.way, c.why)
			}
			if y := back[i]; y.Way != -c.way || y.Why != c.why || y.From != x.To {
				t.Errorf("%s back from %g: %s moves %+d by %q", c.dial, c.to, c.sign, y.Way, y.Why)
			}
		}
		if d := practice.Turned(base, b.Set); len(d) != 1 || d[0] != c.dial {
			t.Errorf("%s was turned, said is %v", c.dial, d)
		}
	}
}

// Over every pair of dials at their ends and kinds of car: numbers are numbers, nothing
// moves against its own numbers, a state beside itself moves nothing, and a reason that
// rests on numbers has them the right way round.
func TestCompareAnyStates(t *testing.T) {
	var g practice.Rig
	reasons, none := map[practice.Reason]int{}, 0
	for _, metering := range []car.Metering{car.ExpansionValve, car.OrificeTube} {
		for _, compressor := range []car.Compressor{car.Fixed, car.Variable} {
			base := practice.NewSettings()
			base.Metering, base.Compressor = metering, compressor
			a := state(t, &g, base)
			for _, c := range practice.Compare(a, a) {
				if c.Way != 0 || c.Why != practice.NoReason {
					t.Errorf("beside itself: %+v", c)
				}
			}
			for i, d := range practice.Dials {
				for _, v := range []float64{d.Min, d.Max} {
					other := practice.Dials[(i+3)%len(practice.Dials)]
					s := base.With(d.Dial, v).With(other.Dial, (other.Min+other.Rest)/2)
					r, err := g.Solve(s)
					if err != nil {
						continue // such a setting says so on the page
					}
					b := &practice.State{Set: s, Is: r, Fluid: a.Fluid}
					for _, c := range practice.Compare(a, b) {
						if bad := c.From + c.To + c.Was + c.Is; math.IsNaN(bad) || math.IsInf(bad, 0) {
							t.Errorf("%s at %g: %+v", d.Dial, v, c)
						}
						if float64(c.Way)*(c.To-c.From) < 0 {
							t.Errorf("%s at %g moves against its numbers: %+v", d.Dial, v, c)
						}
						switch {
						case c.Way == 0:
							continue
						case c.Why == practice.NoReason:
							none++
						default:
							reasons[c.Why]++
						}
						up := float64(c.Way) * (c.Is - c.Was)
						switch c.Why {
						case practice.ByGiving, practice.ByHeat, practice.BySurface, practice.ByOutside, practice.ByCold, practice.BySqueeze, practice.ByGasIn:
							if up <= 0 {
								t.Errorf("%s at %g: the reason goes the other way: %+v", d.Dial, v, c)
							}
						case practice.ByPull, practice.ByTaking:
							if up >= 0 {
								t.Errorf("%s at %g: the reason goes the other way: %+v", d.Dial, v, c)
							}
						}
					}
				}
			}
		}
	}
	sum := none
	for _, n := range reasons {
		sum += n
	}
	t.Logf("%v, none %d of %d", reasons, none, sum)
	if 10*none > sum {
		t.Errorf("%d of %d movements have no reason", none, sum)
	}
}
