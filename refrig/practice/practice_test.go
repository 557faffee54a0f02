package practice_test

import (
	"encoding/json"
	"fmt"
	"hash/crc32"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/practice"
	"twoneedles/refrig/reftest"
)

func draw(t testing.TB, seed int, l practice.Level) *practice.Puzzle {
	t.Helper()
	p, err := practice.Draw(load(t), seed, l)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The same numbers give the same digits, native and in WebAssembly: both read
// this file, as does every later version. After a new fit of the networks other
// cars are kept, and -update accepts them.
func TestSameNumberSameCaseEverywhere(t *testing.T) {
	var b strings.Builder
	b.WriteString("# regression: puzzles by level and number, every value to the digits that are shown\n")
	for _, l := range practice.Levels {
		for seed := 1; seed <= 12; seed++ {
			p := draw(t, seed, l)
			if again := draw(t, seed, l); seed < 3 && !(reflect.DeepEqual(p.Case, again.Case) && p.Complaint == again.Complaint && p.Truth.Cause == again.Truth.Cause && p.Truth.Severity == again.Truth.Severity) {
				t.Errorf("level %d, number %d is not the same twice", l, seed)
			}
			c := p.Case
			fmt.Fprintf(&b, "\nlevel %d number %d: %s, %s\n", l, seed, practice.Wanted(&p.Truth), p.Complaint)
			fmt.Fprintf(&b, "  car %s metering %d compressor %d port %d size %d evaporators %d label %.2f kg\n", c.Car.Refrigerant,
				c.Car.Metering, c.Car.Compressor, c.Car.HighPort, c.Car.Size, c.Car.Evaporators, c.Car.LabelCharge)
			fmt.Fprintf(&b, "  air %.1f °C %.0f %% %.0f m, engine %.0f/min, blower %.2f, recirculating %v\n", c.Weather.Ambient-273.15,
				100*c.Weather.Humidity, c.Weather.Altitude, c.Running.RPM, c.Running.Blower, c.Running.Recirc)
			for _, q := range car.Quantities() {
				if r, ok := c.Readings[q]; ok {
					fmt.Fprintf(&b, "  %s %s\n", q, digits(q, r))
				}
			}
		}
	}
	reftest.Golden(t, "../practice/cases.txt", b.String())
	reftest.Golden(t, "../../refrig/practice/cases.sum", fmt.Sprintf("%08x\n", crc32.ChecksumIEEE([]byte(b.String()))))
}

func digits(q car.Quantity, r car.Reading) string {
	one := func(v float64) string {
		switch q {
		case car.Low, car.LowIdle, car.High, car.HighIdle, car.WaterTest, car.FanTest, car.Resting:
			return fmt.Sprintf("%.0f kPa", v/1e3)
		case car.Cycling:
			return fmt.Sprintf("%.1f/min", v)
		case car.EqualiseTime:
			return fmt.Sprintf("%.0f s", v)
		case car.Recovered:
			return fmt.Sprintf("%.2f", v)
		case car.SightGlass:
			return r.Choice
		}
		return fmt.Sprintf("%.1f °C", v-273.15)
	}
	if r.Swing {
		return one(r.Lo) + " to " + one(r.Hi)
	}
	return one(r.Value)
}

// Whoever believes p gets most on average by saying p, on a grid of what can be
// said and believed: the witness that the score is proper. It also pays to name
// the likelier of two conditions, and 0 is for knowing nothing.
func TestPointsAreProper(t *testing.T) {
	for _, n := range []int{2, 7, 19, 21} {
		expected := func(p, c float64) float64 { return p*practice.Points(n, c, true) + (1-p)*practice.Points(n, c, false) }
		before := math.Inf(-1)
		for p := practice.Least; p <= practice.Most+1e-9; p += 0.01 {
			best, at := math.Inf(-1), 0.0
			for c := practice.Least; c <= practice.Most+1e-9; c += 0.01 {
				if e := expected(p, c); e > best {
					best, at = e, c
				}
			}
			if math.Abs(at-p) > 1e-6 {
				t.Errorf("%d conditions: believing %.2f it pays to say %.2f", n, p, at)
			}
			if p > 1/float64(n) {
				if best <= before {
					t.Errorf("%d conditions: believing %.2f earns no more than believing less", n, p)
				}
				before = best
			}
		}
		// By hand: saying 1/n is knowing nothing, certainty is 100, one bit of n = 2 is all there is.
		reftest.Close(t, "knowing nothing, right", practice.Points(n, 1/float64(n), true), 0, 1e-9, "rounding")
		reftest.Close(t, "knowing nothing, wrong", practice.Points(n, 1/float64(n), false), 0, 1e-9, "rounding")
		reftest.Close(t, "waiting", practice.EvenPoints(n), expected(0.5, 0.5), 1e-9, "definition")
	}
	// 16 conditions are 4 bit; 0.5 is 3 of them, and wrong at 0.5 leaves 0.5/15 each: log₂(16/30) = −0.907 bit.
	reftest.Close(t, "even, right", practice.Points(16, 0.5, true), 75, 1e-9, "by hand")
	reftest.Close(t, "even, wrong", practice.Points(16, 0.5, false), -22.67, 0.01, "by hand")
}

// An honest student who believes what the diagnosis believes does better than
// one who exaggerates, over real puzzles.
func TestHonestyPays(t *testing.T) {
	m := load(t)
	var honest, loud, waiting float64
	n := 100
	if testing.Short() {
		n = 30
	}
	for seed := range n {
		d := practice.NewDesk(draw(t, seed+1, practice.Everyday))
		r, err := m.Rank(d.Case())
		if err != nil {
			t.Fatal(err)
		}
		k, lead := len(d.Puzzle.Answers()), r.Ranking[0]
		right := lead.ID == practice.Wanted(&d.Puzzle.Truth)
		honest += practice.Points(k, min(max(lead.Probability, practice.Least), practice.Most), right) / float64(n)
		loud += practice.Points(k, practice.Most, right) / float64(n)
		if !practice.Settled(&r) {
			waiting += practice.EvenPoints(k) / float64(n)
		}
	}
	t.Logf("points from two needles alone: honest %.0f, loud %.0f, waiting %.0f", honest, loud, waiting)
	if honest <= loud || honest <= 0 || waiting <= 0 {
		t.Errorf("honest %.1f, loud %.1f, waiting %.1f", honest, loud, waiting)
	}
}

func TestDeskSellsEachReadingOnce(t *testing.T) {
	p := draw(t, 3, practice.Everyday)
	d := practice.NewDesk(p)
	if got := len(d.Case().Readings); got != 2 {
		t.Fatalf("%d readings before anything is bought, want two needles", got)
	}
	minutes := 0.0
	for len(d.Offers()) > 0 {
		o := d.Offers()[0]
		if !d.Buy(o.Quantity) || d.Buy(o.Quantity) {
			t.Fatalf("%s is not sold exactly once", o.Quantity)
		}
		minutes += o.Minutes
	}
	if d.Buy(car.Low) || d.Buy("no such") {
		t.Error("something is sold that is not on offer")
	}
	if d.Minutes() != minutes || minutes <= 0 {
		t.Errorf("spent %g minutes, offers said %g", d.Minutes(), minutes)
	}
	if !reflect.DeepEqual(d.Case(), p.Case) {
		t.Error("with everything bought the desk does not know everything")
	}
	// One look at idle reads both needles.
	d = practice.NewDesk(p)
	d.Buy(car.HighIdle)
	if _, ok := d.Case().Readings[car.LowIdle]; !ok {
		t.Error("the look at idle shows one needle")
	}
}

// What an answer is worth, on puzzles chosen so that each case comes up.
func TestOutcomes(t *testing.T) {
	m := load(t)
	p := draw(t, 1, practice.Textbook)
	full := practice.NewDesk(p)
	for _, o := range full.Offers() {
		full.Buy(o.Quantity)
	}
	want := practice.Wanted(&p.Truth)
	other := car.Overcharge
	if want == other {
		other = car.Empty
	}
	open := practice.NewDesk(draw(t, 1, practice.Ambiguous)) // two needles leave it open
	for _, c := range []struct {
		what string
		d    *practice.Desk
		a    practice.Answer
		out  practice.Outcome
		sign float64
	}{
		{"right and supported", full, practice.Answer{Condition: want, Confidence: 0.9}, practice.Right, 1},
		{"wrong and sure", full, practice.Answer{Condition: other, Confidence: 0.9}, practice.Wrong, -1},
		{"waiting although it is told", full, practice.Answer{}, practice.CouldBeTold, -1},
		{"waiting without having looked", open, practice.Answer{}, practice.RightToWait, 0},
		{"right and luckier than the readings", open, practice.Answer{Condition: practice.Wanted(&open.Puzzle.Truth), Confidence: practice.Most}, practice.RightByLuck, 1},
		{"wrong and hardly claimed", open, practice.Answer{Condition: car.Empty, Confidence: 0.2}, practice.HonestlyOpen, -1},
	} {
		k, err := c.d.Mark(m, c.a)
		if err != nil {
			t.Fatal(err)
		}
		if k.Outcome != c.out || c.sign*k.Points < 0 || c.sign == 0 && k.Points != 0 {
			t.Errorf("%s: %s, %.1f points", c.what, k.Outcome, k.Points)
		}
	}
	for _, c := range []float64{0, 1, -3, math.NaN(), math.Inf(1)} {
		if _, err := full.Mark(m, practice.Answer{Condition: want, Confidence: c}); err == nil {
			t.Errorf("a confidence of %g is accepted", c)
		}
	}
}

// Minutes count the same whatever is said, and waiting earns only who has looked. By
// hand: a minute is a quarter of a point.
func TestMinutesCost(t *testing.T) {
	m := load(t)
	p := draw(t, 1, practice.Ambiguous)
	quick, slow := practice.NewDesk(p), practice.NewDesk(p)
	for _, o := range slow.Offers() {
		slow.Buy(o.Quantity)
	}
	said := practice.Answer{Condition: practice.Wanted(&p.Truth), Confidence: 0.75}
	a, errA := quick.Mark(m, said)
	b, errB := slow.Mark(m, said)
	if errA != nil || errB != nil {
		t.Fatal(errA, errB)
	}
	reftest.Close(t, "points for the minutes", a.Points-b.Points, slow.Minutes()/4, 1e-9, "rounding")
	if quick.Waiting() != 0 {
		t.Errorf("waiting without looking earns %.1f", quick.Waiting())
	}
	quick.Buy(car.Vent)
	reftest.Close(t, "waiting after a look", quick.Waiting(), practice.EvenPoints(len(p.Answers()))-car.Vent.Info().Minutes/4, 1e-9, "rounding")
}

// One of two faults named is half, whichever it is; naming none of the two is not.
func TestOneOfTwoFaultsIsHalf(t *testing.T) {
	m := load(t)
	seen := 0
	for n := 1; n < 300 && seen < 3; n++ {
		p := draw(t, n, practice.Everyday)
		if practice.Wanted(&p.Truth) != car.Combination {
			continue
		}
		seen++
		other := car.Empty
		for id, want := range map[car.ConditionID]practice.Outcome{p.Truth.Cause: practice.Half, p.Truth.Second: practice.Half, other: practice.Wrong} {
			k, err := practice.NewDesk(p).Mark(m, practice.Answer{Condition: id, Confidence: practice.Most})
			if err != nil {
				t.Fatal(err)
			}
			if k.Outcome != want {
				t.Errorf("%s and %s; said %s: %s, want %s", p.Truth.Cause, p.Truth.Second, id, k.Outcome, want)
			}
		}
	}
	if seen == 0 {
		t.Error("no case with two faults")
	}
}

// Right by luck begins one step of confidence, a quarter, above what the readings bear
// (judgement), and counts as solved like any right answer. What they bear is the chance
// the report gives the answer.
func TestLuckIsOneStepOfConfidence(t *testing.T) {
	m := load(t)
	seen := map[practice.Outcome]int{}
	for n := range 40 {
		d := practice.NewDesk(draw(t, n+1, practice.Ambiguous))
		want := practice.Wanted(&d.Puzzle.Truth)
		for _, c := range practice.Confidences {
			k, err := d.Mark(m, practice.Answer{Condition: want, Confidence: c})
			if err != nil {
				t.Fatal(err)
			}
			bears := 0.0
			for _, r := range k.Report.Ranking {
				if r.ID == want {
					bears = r.Probability
				}
			}
			out := practice.Right
			if c > bears+0.25 {
				out = practice.RightByLuck
			}
			if k.Outcome != out || !k.Correct() {
				t.Errorf("said %.2f where the readings bear %.2f: %s, solved %v", c, bears, k.Outcome, k.Correct())
			}
			seen[out]++
		}
	}
	if seen[practice.Right] < 20 || seen[practice.RightByLuck] < 20 {
		t.Errorf("seen %v", seen)
	}
}

// The plan ends settled wherever every measurement settles it, costs less than
// buying everything, and never asks for what cannot be had.
func TestPlanIsShorterThanEverything(t *testing.T) {
	m := load(t)
	n, settled, right, minutes := 15, 0.0, 0.0, 0.0
	if testing.Short() {
		n = 6
	}
	for seed := 1; seed <= n; seed++ {
		p := draw(t, seed, practice.Ambiguous)
		all := practice.NewDesk(p)
		for _, o := range all.Offers() {
			all.Buy(o.Quantity)
		}
		var steps []practice.Step
		spent := 0.0
		for s, err := range practice.Plan(m, p) {
			if err != nil {
				t.Fatal(err)
			}
			spent += s.Minutes
			steps = append(steps, s)
		}
		if steps[0].Quantity != "" || steps[0].Settled || len(steps) < 2 {
			t.Errorf("number %d: the plan does not start from two needles that leave it open: %+v", seed, steps)
		}
		seen := map[car.Quantity]bool{}
		for _, s := range steps[1:] {
			if _, ok := p.Case.Readings[s.Quantity]; !ok || seen[s.Quantity] {
				t.Errorf("number %d: %s cannot be had, or twice", seed, s.Quantity)
			}
			seen[s.Quantity] = true
		}
		if spent > all.Minutes() {
			t.Errorf("number %d: %g minutes, everything costs %g", seed, spent, all.Minutes())
		}
		if last := steps[len(steps)-1]; last.Settled {
			settled++
			if last.Leader == practice.Wanted(&p.Truth) {
				right++
			}
		}
		minutes += spent
	}
	k := float64(n)
	t.Logf("settled %.2f, of these right %.2f, %.1f minutes", settled/k, right/max(settled, 1), minutes/k)
	if n >= 15 && settled < 0.65*k || right < 0.75*settled { // the hardest level; since makers' tables widened the bands, seven in ten
		t.Errorf("the plan settles %.2f of the puzzles and %.2f of these rightly", settled/k, right/max(settled, 1))
	}
}

func TestSetsTravelInALink(t *testing.T) {
	for text, want := range map[string]practice.Set{
		"level=2&cases=17,18":               {Level: practice.Everyday, Seeds: []int{17, 18}},
		"#level=3&cases=999999":             {Level: practice.Ambiguous, Seeds: []int{999999}},
		"cases=4":                           {Level: practice.Everyday, Seeds: []int{4}},
		"level=9&cases=0,-1,4,x,1000000,5 ": {Level: practice.Everyday, Seeds: []int{4, 5}},
		"level=1&cases=4&edition=0a1B2c3d":  {Level: practice.Textbook, Seeds: []int{4}, Edition: "0a1b2c3d"},
		"level=1&cases=4&edition=0a1b2c3":   {Level: practice.Textbook, Seeds: []int{4}},
		"level=1&cases=4&edition=<b>/a/b>":  {Level: practice.Textbook, Seeds: []int{4}},
		"level=1&cases=4;5":                 {}, // a semicolon is no part of a query
	} {
		got, ok := practice.ParseSet(text)
		if ok != (len(want.Seeds) > 0) || ok && !reflect.DeepEqual(got, want) {
			t.Errorf("%q: %+v, %v", text, got, ok)
		}
		if again, _ := practice.ParseSet(got.Link()); ok && !reflect.DeepEqual(again, got) {
			t.Errorf("%q does not come back", got.Link())
		}
	}
	if s, _ := practice.ParseSet("cases=" + strings.Repeat("1,", 999)); len(s.Seeds) != practice.MaxSet {
		t.Errorf("%d cases are taken", len(s.Seeds))
	}
	set := practice.Set{Level: practice.Everyday, Seeds: []int{17, 18}}
	number := set.Number()
	for edition, foreign := range map[string]bool{"": false, practice.Edition(): false, "00000000": true} {
		if set.Edition = edition; set.Foreign() != foreign || set.Number() != number {
			t.Errorf("edition %q: foreign %v, number %d", edition, set.Foreign(), set.Number())
		}
	}
	for _, other := range []practice.Set{{Level: practice.Textbook, Seeds: []int{17, 18}}, {Level: practice.Everyday, Seeds: []int{18, 17}}} {
		if other.Number() == number || number < 1000 || number > 9999 {
			t.Errorf("%+v has the number %d, as another", other, number)
		}
	}
	for _, text := range []string{"", "j1.abc", "%zz", "level=2", "cases="} {
		if _, ok := practice.ParseSet(text); ok {
			t.Errorf("%q is taken for a set", text)
		}
	}
}

// What was confused comes back more often, and what was mastered after it less.
func TestConfusionComesBack(t *testing.T) {
	p := practice.NewProgress()
	share := func(id car.ConditionID) float64 {
		n := 0
		for i := range 400 {
			if practice.Cause(p.Next(practice.Everyday, uint64(i)), practice.Everyday) == id {
				n++
			}
		}
		return float64(n) / 400
	}
	before := share(car.Air)
	wrong := practice.Mark{Answer: practice.Answer{Condition: car.Overcharge, Confidence: 0.9}, Want: car.Air, Outcome: practice.Wrong, Points: -50, Minutes: 3}
	for range 3 {
		p.Record(practice.Everyday, wrong)
	}
	confused := share(car.Air)
	if confused < 2.5*before {
		t.Errorf("air came %.3f of the time, after three mistakes %.3f", before, confused)
	}
	if m := p.Confused[car.Air]; m.Said != car.Overcharge || m.Times != 3 {
		t.Errorf("the mistake is remembered as %+v", m)
	}
	again := practice.Restore(p.Text())
	if !reflect.DeepEqual(again, p) {
		t.Errorf("progress comes back as %s, was %s", again.Text(), p.Text())
	}
	for range 4 {
		p.Record(practice.Everyday, practice.Mark{Answer: practice.Answer{Condition: car.Air, Confidence: 0.9}, Want: car.Air, Outcome: practice.Right, Points: 90})
	}
	if after := share(car.Air); after > 0.6*confused {
		t.Errorf("air still comes %.3f of the time", after)
	}
	if p.Done != 7 || p.Points != 210 {
		t.Errorf("%d done, %g points", p.Done, p.Points)
	}
}

// FuzzRestore: whatever was stored, progress is usable.
func FuzzRestore(f *testing.F) {
	good := practice.NewProgress()
	good.Record(practice.Textbook, practice.Mark{Want: car.Air, Outcome: practice.Wrong, Answer: practice.Answer{Condition: car.Gauge, Confidence: .5}})
	f.Add(good.Text())
	f.Add(`{"version":1,"conditions":{"air":{"seen":-1},"nonsense":{"seen":1},"gauge":null},"levels":{"7":{"seen":1}},"points":1e300}`)
	f.Add("")
	f.Fuzz(func(t *testing.T, text string) {
		p := practice.Restore(text)
		if w := p.Weight(car.Air); !(w >= 1 && w <= 5) {
			t.Errorf("weight %g", w)
		}
		if n := p.Next(practice.Everyday, 1); n < 1 || n > practice.MaxSeed {
			t.Errorf("next is %d", n)
		}
		if !json.Valid([]byte(p.Text())) || practice.Restore(p.Text()).Done != p.Done {
			t.Error("does not come back")
		}
	})
}

func TestComplaintsAreListed(t *testing.T) {
	heard := map[practice.Complaint]bool{}
	for _, l := range practice.Levels {
		for _, d := range drawMany(t, l, 40) {
			heard[d.p.Complaint] = true
			if !slices.Contains(practice.Complaints, d.p.Complaint) {
				t.Errorf("complaint %q is not listed", d.p.Complaint)
			}
			if !slices.Contains(d.p.Answers(), practice.Wanted(&d.p.Truth)) {
				t.Errorf("the right answer %s cannot be given", practice.Wanted(&d.p.Truth))
			}
		}
	}
	if len(heard) < len(practice.Complaints)-1 {
		t.Errorf("only %v are ever heard", heard)
	}
}
