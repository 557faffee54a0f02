package practice_test

import (
	"encoding/json"
	"math"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/practice"
)

var (
	refrigerants = []string{car.R134a, car.R1234yf, car.R12}
	meterings    = []car.Metering{car.OrificeTube, car.ExpansionValve}
	compressors  = []car.Compressor{car.Fixed, car.Variable, car.Electric}
)

func kinds() (out []practice.Settings) {
	for _, r := range refrigerants {
		for _, m := range meterings {
			for _, c := range compressors {
				s := practice.NewSettings()
				s.Refrigerant, s.Metering, s.Compressor = r, m, c
				out = append(out, s)
			}
		}
	}
	return out
}

// Every dial through its range on every kind of car has a state, and the state
// moves by no jump that a hand on the dial would take for a fault of the page:
// neither needle by more than a third of its absolute pressure in one of twenty
// steps. (A cycling clutch or the cut-out may come in between two steps; a third
// leaves room for that.)
func TestRigFollowsEveryDial(t *testing.T) {
	var g practice.Rig
	steps := 20
	if testing.Short() {
		steps = 5
	}
	for _, s := range kinds() {
		for _, d := range practice.Dials {
			var last cycle.Result
			for k := 0; k <= steps; k++ {
				r, err := g.Solve(s.With(d.Dial, d.Min+(d.Max-d.Min)*float64(k)/float64(steps)))
				if err != nil {
					t.Errorf("%+v, %s step %d: %v", s.Spec(), d.Dial, k, err)
					continue
				}
				const atm = 100e3
				if k > 0 && !testing.Short() {
					if jump := math.Abs(math.Log((r.Low + atm) / (last.Low + atm))); jump > 0.33 {
						t.Errorf("%+v, %s step %d: the low side jumps from %.0f to %.0f kPa", s.Spec(), d.Dial, k, last.Low/1e3, r.Low/1e3)
					}
					if jump := math.Abs(math.Log((r.High + atm) / (last.High + atm))); jump > 0.33 {
						t.Errorf("%+v, %s step %d: the high side jumps from %.0f to %.0f kPa", s.Spec(), d.Dial, k, last.High/1e3, r.High/1e3)
					}
				}
				last = r
			}
		}
	}
}

// Which way each dial moves the needles on a sound car. Signs: low charge, high side
// falls [USArmy387]; condenser air short, both rise [Denton]; evaporator air short,
// low side falls, common practice; restriction, low side falls [USArmy303]; worn, low
// rises, high falls [USArmy387]; hot air, both rise [USArmy291]; humid air, both
// rise, common practice; and, for the altitude, from
// the gauge: thinner air weighs less on it and carries less heat off.
func TestDialsMoveTheRightWay(t *testing.T) {
	for _, c := range []struct {
		d         practice.Dial
		to        float64
		low, high float64 // sign wanted; 0 not asked
	}{
		{practice.Charge, 0.4, 0, -1},
		{practice.Charge, 1.5, 0, 1},
		{practice.CondAir, 0.4, 1, 1},
		{practice.EvapAir, 0.5, -1, -1},
		{practice.Restriction, 0.7, -1, -1},
		{practice.Wear, 0.8, 1, -1},
		{practice.Air, 100e3, 0, 1},
		{practice.Outside, 315.15, 1, 1},
		{practice.Humidity, 0.9, 1, 1},
		{practice.Engine, 2500, -1, 0},
	} {
		for _, m := range meterings {
			var g practice.Rig
			s := practice.NewSettings()
			s.Metering = m
			rest, err := g.Solve(s)
			if err != nil {
				t.Fatal(err)
			}
			r, err := g.Solve(s.With(c.d, c.to))
			if err != nil {
				t.Fatal(err)
			}
			if c.low*(r.Low-rest.Low) < 0 || c.high*(r.High-rest.High) < 0 {
				t.Errorf("metering %d, %s to %g: low %.0f to %.0f, high %.0f to %.0f kPa", m, c.d, c.to,
					rest.Low/1e3, r.Low/1e3, rest.High/1e3, r.High/1e3)
			}
		}
	}
}

// The first question of the place, answered by the model: a receiver keeps the
// valve fed, so that on a valve system the liquid before it goes first and the
// needles late; an orifice tube lets vapour through and the coil's outlet dries
// first. Common practice, both.
func TestChargeQuestion(t *testing.T) {
	var g practice.Rig
	want := map[string]practice.Sign{"valve": practice.Subcooled, "tube": practice.Superheated}
	for _, a := range practice.NewSettings().Arms(practice.AskCharge) {
		moves, err := g.Watch(a)
		if err != nil {
			t.Fatal(err)
		}
		if !moves[0].Moved || moves[0].Sign != want[a.Kind] {
			t.Errorf("%s: %+v moves first", a.Kind, moves[0])
		}
		for _, m := range moves {
			if m.Moved && m.Sign == practice.LowSide && m.At > 0.7 {
				t.Errorf("%s: the low side already moves at %.2f of the charge", a.Kind, m.At)
			}
		}
	}
}

// Every question has an answer on every kind of car and in every weather of the
// dials.
func TestEveryQuestionHasAnAnswer(t *testing.T) {
	all := kinds()
	if testing.Short() {
		all = all[:4]
	}
	for i, s := range all {
		s = s.With(practice.Outside, practice.RangeOf(practice.Outside).Min+float64(7*i%36))
		var g practice.Rig
		for _, q := range practice.Questions {
			arms := s.Arms(q)
			if len(arms) != 2 {
				t.Fatalf("%s has %d arms", q, len(arms))
			}
			for _, a := range arms {
				moves, err := g.Watch(a)
				if err != nil {
					t.Errorf("%s of %+v: %v", q, s, err)
				} else if !moves[0].Moved && s.At[practice.Outside] > 293 { // on a cold day a cycling clutch hides much
					t.Errorf("%s of %+v, %s: nothing moves", q, s, a.Kind)
				}
			}
		}
	}
}

// FuzzSane: whatever was stored gives a rig that solves.
func FuzzSane(f *testing.F) {
	f.Add(`{"refrigerant":"R744","metering":9,"compressor":-1,"at":{"charge":1e99,"nonsense":3,"ambient":-5}}`)
	f.Add(`{"at":null}`)
	f.Add("")
	var g practice.Rig
	f.Fuzz(func(t *testing.T, text string) {
		var s practice.Settings
		_ = json.Unmarshal([]byte(text), &s)
		s = s.Sane()
		for _, d := range practice.Dials {
			if v := s.At[d.Dial]; !(v >= d.Min-1e-9 && v <= d.Max+1e-9) {
				t.Errorf("%s is %g", d.Dial, v)
			}
		}
		if _, err := g.Solve(s); err != nil {
			t.Logf("no state: %v", err) // several faults at once may have none; the page says so
		}
	})
}
