package diagnose

import (
	"math"
	"slices"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/sim"
)

// What a technician reads beside the ranking, held to what it says by other ways: the
// ranking without a reading, physics, counting.

// readCars are simulated cars read with everything, for tests of identities.
func readCars(t *testing.T, n int, seed uint64) []car.Case {
	t.Helper()
	w := sim.World{Flatten: 1}
	samples, _ := w.DrawMany(n, seed)
	out := make([]car.Case, len(samples))
	for i := range samples {
		out[i] = samples[i].Case
	}
	return out
}

// with is c with only the readings named, but q.
func with(c car.Case, but car.Quantity, keep ...car.Quantity) car.Case {
	k := car.Readings{}
	for q, r := range c.Readings {
		if q != but && (len(keep) == 0 || slices.Contains(keep, q)) {
			k[q] = r
		}
	}
	c.Readings = k
	return c
}

func probabilities(t *testing.T, m *Model, c car.Case) map[car.ConditionID]float64 {
	t.Helper()
	r, err := m.Rank(c)
	if err != nil {
		t.Fatal(err)
	}
	p := map[car.ConditionID]float64{}
	for _, x := range r.Ranking {
		p[x.ID] = x.Probability
	}
	return p
}

// Each piece of evidence says what hiding its reading does: the odds of the leader
// against healthy and against the runner-up, and which condition the reading raised
// most. The other way round is the ranking of the case without the reading. 2e-3 of
// a natural log unit: single precision, and probabilities held above 1e-6.
func TestEvidenceIsTheRankingWithoutTheReading(t *testing.T) {
	m := model(t)
	checked, places := 0, [3]int{}
	for _, c := range readCars(t, 120, 31) {
		c = with(c, "", car.Low, car.High, car.Vent, car.LiquidLine, car.Resting, car.DischargeLine)
		r, err := m.Answer(c)
		if err != nil {
			t.Fatal(err)
		}
		now := probabilities(t, m, c)
		lead, second := r.Ranking[0].ID, r.Ranking[1].ID
		logit := func(p map[car.ConditionID]float64, a, b car.ConditionID) float64 {
			return math.Log(math.Max(p[a], 1e-6) / math.Max(p[b], 1e-6))
		}
		for _, e := range r.Evidence {
			before := probabilities(t, m, with(c, e.Quantity))
			if want := logit(now, lead, car.Healthy) - logit(before, lead, car.Healthy); math.Abs(e.AgainstHealthy-want) > 2e-3 {
				t.Errorf("%s: %s against healthy %.3f, hiding it says %.3f", e.Quantity, lead, e.AgainstHealthy, want)
			}
			if want := logit(now, lead, second) - logit(before, lead, second); math.Abs(e.AgainstNext-want) > 2e-3 {
				t.Errorf("%s: %s against %s %.3f, hiding it says %.3f", e.Quantity, lead, second, e.AgainstNext, want)
			}
			gain := func(id car.ConditionID) float64 {
				return math.Log(math.Max(now[id], 1e-6) / math.Max(before[id], 1e-6))
			}
			for id := range now {
				if (now[id] >= 0.03 || before[id] >= 0.03) && gain(id) > gain(e.Favours)+2e-3 {
					t.Errorf("%s favours %s by %.3f, but %s by %.3f", e.Quantity, e.Favours, gain(e.Favours), id, gain(id))
				}
			}
			if e.HasExpected {
				lo, hi := e.Reading.Value, e.Reading.Value
				if e.Reading.Swing {
					lo, hi = e.Reading.Lo, e.Reading.Hi
				}
				want := 0
				if hi < e.Expected.Lo {
					want = -1
				} else if lo > e.Expected.Hi {
					want = 1
				}
				places[want+1]++
				if e.Place != want || !(e.Expected.Lo <= e.Median && e.Median <= e.Expected.Hi) {
					t.Errorf("%s reads %g…%g, healthy %g…%g…%g: place %d", e.Quantity, lo, hi, e.Expected.Lo, e.Median, e.Expected.Hi, e.Place)
				}
			}
			checked++
		}
		// The reading that speaks most for the leader lowers it when it is left out.
		best := slices.MaxFunc(r.Evidence, func(a, b Evidence) int {
			return int(math.Copysign(1, a.AgainstNext-b.AgainstNext))
		})
		if best.AgainstNext > 0.5 {
			if p := probabilities(t, m, with(c, best.Quantity)); logit(p, lead, second) >= logit(now, lead, second) {
				t.Errorf("without %s, which speaks for %s, it is no less likely", best.Quantity, lead)
			}
		}
	}
	if checked < 400 || places[0] < 20 || places[1] < 20 || places[2] < 20 {
		t.Errorf("%d pieces of evidence, places %v: too few of some kind to mean anything", checked, places)
	}
}

// Physics says which way each fault moves the needles of a car (cycle.Solve of the
// median car, half-way severe); readings moved that way raise the fault's odds
// against healthy.
func TestReadingsMovedTowardsAFaultRaiseIt(t *testing.T) {
	m := model(t)
	c := warmDay(0, 0)
	c.Car.Metering = car.ExpansionValve
	plant, err := fleet.Typical(c.Car)
	if err != nil {
		t.Fatal(err)
	}
	sc, err := newScaler(&c)
	if err != nil {
		t.Fatal(err)
	}
	k := conditionsOf(&c, sc)
	sound, err := cycle.Solve(plant, cycle.Sound(), k)
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, id := range []car.ConditionID{car.Undercharge, car.CondenserAirflow, car.EvaporatorAirflow, car.Restriction, car.WeakCompressor, car.Slipping, car.Air, car.SuctionBlocked} {
		f, _ := sim.Effect(id, plant, 0.6, fleet.NewRand(7))
		faulty, err := cycle.Solve(plant, f, k)
		if err != nil {
			t.Fatalf("%s: %v", id, err)
		}
		last := math.Inf(-1)
		for _, share := range []float64{0, 0.35, 0.7, 1} {
			c.Readings = car.Readings{
				car.Low:  {Value: sound.Low + share*(faulty.Low-sound.Low)},
				car.High: {Value: sound.High + share*(faulty.High-sound.High)},
				car.Vent: {Value: sound.Vent + share*(faulty.Vent-sound.Vent)},
			}
			p := probabilities(t, m, c)
			odds := math.Log(math.Max(p[id], 1e-6) / math.Max(p[car.Healthy], 1e-6))
			if odds < last-0.1 {
				t.Errorf("%s at %.0f %% of the way from sound to faulty: ln odds fall from %.2f to %.2f", id, 100*share, last, odds)
			}
			last = odds
			tried++
		}
	}
	if tried != 32 {
		t.Errorf("tried %d", tried)
	}
}

// Drift lines go where textbooks say: common practice for a car with an expansion
// valve on a warm day. Each starts at the centre of the healthy region.
func TestDriftsGoTheWayOfTheTrade(t *testing.T) {
	m := model(t)
	c := warmDay(220e3, 1500e3)
	c.Car.Metering = car.ExpansionValve
	want := map[car.ConditionID][2]float64{ // signs of low and high; 0: not held
		car.CondenserAirflow:  {1, 1},
		car.Air:               {0, 1},
		car.EvaporatorAirflow: {-1, -1},
		car.WeakCompressor:    {1, -1},
		car.Undercharge:       {0, -1},
		car.Restriction:       {-1, -1},
		car.SuctionBlocked:    {-1, -1},
	}
	var ids []car.ConditionID
	for id := range want {
		ids = append(ids, id)
	}
	p, err := m.Plane(c, ids)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Drifts) != len(want) {
		t.Fatalf("%d drifts of %d", len(p.Drifts), len(want))
	}
	for _, d := range p.Drifts {
		first, last := d.Points[0], d.Points[len(d.Points)-1]
		if first.Low != p.Centre[0] || first.High != p.Centre[1] {
			t.Errorf("%s starts at %v, the region's centre is %v", d.Condition, first, p.Centre)
		}
		low, high := last.Low-first.Low, last.High-first.High
		w := want[d.Condition]
		if w[0]*low < 0 || w[1]*high < 0 || w[0] != 0 && math.Abs(low) < 5e3 || w[1] != 0 && math.Abs(high) < 20e3 {
			t.Errorf("%s: low side moves by %.0f kPa, high side by %.0f, want signs %v", d.Condition, low/1e3, high/1e3, w)
		}
	}
}

// A scale and its inverse undo each other over all that an instrument shows, so that
// what is said about a reading is said of the reading. 1e-6 of the scale's unit, 1e-9
// relative: rounding of doubles and of the tables' inverse.
func TestScalesUndoEachOther(t *testing.T) {
	for _, ref := range []string{car.R134a, car.R1234yf, car.R12} {
		c := car.Case{Car: car.Spec{Refrigerant: ref}, Weather: car.Weather{Ambient: 301}, Rest: car.Rest{Temperature: 290}}
		s, err := newScaler(&c)
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range car.Quantities() {
			if q == car.SightGlass {
				continue
			}
			lo, hi, unit := q.Limits(s.atm)
			if unit == "Pa" {
				lo, hi = -0.9*s.atm, 2.5e6
			}
			if q == car.EqualiseTime {
				lo = 1 // a second: below, a logarithm is held
			}
			for i := range 41 {
				v := lo + (hi-lo)*float64(i)/40
				if got := s.out(q, s.in(q, v)); math.Abs(got-v) > 1e-6*math.Max(math.Abs(v), 1) {
					t.Errorf("%s %s: %g comes back as %g", ref, q, v, got)
				}
			}
		}
	}
}

// Three-point Gauss–Hermite quadrature is exact for polynomials up to the fifth
// degree: the moments of a standard normal variable are 1, 0, 1, 0, 3, 0.
func TestQuadratureHasTheMomentsOfANormalVariable(t *testing.T) {
	for n, want := range []float64{1, 0, 1, 0, 3, 0} {
		got := 0.0
		for i := range nodes {
			got += weights[i] * math.Pow(nodes[i], float64(n))
		}
		if math.Abs(got-want) > 1e-12 {
			t.Errorf("moment %d is %v, want %v", n, got, want)
		}
	}
}

// Proposed measurements come by gain for the time they cost, the minutes to fetch a
// tool and read the answer included; a gain is no more than there is to know. Two
// halves of a plan that cost the same are in the order of their gain.
func TestPlanIsOrderedByGainForTheTime(t *testing.T) {
	m := model(t)
	for _, c := range readCars(t, 40, 33) {
		c = with(c, "", car.Low, car.High)
		r, err := m.Diagnose(c)
		if err != nil {
			t.Fatal(err)
		}
		h := 0.0
		for _, x := range r.Ranking {
			if x.Probability > 0 {
				h -= x.Probability * math.Log2(x.Probability)
			}
		}
		for i, n := range r.Next {
			if n.Gain > h+1e-6 || n.Gain <= 0 {
				t.Errorf("%s promises %.3f bit of %.3f", n.Quantity, n.Gain, h)
			}
			if e := n.Quantity.Info(); e.Minutes != n.Minutes || e.Hazard != n.Hazard {
				t.Errorf("%s: costs %v, the table says %v", n.Quantity, n, e)
			}
			if i > 0 {
				b := r.Next[i-1]
				const walk = 4.0 // min, judgement: see Next.effort
				if n.Gain/(n.Minutes+walk) > b.Gain/(b.Minutes+walk)+1e-9 {
					t.Errorf("%s (%.3f bit, %g min) after %s (%.3f bit, %g min)", n.Quantity, n.Gain, n.Minutes, b.Quantity, b.Gain, b.Minutes)
				}
			}
			total := 0.0
			for j, o := range n.Outcomes {
				total += o.Chance
				if o.Choice == "" && (j > 0 && o.Lo != n.Outcomes[j-1].Hi || o.Hi < o.Lo) {
					t.Errorf("%s: outcomes do not follow each other: %v", n.Quantity, n.Outcomes)
				}
			}
			if total > 1+1e-6 {
				t.Errorf("%s: outcomes have %.3f of the chance", n.Quantity, total)
			}
		}
	}
}

// The answer calls the reading doubtful where what spoils readings has more than
// half of the chance, and only there when nothing is asked; names from 0.8 and leans
// from 0.5 (the definitions in report.go).
func TestVerdictFollowsTheRanking(t *testing.T) {
	seen := map[Verdict]int{}
	m := model(t)
	for _, c := range readCars(t, 250, 35) {
		for _, k := range []car.Case{with(c, "", car.Low, car.High), c} {
			r, err := m.Rank(k)
			if err != nil {
				t.Fatal(err)
			}
			spoilt, top := 0.0, r.Ranking[0].Probability
			for _, x := range r.Ranking {
				if x.ID == car.Gauge || x.ID == car.NoneOfThese {
					spoilt += x.Probability
				}
			}
			if len(r.Questions) > 0 {
				continue
			}
			want := CannotTell
			switch {
			case spoilt > 0.5:
				want = Doubtful
			case top >= 0.8:
				want = Named
			case top >= 0.5:
				want = Leaning
			}
			seen[r.Verdict]++
			if r.Verdict != want {
				t.Errorf("leader %.2f, spoilt %.2f: %s, want %s", top, spoilt, r.Verdict, want)
			}
		}
	}
	for _, v := range []Verdict{Named, Leaning, CannotTell, Doubtful} {
		if seen[v] < 5 {
			t.Errorf("only %d cases were %s", seen[v], v)
		}
	}
}

// The order is said to hang on how common faults are exactly where moving the odds
// to the ends of what we would still believe (priors.csv) would change the leader.
func TestPriorMattersWhereItWouldChangeTheLeader(t *testing.T) {
	m := model(t)
	count := [2]int{}
	for _, c := range readCars(t, 80, 37) {
		r, err := m.Answer(with(c, "", car.Low, car.High, car.Vent))
		if err != nil {
			t.Fatal(err)
		}
		lead := r.Ranking[0]
		o := sim.OddsOf(lead.ID)
		want := 0
		for _, x := range r.Ranking[1:] {
			k := sim.OddsOf(x.ID)
			if x.Probability*k.High/k.Mid > lead.Probability*o.Low/o.Mid {
				want = 1
			}
		}
		got := 0
		for _, w := range r.Warnings {
			if w.Code == "prior_matters" {
				got = 1
			}
		}
		count[want]++
		if got != want {
			t.Errorf("prior_matters %d, the odds say %d: %v", got, want, r.Ranking[:3])
		}
	}
	if count[0] < 5 || count[1] < 5 {
		t.Errorf("%v: both answers must occur", count)
	}
}

// Members of a pattern are the conditions that put simulated cars there clearly more
// often than healthy ones, counted here on cars of another seed. Wide limits (half and
// twice) because a few hundred cars of each condition are counted.
func TestMembersAreCounted(t *testing.T) {
	m := model(t)
	w := sim.World{Flatten: 1}
	samples, _ := w.DrawMany(3000, 39)
	count, all := map[Group]map[car.ConditionID]float64{}, map[car.ConditionID]float64{}
	for i := range samples {
		s := &samples[i]
		a, err := m.Ask(s.Case)
		if err != nil {
			t.Fatal(err)
		}
		low, high := a.bands()
		g, id := group(a.c.Readings, low, high), s.Truth.Answer()
		if count[g] == nil {
			count[g] = map[car.ConditionID]float64{}
		}
		count[g][id] += s.Weight
		all[id] += s.Weight
	}
	share := func(g Group, id car.ConditionID) float64 { return count[g][id] / math.Max(all[id], 1e-9) }
	checked := 0
	for _, g := range groups {
		if g == GroupNormal {
			continue
		}
		members := m.Members(g, car.Spec{})
		for _, id := range car.Conditions() {
			if id == car.NoneOfThese || id == car.Combination || id == car.Healthy {
				continue
			}
			is := slices.Contains(members, id)
			s, h := share(g, id), share(g, car.Healthy)
			switch {
			case is && (s < 0.005 || s < 0.75*h):
				t.Errorf("%s is a member of %s, but %.3f of its cars show it and %.3f of healthy ones", id, g, s, h)
			case !is && s > 0.06 && s > 3*h:
				t.Errorf("%s is no member of %s, but %.3f of its cars show it and %.3f of healthy ones", id, g, s, h)
			default:
				checked++
			}
		}
	}
	if checked < 100 {
		t.Errorf("only %d pairs held", checked)
	}
}
