package diagnose

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/sim"
)

// warmDay is an invented medium car on a 32 °C day.
func warmDay(low, high float64) car.Case {
	c := car.Case{Readings: car.Readings{car.Low: {Value: low}, car.High: {Value: high}}}
	c.Car = car.Spec{Refrigerant: car.R134a, Metering: car.OrificeTube, Compressor: car.Fixed}
	c.Weather.Ambient, c.Weather.Humidity = 305.15, 0.5
	c.Running.RPM, c.Running.RPMKnown, c.Running.Blower = 1500, true, 1
	return c
}

func model(t testing.TB) *Model {
	t.Helper()
	m, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func chance(r Report, id car.ConditionID) float64 {
	for _, k := range r.Ranking {
		if k.ID == id {
			return k.Probability
		}
	}
	return -1
}

// Identities of probability, on cars drawn at random. 1e-9: a sum of 22 numbers in
// double precision.
func TestProbabilitiesAreProbabilities(t *testing.T) {
	m := model(t)
	world := sim.World{Flatten: 1}
	samples, _ := world.DrawMany(300, 1)
	if len(samples) < 290 {
		t.Fatalf("only %d of 300 cars solved", len(samples))
	}
	cannot := 0.0 // mean probability of what a car of the kind typed cannot have
	defer func() {
		if cannot > 0.03 { // a fact is typed wrong in one visit in thirty (sim.Instruments)
			t.Errorf("conditions a car cannot have get %.3f on average", cannot)
		}
	}()
	for i := range samples {
		everything := samples[i].Case
		needles := everything
		needles.Readings = car.Readings{car.Low: everything.Readings[car.Low], car.High: everything.Readings[car.High]}
		for _, c := range []car.Case{needles, everything} {
			r, err := m.Diagnose(c)
			if err != nil {
				t.Fatal(err)
			}
			sum := 0.0
			for k, x := range r.Ranking {
				if !(x.Probability >= 0) || k > 0 && x.Probability > r.Ranking[k-1].Probability {
					t.Fatalf("ranking %v", r.Ranking)
				}
				if !sim.Fits(x.ID, c.Car) {
					cannot += x.Probability / float64(2*len(samples))
				}
				sum += x.Probability
			}
			if len(r.Ranking) != len(car.Conditions()) || math.Abs(sum-1) > 1e-9 {
				t.Fatalf("%d conditions sum to %g", len(r.Ranking), sum)
			}
			checkFinite(t, &r)
		}
	}
}

func checkFinite(t *testing.T, r *Report) {
	t.Helper()
	bad := func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }
	for _, e := range r.Evidence {
		if bad(e.Expected.Lo) || bad(e.Expected.Hi) || bad(e.Median) || bad(e.AgainstHealthy) || bad(e.AgainstNext) {
			t.Fatalf("evidence %+v", e)
		}
	}
	for _, n := range r.Next {
		if bad(n.Gain) || n.Gain < 0 || n.Minutes <= 0 {
			t.Fatalf("next %+v", n)
		}
		for _, o := range n.Outcomes {
			if bad(o.Lo) || bad(o.Hi) || o.Lo > o.Hi || !(o.Chance >= 0 && o.Chance <= 1.001) || !(o.LeaderChance >= 0 && o.LeaderChance <= 1.001) {
				t.Fatalf("outcome %+v of %s", o, n.Quantity)
			}
		}
	}
}

// "Not measured" is not "normal": leaving a reading out must differ from reading
// the healthy middle, which is evidence.
func TestMissingIsNotNormal(t *testing.T) {
	m := model(t)
	c := warmDay(150e3, 1100e3)
	without, err := m.Diagnose(c)
	if err != nil {
		t.Fatal(err)
	}
	c.Readings[car.LiquidLine] = car.Reading{Value: 318}
	with, err := m.Diagnose(c)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(chance(with, car.Undercharge)-chance(without, car.Undercharge)) < 1e-3 {
		t.Error("a liquid-line temperature changed nothing")
	}
}

// Textbook signs: where the needles point, the answer follows. Directions from
// [USArmy387], [USArmy303], [USArmy307], [AutoHeating2009] and [Denton]; the numbers
// are ours (judgement), far outside the healthy band.
func TestTextbookPatterns(t *testing.T) {
	m := model(t)
	for _, k := range []struct {
		name      string
		low, high float64
		group     Group
		up        car.ConditionID // must be more likely than its prior
	}{
		{"both high: condenser not rejecting heat [AutoHeating2009] [USArmy303]", 380e3, 2600e3, GroupBothHigh, car.CondenserAirflow},
		{"low high, high low: compressor [USArmy387] [USArmy280]", 480e3, 1000e3, GroupLowHighHighLow, car.WeakCompressor},
		{"both low: shortage [USArmy387]", 120e3, 950e3, GroupBothLow, car.Undercharge},
	} {
		r, err := m.Diagnose(warmDay(k.low, k.high))
		if err != nil {
			t.Fatal(err)
		}
		if r.Group != k.group {
			t.Errorf("%s: group %s", k.name, r.Group)
		}
		if p := sim.PriorOf(warmDay(1, 1).Car)[car.Index(k.up)]; chance(r, k.up) < 2*p {
			t.Errorf("%s: %s at %.2f, prior %.2f", k.name, k.up, chance(r, k.up), p)
		}
	}
}

// A car that shows its own service figures is healthy by them, whatever the
// model's band.
func TestServiceFiguresReplaceTheBand(t *testing.T) {
	m := model(t)
	c := warmDay(330e3, 2250e3)
	before, err := m.Diagnose(c)
	if err != nil {
		t.Fatal(err)
	}
	c.Service = car.ServiceFigures{Low: car.Interval{Lo: 310e3, Hi: 350e3}, High: car.Interval{Lo: 2100e3, Hi: 2400e3}}
	after, err := m.Diagnose(c)
	if err != nil {
		t.Fatal(err)
	}
	if !(chance(after, car.Healthy) > chance(before, car.Healthy)) {
		t.Errorf("healthy %.2f with its own figures, %.2f without", chance(after, car.Healthy), chance(before, car.Healthy))
	}
	if after.Group != GroupNormal {
		t.Errorf("group %s inside the car's own figures", after.Group)
	}
	for _, e := range after.Evidence {
		if e.Place != 0 || e.Reading != c.Readings[e.Quantity] {
			t.Errorf("%s: read %v, said to be %v at place %d of its own figures", e.Quantity, c.Readings[e.Quantity], e.Reading, e.Place)
		}
	}
	// The figures hold for this weather: the median goes through their middle there
	// and, as on any car, rises with the temperature.
	bands, err := m.WeatherBands(c, []float64{c.Weather.Ambient, c.Weather.Ambient + 8})
	if err != nil {
		t.Fatal(err)
	}
	for side, b := range map[string][2]Band{"low": {bands[0].Low, bands[1].Low}, "high": {bands[0].High, bands[1].High}} {
		middle := map[string]float64{"low": 330e3, "high": 2250e3}[side]
		if math.Abs(b[0].P50/middle-1) > 1e-3 || b[1].P50 <= b[0].P50 {
			t.Errorf("%s: median %.0f Pa here, %.0f Pa 8 K warmer; the figures' middle is %.0f", side, b[0].P50, b[1].P50, middle)
		}
	}
}

// The two pieces that a page asks for are the whole.
func TestAnswerAndNextAreDiagnose(t *testing.T) {
	m := model(t)
	c := warmDay(330e3, 2250e3)
	whole, err := m.Diagnose(c)
	if err != nil {
		t.Fatal(err)
	}
	pieces, err := m.Answer(c)
	if err != nil {
		t.Fatal(err)
	}
	if pieces.Next, err = m.Next(c); err != nil || !reflect.DeepEqual(pieces, whole) {
		t.Errorf("in pieces %+v, as a whole %+v (%v)", pieces, whole, err)
	}
	if _, err := m.Next(car.Case{}); err == nil {
		t.Error("a plan for no readings")
	}
}

// Readings no car can give are asked about, and the answer says it doubts them.
func TestImpossibleReadingsAreQuestioned(t *testing.T) {
	m := model(t)
	vent := warmDay(300e3, 1600e3)
	vent.Readings[car.Vent] = car.Reading{Value: 268}
	for code, c := range map[string]car.Case{
		"hoses_swapped":         warmDay(1600e3, 220e3),
		"high_coupler":          warmDay(220e3, 0),
		"above_relief":          warmDay(300e3, 3600e3),
		"vent_colder_than_coil": vent,
	} {
		r, err := m.Diagnose(c)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, q := range r.Questions {
			found = found || q.Code == code
		}
		if !found || r.Verdict != Doubtful {
			t.Errorf("%s: questions %v, verdict %s", code, r.Questions, r.Verdict)
		}
	}
}

// What a closed coupler shows a blocked car shows too, and a nearly empty one condenses
// nothing below the outside air: the page asks, and answers. The trade's textbooks have
// both: "low side at zero or in a vacuum" for a metering device that is shut, "both low,
// warm air" for a car that is nearly empty.
func TestWhatBlockedAndEmptyCarsShowIsNotCalledImpossible(t *testing.T) {
	m := model(t)
	const psi = 6894.757
	read := func(low, high, vent float64) car.Case {
		c := warmDay(low*psi, high*psi)
		c.Weather.Ambient = 302.6 // 85 °F, where R-134a is saturated at 95 psi
		c.Car.Metering = car.ExpansionValve
		c.Readings[car.Vent] = car.Reading{Value: vent}
		return c
	}
	for _, k := range []struct {
		code string
		c    car.Case
		want []car.ConditionID // what the textbook says
	}{
		{"low_coupler", read(0, 150, 299), []car.ConditionID{car.ValveClosed, car.Restriction}},
		{"low_coupler", read(-1.5, 150, 299), []car.ConditionID{car.ValveClosed, car.Restriction}},
		{"low_coupler", read(0, 110, 300), []car.ConditionID{car.Undercharge}},
		{"high_below_ambient", read(5, 65, 301), []car.ConditionID{car.Undercharge, car.Restriction}},
	} {
		r, err := m.Diagnose(k.c)
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Questions) == 0 || r.Questions[0].Code != k.code {
			t.Errorf("%s is not asked: %v", k.code, r.Questions)
		}
		if r.Verdict != Leaning && r.Verdict != CannotTell || !slices.Contains(k.want, r.Ranking[0].ID) {
			t.Errorf("%s: %s, %v leads", k.code, r.Verdict, r.Ranking[0])
		}
	}
	if r, err := m.Diagnose(read(0, 230, 282)); err != nil || r.Verdict != Doubtful { // it cools: the hose sees nothing
		t.Errorf("a closed coupler on a car that cools: %s, %v", r.Verdict, err)
	}
}

// A vent as warm as the outside air behind a coil that is cold and full: heat joins after
// it. The trade looks at the heater valve and the flap (common practice); by the energy of the air a
// coil 30 K colder than what it breathes leaves it 8 to 12 K above itself (bypass factor of
// a wetted coil 0.25 to 0.4, textbook). Air of a cabin that bakes in the sun may be as warm.
func TestHeatBehindTheCoilIsAskedAbout(t *testing.T) {
	m := model(t)
	const psi = 6894.757
	asked := func(change func(*car.Case)) bool {
		c := warmDay(30*psi, 200*psi) // R-134a boils at 1.5 °C
		c.Weather.Ambient, c.Car.Metering = 304.3, car.ExpansionValve
		c.Readings[car.Vent], c.Readings[car.SuctionLine] = car.Reading{Value: 305}, car.Reading{Value: 280.4}
		change(&c)
		r, err := m.Diagnose(c)
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range r.Questions {
			if q.Code == "heat_behind_coil" {
				if r.Verdict == Named || r.Verdict == Doubtful {
					t.Errorf("asked, and %s", r.Verdict)
				}
				return true
			}
		}
		return false
	}
	if !asked(func(*car.Case) {}) {
		t.Error("a vent as warm as the outside air is not asked about")
	}
	for name, change := range map[string]func(*car.Case){
		"it cools":            func(c *car.Case) { c.Readings[car.Vent] = car.Reading{Value: 284} },
		"weakly":              func(c *car.Case) { c.Readings[car.Vent] = car.Reading{Value: 293} },
		"the coil is starved": func(c *car.Case) { c.Readings[car.SuctionLine] = car.Reading{Value: 298} },
		"air of the cabin":    func(c *car.Case) { c.Running.Recirc = true },
		"a swinging needle":   func(c *car.Case) { c.Readings[car.Low] = car.Reading{Lo: 25 * psi, Hi: 40 * psi, Swing: true} },
		"no suction line":     func(c *car.Case) { delete(c.Readings, car.SuctionLine) },
	} {
		if asked(change) {
			t.Errorf("%s: asked about heat behind the coil", name)
		}
	}
	if !asked(func(c *car.Case) { c.Running.Recirc, c.Running.Doors = true, car.DoorsOpen }) {
		t.Error("with open doors the coil breathes outside air whatever the lever says")
	}
}

// A resting pair on a running engine: the compressor does not pump.
func TestEqualSides(t *testing.T) {
	m := model(t)
	r, err := m.Diagnose(warmDay(700e3, 705e3))
	if err != nil {
		t.Fatal(err)
	}
	if r.Group != GroupEqual || r.Ranking[0].ID != car.NotRunning {
		t.Errorf("group %s, leader %v", r.Group, r.Ranking[0])
	}
	r, err = m.Diagnose(warmDay(2e3, 1e3))
	if err != nil {
		t.Fatal(err)
	}
	if r.Ranking[0].ID != car.Empty {
		t.Errorf("both at zero: leader %v", r.Ranking[0])
	}
}

func TestOutOfRange(t *testing.T) {
	m := model(t)
	for name, change := range map[string]func(*car.Case){
		"ambient": func(c *car.Case) { c.Weather.Ambient = 95 },
		"NaN":     func(c *car.Case) { c.Readings[car.Low] = car.Reading{Value: math.NaN()} },
		"vacuum":  func(c *car.Case) { c.Readings[car.Low] = car.Reading{Value: -2e5} },
		"swing":   func(c *car.Case) { c.Readings[car.Low] = car.Reading{Swing: true, Lo: 3e5, Hi: 1e5} },
		"none":    func(c *car.Case) { c.Readings = car.Readings{} },
		"fluid":   func(c *car.Case) { c.Weather.Humidity = math.Inf(1) },
	} {
		c := warmDay(200e3, 1500e3)
		change(&c)
		_, err := m.Diagnose(c)
		var r *refrig.RangeError
		if !errors.As(err, &r) {
			t.Errorf("%s: %v, want a RangeError", name, err)
		}
	}
}

func FuzzDiagnose(f *testing.F) {
	m := model(f)
	f.Add(200e3, 1500e3, 305.0, 0.5, 280.0, uint8(7), uint64(1))
	f.Add(-101e3, 9e9, 400.0, 2.0, -5.0, uint8(255), uint64(2))
	f.Fuzz(func(t *testing.T, low, high, ambient, rh, extra float64, bits uint8, seed uint64) {
		r := fleet.NewRand(seed)
		c := warmDay(low, high)
		c.Weather.Ambient, c.Weather.Humidity = ambient, rh
		c.Car.Metering, c.Car.Compressor = car.Metering(bits&3%3), car.Compressor(bits>>2&3)
		q := car.Quantities()[r.IntN(len(car.Quantities()))]
		c.Readings[q] = car.Reading{Value: extra, Lo: low, Hi: high, Swing: bits&64 != 0}
		rep, err := m.Diagnose(c)
		if err == nil {
			checkFinite(t, &rep)
			return
		}
		var re *refrig.RangeError
		if !errors.As(err, &re) {
			t.Fatalf("untyped error %v", err)
		}
	})
}

// A keystroke: the answer with its plane, and what follows when the page has them.
func BenchmarkDiagnose(b *testing.B) {
	m := model(b)
	conds := []car.ConditionID{car.Undercharge, car.Restriction, car.CondenserAirflow}
	for _, next := range []bool{false, true} {
		name := "answer and plane"
		if next {
			name += ", next"
		}
		b.Run(name, func(b *testing.B) {
			for range b.N {
				a, err := m.Ask(warmDay(200e3, 1500e3))
				if err != nil {
					b.Fatal(err)
				}
				a.Answer()
				a.Plane(conds)
				if next {
					a.Next()
				}
			}
		})
	}
}
