//go:build !js

package learn_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/internal/judge"
	"twoneedles/refrig/learn"
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

func read(t testing.TB, text string) ([]learn.Job, []*learn.Refusal) {
	t.Helper()
	jobs, refused, err := learn.NewReader().Read("shop.csv", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return jobs, refused
}

// inventedJobs are n jobs of the invented world, by way of the file format.
func inventedJobs(t testing.TB, n int, seed uint64) []learn.Job {
	t.Helper()
	var b bytes.Buffer
	if err := learn.Invent(&b, n, seed); err != nil {
		t.Fatal(err)
	}
	jobs, refused := read(t, b.String())
	if len(refused) > n/50 { // a car drawn beyond what an instrument shows
		t.Fatalf("%d refused, the first: %v", len(refused), refused[0])
	}
	return jobs
}

// What three invented shops have in testdata/shops teaches in a world unlike the one the
// networks were fitted to: log-loss and calibration error fall, wrong claims of 80 % stay
// under 2 %; 20 jobs change nothing. The aim was a calibration error halved by 200 jobs:
// measured 0.045 without, 0.035 with the 200 of the first shop (0.027 and 0.044 with those
// of the others), 0.030 with all 600. (Before every answer was made more cautious,
// diagnose.Sharpness, it was 0.063 and fell to 0.047: what caution gives all, jobs no longer
// have to teach.)
//
// Judged on 3000 new cars: the standard error of the calibration error is about 0.008 and
// its floor, by chance alone, 0.012; that of a share of 1 % is 0.002. "Not worse" allows
// one of the first, and for wrong claims what three of the second are.
func TestLearningHelps(t *testing.T) {
	if testing.Short() {
		t.Skip("simulates some 3,000 cars")
	}
	m := model(t)
	fresh := inventedJobs(t, 3000, 99)
	before, err := learn.Validate(m, fresh)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("before: top-1 %.3f, log-loss %.3f, ECE %.3f, wrong at 80 %% %.3f", before.Top1.Is, before.LogLoss, before.ECE.Is, before.Wrong80.Is)
	var jobs []learn.Job
	var lines []int
	for _, name := range []string{"invented1.csv", "invented2.csv", "invented3.csv"} {
		text, err := os.ReadFile("../../testdata/shops/" + name)
		if err != nil {
			t.Fatal(err)
		}
		more, _ := read(t, string(text))
		jobs = append(jobs, more...)
		lines = append(lines, len(jobs))
	}
	for i, n := range []int{learn.LeastJobs, lines[0], lines[2]} {
		l := learn.Learn(m, jobs[:n])
		wiser, err := m.With(l)
		if err != nil {
			t.Fatal(err)
		}
		after, err := learn.Validate(wiser, fresh)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%d lines: sharp %.2f, low %+.1f K, high %+.1f K; top-1 %.3f, log-loss %.3f, ECE %.3f, wrong at 80 %% %.3f", n, l.Sharp, l.Low, l.High, after.Top1.Is, after.LogLoss, after.ECE.Is, after.Wrong80.Is)
		loss, ece := before.LogLoss+0.01, before.ECE.Is+0.008
		if i > 0 {
			loss, ece = before.LogLoss-0.05, 0.9*before.ECE.Is
		}
		if after.LogLoss > loss || after.ECE.Is > ece || after.Top1.Is < before.Top1.Is-0.01 || after.Wrong80.Is > min(before.Wrong80.Is+0.006, 0.02) {
			t.Errorf("%d lines make something worse, or too little better", n)
		}
	}
}

// What 200 jobs teach halves the calibration error, taken over shops: one alone may have
// had luck or none (three of them are in TestLearningHelps). Measured, with these 12
// shops, which nothing was chosen by: 0.041 to 0.015; with 32 others, on two other draws
// of cars, 0.045 to 0.020 and 0.037 to 0.020. On 6000 cars chance alone leaves some 0.008,
// and the standard error is 0.005 before and, over the shops, 0.002 after: so the bound is
// two thirds.
func TestShopsHalveTheCalibrationError(t *testing.T) {
	if testing.Short() {
		t.Skip("simulates some 10,000 cars")
	}
	m := model(t)
	fresh := inventedJobs(t, 6000, 101)
	before, err := learn.Validate(m, fresh)
	if err != nil {
		t.Fatal(err)
	}
	const shops = 12
	ece, wrong := 0.0, 0.0
	for shop := range uint64(shops) {
		wiser, err := m.With(learn.Learn(m, inventedJobs(t, 200, 700+shop)))
		if err != nil {
			t.Fatal(err)
		}
		after, err := learn.Validate(wiser, fresh)
		if err != nil {
			t.Fatal(err)
		}
		ece += after.ECE.Is / shops
		wrong += after.Wrong80.Is / shops
	}
	t.Logf("ECE %.3f, after 200 jobs of %d shops %.3f; wrong at 80 %% %.3f and %.3f", before.ECE.Is, shops, ece, before.Wrong80.Is, wrong)
	if ece > before.ECE.Is*2/3 || wrong > 0.02 {
		t.Error("200 jobs teach too little")
	}
}

// An interval lies round what it is of, the calibration error's too, which is larger in any
// jobs drawn again.
func TestIntervalsHoldWhatTheyAreOf(t *testing.T) {
	s, err := learn.Validate(model(t), inventedJobs(t, 200, 1))
	if err != nil {
		t.Fatal(err)
	}
	for name, v := range map[string]learn.Share{"top-1": s.Top1, "calibration error": s.ECE, "wrong": s.Wrong80, "missed": s.Missed} {
		if v.Lo > v.Is || v.Hi < v.Is || v.Hi <= v.Lo {
			t.Errorf("%s: %+v", name, v)
		}
	}
}

// What the page learns, from jobs with their readings before and after the repair, in
// worlds unlike home: one where other things break, one with other gauges, one with another
// thermometer in the vent (and one where nothing is different). Twenty and forty jobs make
// nothing worse, two hundred make it better where there is something to learn. Four shops
// each, judged on 1500 new cars.
//
// Tolerances: an answer may lose 0.02 bit, which is what a shop that is just like the
// survey pays for having odds of its own at all, and 0.015 of calibration error, which is
// one and a half standard errors of it here. The gain wanted is about half of the least
// measured: log-loss 2.43 to 2.33, 2.13 to 2.03, 2.19 to 2.04.
func TestLittleDoesNoHarmAndMuchHelps(t *testing.T) {
	if testing.Short() {
		t.Skip("simulates some 6,000 cars")
	}
	m := model(t)
	gauges := judge.Mistakes()[4].World // low gauge 6 psi low, high gauge 15 psi low
	for _, k := range []struct {
		name string
		draw func(*fleet.Rand) (sim.Sample, error)
		of   sim.World // its sound cars
		vent float64   // of the thermometer there, K
		gain float64   // of 200 jobs, bit
	}{
		{"other things break", learn.InventCar, learn.InventedWorld(), 0, 0.03},
		{"other gauges", gauges.Draw, gauges, 0, 0.04},
		{"another thermometer", judge.Home.World.Draw, judge.Home.World, 4, 0.04},
		{"home", judge.Home.World.Draw, judge.Home.World, 0, -0.02},
	} {
		r := fleet.NewRand(9)
		take := func(n int, draw func(*fleet.Rand) (sim.Sample, error)) (out []learn.Job) {
			for len(out) < n {
				if s, err := draw(r); err == nil {
					c := s.Case
					c.Readings = car.Readings{car.Low: c.Readings[car.Low], car.High: c.Readings[car.High], car.Vent: {Value: c.Readings[car.Vent].Value + k.vent}}
					out = append(out, learn.Job{Case: c, Found: s.Truth.Answer()})
				}
			}
			return out
		}
		sound := func(r *fleet.Rand) (sim.Sample, error) {
			return k.of.DrawOf(r, car.Healthy, fleet.Complete(r, car.Spec{}), 1)
		}
		fresh := take(1500, k.draw)
		before, err := learn.Validate(m, fresh)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range []int{learn.LeastJobs, 40, 200} {
			for shop := range 4 {
				var jobs []learn.Lesson
				after := take(n*8/10, sound)
				for i, j := range take(n, k.draw) {
					readings := []learn.Job{j}
					if i < len(after) {
						readings = append(readings, learn.Job{Case: after[i].Case, Found: car.Healthy, After: true})
					}
					if l, ok := learn.Of(m, readings...); ok {
						jobs = append(jobs, l)
					}
				}
				l := learn.Together(m, jobs)
				wiser, err := m.With(l)
				if err != nil {
					t.Fatal(err)
				}
				s, err := learn.Validate(wiser, fresh)
				if err != nil {
					t.Fatal(err)
				}
				t.Logf("%s, %d jobs of shop %d: low %+.1f, high %+.1f, vent %+.1f K, odds %v; log-loss %.3f → %.3f, ECE %.3f → %.3f", k.name, n, shop, l.Low, l.High, l.Vent, l.Odds != nil, before.LogLoss, s.LogLoss, before.ECE.Is, s.ECE.Is)
				gain := -0.02
				if n == 200 {
					gain = k.gain
				}
				if before.LogLoss-s.LogLoss < gain || s.ECE.Is > before.ECE.Is+0.015 {
					t.Errorf("%s: %d jobs of shop %d make it worse, or too little better", k.name, n, shop)
				}
			}
		}
	}
}

// In the world the networks were fitted to there is nothing to learn, and learning from
// 200 jobs of it may do no harm: log-loss not up by more than 0.05 bit on 2000 cars.
func TestLearningAtHomeDoesNoHarm(t *testing.T) {
	if testing.Short() {
		t.Skip("simulates some 2,000 cars")
	}
	m := model(t)
	w := sim.World{Mixed: true}
	samples, _ := w.DrawMany(2200, 5)
	var jobs []learn.Job
	for i := range samples {
		c := samples[i].Case
		c.Readings = car.Readings{car.Low: c.Readings[car.Low], car.High: c.Readings[car.High], car.Vent: c.Readings[car.Vent]}
		jobs = append(jobs, learn.Job{Case: c, Found: samples[i].Truth.Answer()})
	}
	before, err := learn.Validate(m, jobs[200:])
	if err != nil {
		t.Fatal(err)
	}
	wiser, err := m.With(learn.Learn(m, jobs[:200]))
	if err != nil {
		t.Fatal(err)
	}
	after, err := learn.Validate(wiser, jobs[200:])
	if err != nil {
		t.Fatal(err)
	}
	if after.LogLoss > before.LogLoss+0.05 {
		t.Errorf("log-loss %.3f after, %.3f before", after.LogLoss, before.LogLoss)
	}
}

// Never from one job alone, never beyond the bounds: 5000 times the same job is a file
// that is wrong, not a shop.
func TestLearningIsBounded(t *testing.T) {
	m := model(t)
	for n := range 300 { // one find among any number of sound cars, and one sound car far off
		jobs := make([]learn.Lesson, n+1)
		for i := range jobs {
			jobs[i] = learn.Lesson{Found: car.Index(car.Undercharge)}
		}
		jobs[0] = learn.Lesson{Found: car.Index(car.Empty), Sound: [][3]diagnose.Gap{{{By: 40, Sd: 4}, {By: 40, Sd: 4}, {By: 40, Sd: 4}}}}
		l := learn.Together(m, jobs)
		if l.Low != 0 || l.High != 0 || l.Vent != 0 || l.Odds != nil && l.Odds[car.Index(car.Empty)] > 1 || n+1 < learn.LeastJobs && l.Moves() {
			t.Fatalf("%d jobs: one alone teaches %+v", n+1, l)
		}
	}
	r := fleet.NewRand(3)
	s, err := learn.InventCar(r)
	for err != nil {
		s, err = learn.InventCar(r)
	}
	one := learn.Job{Case: s.Case, Found: car.SuctionBlocked}
	few := make([]learn.Job, learn.LeastJobs-1)
	for i := range few {
		few[i] = one
	}
	if l := learn.Learn(m, few); l.Jobs != 0 || l.Odds != nil || l.Low != 0 || l.High != 0 {
		t.Errorf("learnt %+v from %d jobs", l, len(few))
	}
	sound := learn.Job{Case: s.Case, Found: car.Healthy, After: true}
	sound.Case.Readings = car.Readings{car.Low: {Value: 900e3}, car.High: {Value: 3000e3}}
	many := make([]learn.Job, 0, 4000)
	for range 2000 {
		many = append(many, one, sound)
	}
	l := learn.Learn(m, many)
	if _, err := m.With(l); err != nil {
		t.Errorf("lessons beyond what may be learnt: %v", err)
	}
	if l.Low <= 0 || l.High <= 0 || l.Odds[car.Index(car.SuctionBlocked)] != diagnose.MostOdds {
		t.Errorf("learnt %+v", l)
	}
}

// What the lessons say is exact algebra: with n jobs of which k show a condition the
// Dirichlet mean is (N p + k)/(N + n).
func TestOddsAreDirichlet(t *testing.T) {
	m := model(t)
	jobs := inventedJobs(t, 60, 11)
	l := learn.Learn(m, jobs)
	p := m.Shares()
	count, n := make([]float64, len(p)), 0.0
	for _, j := range jobs {
		if !j.After {
			count[car.Index(j.Found)]++
			n++
		}
	}
	for i := range p {
		want := (learn.PriorJobs*p[i] + count[i]) / (learn.PriorJobs + n) / p[i]
		want = math.Min(math.Max(want, 1/diagnose.MostOdds), diagnose.MostOdds)
		if count[i] == 1 { // one find may be chance
			want = math.Min(want, 1)
		}
		if math.Abs(l.Odds[i]-want) > 1e-12 {
			t.Errorf("%s: factor %g, want %g", car.Conditions()[i], l.Odds[i], want)
		}
	}
}

// A shop just like the survey learns no odds of its own, and one whose needles stand as
// far off as chance puts a hundred cars (a tenth of their spread) no offset; what cannot be
// chance is learnt.
func TestChanceIsNotLearnt(t *testing.T) {
	m := model(t)
	var like, other []learn.Lesson
	for k, p := range m.Shares() {
		for range int(math.Round(200 * p)) {
			like = append(like, learn.Lesson{Found: k, Sound: [][3]diagnose.Gap{{{By: 0.5, Sd: 5}, {By: -0.8, Sd: 8}, {By: 0.3, Sd: 3}}}})
			other = append(other, learn.Lesson{Found: car.Index(car.Air), Sound: [][3]diagnose.Gap{{{By: 4, Sd: 5}, {By: -5, Sd: 8}, {By: 3, Sd: 3}}}})
		}
	}
	if l := learn.Together(m, like); l.Moves() || l.Jobs < 180 {
		t.Errorf("of a shop like the survey: %+v", l)
	}
	if l := learn.Together(m, other); l.Low < 3 || l.High > -3 || l.Vent < 2 || l.Odds == nil {
		t.Errorf("of one that is not: %+v", l)
	}
}

const heading = "month,refrigerant,metering,compressor,outside_C,humidity_percent,altitude_m,rpm,low_kPa,high_kPa,vent_C,found,after\n"

const good = "2026-07,R134a,orifice_tube,fixed,32,50,,1500,210,1500,9,healthy,\n"

// A line that cannot be is refused with its number and its field, and nothing else is
// lost.
func TestRefusalsSayWhere(t *testing.T) {
	for bad, field := range map[string]string{
		"2026-13,R134a,orifice_tube,fixed,32,50,,1500,210,1500,9,healthy,\n":                          "month",
		"2026-07-14,R134a,orifice_tube,fixed,32,50,,1500,210,1500,9,healthy,\n":                       "month",
		"2026-07,R22,orifice_tube,fixed,32,50,,1500,210,1500,9,healthy,\n":                            "refrigerant",
		"2026-07,R134a,capillary,fixed,32,50,,1500,210,1500,9,healthy,\n":                             "metering",
		"2026-07,R134a,orifice_tube,steam,32,50,,1500,210,1500,9,healthy,\n":                          "compressor",
		"2026-07,R134a,orifice_tube,fixed,,50,,1500,210,1500,9,healthy,\n":                            "outside_C",
		"2026-07,R134a,orifice_tube,fixed,90,50,,1500,210,1500,9,healthy,\n":                          "", // °F: beyond the door
		"2026-07,R134a,orifice_tube,fixed,NaN,50,,1500,210,1500,9,healthy,\n":                         "outside_C",
		"2026-07,R134a,orifice_tube,fixed,32,lots,,1500,210,1500,9,healthy,\n":                        "humidity_percent",
		"2026-07,R134a,orifice_tube,fixed,32,50,x,1500,210,1500,9,healthy,\n":                         "altitude_m",
		"2026-07,R134a,orifice_tube,fixed,32,50,,fast,210,1500,9,healthy,\n":                          "rpm",
		"2026-07,R134a,orifice_tube,fixed,32,50,,1500,310/150,1500,9,healthy,\n":                      "low_kPa",
		"2026-07,R134a,orifice_tube,fixed,32,50,,1500,,,,healthy,\n":                                  "", // nothing read
		"2026-07,R134a,orifice_tube,fixed,32,50,,1500,210,15000000,9,healthy,\n":                      "", // Pa for kPa
		"2026-07,R134a,orifice_tube,fixed,32,50,,1500,210,1500,5/9,healthy,\n":                        "vent_C",
		"2026-07,R134a,orifice_tube,fixed,32,50,,1500,210,1500,9,gremlins,\n":                         "found",
		"2026-07,R134a,orifice_tube,fixed,32,50,,1500,210,1500,9,undercharge,yes\n":                   "after",
		"2026-07,R134a,orifice_tube,fixed,32,50,,1500,210,1500,9,healthy,perhaps\n":                   "after",
		"2026-07,<script>,orifice_tube,fixed,32,50,,1500,210,1500,9,healthy,\n":                       "refrigerant",
		"2026-07,R134a,orifice_tube,fixed,32,50,,1500,210,1500,9," + strings.Repeat("x", 500) + ",\n": "found",
		"2026-07,R134a,orifice_tube\n":                                                                "",
		good:                                                                                          "", // there before
	} {
		jobs, refused := read(t, heading+good+bad+"2026-08,R134a,orifice_tube,fixed,30,50,,1500,200,1400,8,healthy,\n")
		if len(jobs) != 2 || len(refused) != 1 || refused[0].Line != 3 || refused[0].Field != field || !strings.HasPrefix(refused[0].Error(), "shop.csv:3: ") {
			t.Errorf("%q: %d jobs, refused %v, want field %q of line 3", bad, len(jobs), refused, field)
		}
	}
}

// Doubles are known across files; headings are held to the documented ones.
func TestFilesTogether(t *testing.T) {
	rd := learn.NewReader()
	if _, _, err := rd.Read("a.csv", strings.NewReader(heading+good)); err != nil {
		t.Fatal(err)
	}
	_, refused, err := rd.Read("b.csv", strings.NewReader(heading+good))
	if err != nil || len(refused) != 1 || !strings.Contains(refused[0].Error(), "a.csv:2") {
		t.Errorf("the same car in another file: %v, %v", refused, err)
	}
	for _, bad := range []string{"", "name,outside_C,found\n", "outside_C,found,found\n", "outside_C\n", "\x00\xff"} {
		if _, _, err := rd.Read("c.csv", strings.NewReader(bad)); err == nil {
			t.Errorf("heading %q was read", bad)
		}
	}
}

// A file of a hundred thousand lines is read in seconds, and hostile text in it is text.
func TestLongFile(t *testing.T) {
	if testing.Short() {
		t.Skip("reads 100,000 lines")
	}
	var b strings.Builder
	b.WriteString(heading)
	for i := range 100_000 {
		fmt.Fprintf(&b, "2026-07,R134a,orifice_tube,fixed,%.2f,50,,1500,%d,1500,9,healthy,\n", 20+float64(i%1000)/100, 150+i/1000)
	}
	jobs, refused := read(t, b.String())
	if len(jobs)+len(refused) != 100_000 || len(jobs) < 99_000 {
		t.Errorf("%d jobs, %d refused", len(jobs), len(refused))
	}
}

func FuzzRead(f *testing.F) {
	f.Add(heading + good)
	f.Add(heading + "\"\n,,,,\xff")
	m := model(f)
	f.Fuzz(func(t *testing.T, text string) {
		jobs, _, _ := learn.NewReader().Read("x.csv", strings.NewReader(text))
		for _, j := range jobs {
			if _, err := m.Ask(j.Case); err != nil {
				t.Errorf("taken, but %v", err)
			}
		}
	})
}
