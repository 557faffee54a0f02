package page_test

import (
	"fmt"
	"math"
	"net/url"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/pagetest"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/learn"
	"twoneedles/refrig/unit"
)

const psi = 6894.757

func theModel(t testing.TB) *diagnose.Model {
	t.Helper()
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// expected is the reading of q that is just what the tables expect of a sound car.
func expected(m *diagnose.Model, c car.Case, q car.Quantity, place int) float64 {
	lo, hi := 100e3, 4000e3
	if q == car.Vent {
		lo, hi = 250, 320
	}
	for range 60 {
		mid := (lo + hi) / 2
		c.Readings = car.Readings{q: {Value: mid}}
		g, err := m.Gaps(c)
		if err != nil {
			panic(err)
		}
		if g[place].By > 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo
}

// ofShop is confirmed job i of an invented shop: on a 30 °C day, found as said, and read
// after its repair with the low side, high side and vent as far above the tables as said.
func ofShop(m *diagnose.Model, i int, found car.ConditionID, low, high, vent float64) job.Job {
	j := job.New(time.Date(2026, 4, 1, 9, 0, i, 0, time.UTC), unit.US())
	j.Title, j.Repair.Cause, j.Repair.FoundAt = "Invented", string(found), j.Created
	j.Before.SetText(present.Ambient, "86")
	j.Before.SetReading(car.Low, job.Reading{Text: "12"})
	j.Before.SetReading(car.High, job.Reading{Text: "120"})
	c, _ := j.Case()
	sound := [3]float64{expected(m, c, car.Low, 0), expected(m, c, car.High, 1), expected(m, c, car.Vent, 2)}
	j.After.Sound = true
	j.After.SetReading(car.Low, job.Reading{Text: fmt.Sprintf("%.1f", sound[0]/psi+low)})
	j.After.SetReading(car.High, job.Reading{Text: fmt.Sprintf("%.1f", sound[1]/psi+high)})
	j.After.SetReading(car.Vent, job.Reading{Text: fmt.Sprintf("%.1f", 1.8*(sound[2]-273.15)+32+vent)})
	return j
}

// shop is a device that keeps n such jobs, of which the first short are a shortage and the
// others air.
func shop(t testing.TB, n, short int, low, high, vent float64) job.Memory {
	t.Helper()
	m, device := theModel(t), job.Memory{}
	store := job.NewStore(device)
	for i := range n {
		found := car.Air
		if i < short {
			found = car.Undercharge
		}
		if err := store.Save(ofShop(m, i, found, low, high, vent)); err != nil {
			t.Fatal(err)
		}
	}
	return device
}

// What is said is what was put in, each by hand: how many jobs, which side of the tables
// and by how much in which unit, and what share. Sixty proved readings hold their own
// against a prior of 2 K: of 4 psi above the tables, at least 3 are believed.
func TestTheSentenceOfWhatWasLearnt(t *testing.T) {
	m := theModel(t)
	share := m.Shares()[car.Index(car.Undercharge)]
	was := int(math.Round(1 / share))
	is := int(math.Round((100 + 60) / (100*share + 50))) // Dirichlet: the survey counts as 100 jobs
	for _, k := range []struct {
		low, high, vent float64
		want, never     string
	}{
		{4, 0, 0, `low sides stand [34] psi higher than our tables say; more often here`, "lower|high sides|vent"},
		{-4, 0, 0, `low sides stand [34] psi lower than our tables say; more often here`, "higher|high sides|vent"},
		{0, 30, 0, `: sound high sides stand (2[0-9]|30) psi higher than our tables say; more`, "lower|low sides|vent"},
		{0, -30, 0, `: sound high sides stand (2[0-9]|30) psi lower than our tables say; more`, "higher|low sides|vent"},
		{0, 0, 6, `: the vent of sound cars is [56] °F warmer than our tables say; more`, "sides|colder"},
		{0, 0, -6, `: the vent of sound cars is [56] °F colder than our tables say; more`, "sides|warmer"},
		{0, 0, 0, `^Learnt from 60 jobs here: more often here: a shortage of refrigerant`, "tables|rarer"},
	} {
		b := pagetest.New(t, shop(t, 60, 50, k.low, k.high, k.vent), nil).Three("28", "200", "86")
		said := b.Page.Learnt().Says()
		if !matches(k.want, said) || matches(k.never, said) {
			t.Errorf("low %+g, high %+g psi, vent %+g °F: %q", k.low, k.high, k.vent, said)
		}
		if want := fmt.Sprintf("a shortage of refrigerant (1 in %d instead of 1 in %d).", is, was); !strings.HasPrefix(said, "Learnt from 60 jobs here: ") || !strings.HasSuffix(said, want) {
			t.Errorf("%q, want it to end with %q", said, want)
		}
		if is >= was {
			t.Fatalf("%d and %d: the test is empty", is, was)
		}
		if k.low > 0 {
			b.Do(func() { b.Page.SetUnit(unit.GaugePressure, unit.KPa) })
			if said := b.Page.Learnt().Says(); !matches(`low sides stand (2[0-9]|30) kPa higher`, said) { // 4 psi are 28 kPa
				t.Errorf("in kPa: %q", said)
			}
		}
	}
}

func matches(pattern, text string) bool { return regexp.MustCompile(pattern).MatchString(text) }

// What is not confirmed teaches nothing, nor what is invented, nor the job at hand; from
// one job fewer than the least nothing is learnt.
func TestWhoTeaches(t *testing.T) {
	m := theModel(t)
	device := shop(t, learn.LeastJobs, learn.LeastJobs, 0, 0, 0)
	store := job.NewStore(device)
	loose := ofShop(m, 100, car.Air, 0, 0, 0)
	loose.Repair.FoundAt, loose.After.Sound = time.Time{}, false
	invented := ofShop(m, 101, car.Air, 0, 0, 0)
	invented.Example = "old_pickup_half_charge"
	copied := ofShop(m, 0, car.Undercharge, 0, 0, 0) // what two windows make of a job in which both typed
	copied.Notes = "Invented"
	for _, j := range []job.Job{loose, invented, copied} {
		if err := store.Save(j); err != nil {
			t.Fatal(err)
		}
	}
	b := pagetest.New(t, device, nil).Three("28", "200", "86")
	if said := b.Page.Learnt().Says(); !strings.HasPrefix(said, fmt.Sprintf("Learnt from %d jobs", learn.LeastJobs)) {
		t.Errorf("%q", said)
	}
	list, _ := b.Page.Entries()
	for _, e := range list {
		if e.Cause != string(car.Undercharge) {
			continue
		}
		j, err := b.Page.Store().Look(e.ID)
		if err != nil {
			t.Fatal(err)
		}
		b.Do(func() { b.Page.Open(j) })
		break
	}
	if said := b.Page.Learnt().Says(); said != "" {
		t.Errorf("one of %d jobs is at hand, and still: %q", learn.LeastJobs, said)
	}
	b.Do(b.Page.NewJob)
	if b.Page.Learnt().Says() == "" {
		t.Error("it does not teach once another is at hand")
	}
}

// Off, the answer is to the last bit that of a device without jobs; on, another. It stays
// off when the page is opened again, and the proof of a repair never takes it. Forgotten,
// it is gone until it is taken back, and then the same.
func TestLearntOffAndForgotten(t *testing.T) {
	device := shop(t, 60, 50, 4, 0, 0)
	ask := func(b *pagetest.Screen) (answer, proof page.Answer) {
		b.Three("24", "190", "86").Enter("vent", "58")
		b.Do(func() {
			b.Page.Job.After.SetReading(car.Low, job.Reading{Text: "34"})
			b.Page.Job.After.SetReading(car.High, job.Reading{Text: "200"})
			b.Page.Edited()
		})
		b.Do(func() { b.Page.After() })
		answer, proof = *b.Page.Answer(), *b.Page.After()
		for _, a := range []*page.Answer{&answer, &proof} {
			if a.State != page.Answered {
				t.Fatalf("no answer: %d, %v", a.State, a.Failure)
			}
			a.Rev, a.PlanRev = 0, 0
		}
		return answer, proof
	}
	plain, proof := ask(pagetest.New(t, job.Memory{}, nil))
	b := pagetest.New(t, device, nil)
	hold := func(when string, learnt bool) {
		t.Helper()
		a, p := ask(b)
		if reflect.DeepEqual(a, plain) == learnt {
			t.Errorf("%s: the answer takes what was learnt: %v, want %v", when, !learnt, learnt)
		}
		if !reflect.DeepEqual(p, proof) {
			t.Errorf("%s: the proof is another", when)
		}
	}
	hold("on", true)
	first := b.Page.Learnt().Says()
	link := linked(t, b)
	b.Do(func() { b.Page.Learnt().Use(false) })
	hold("off", false)
	if off := linked(t, b); job.Difference(off, link) != "" || link.Learnt != 60 || off.Learnt != 0 {
		t.Errorf("the link says of what was learnt %d, without it %d; they differ in %q", link.Learnt, off.Learnt, job.Difference(off, link))
	}
	b = pagetest.New(t, device, nil)
	hold("off, opened again", false)
	b.Do(func() { b.Page.Learnt().Use(true) })
	hold("on again", true)
	b = pagetest.New(t, device, nil)
	hold("on, opened again", true)
	b.Do(func() { b.Page.Learnt().Forget(true) })
	hold("forgotten", false)
	if said := b.Page.Learnt().Says(); said != "" {
		t.Errorf("forgotten: %q", said)
	}
	b = pagetest.New(t, device, nil)
	hold("forgotten, opened again", false)
	b.Do(func() { b.Page.Learnt().Forget(false) })
	hold("taken back", true)
	if said := b.Page.Learnt().Says(); said != first {
		t.Errorf("taken back: %q, want %q", said, first)
	}
	for key, text := range device {
		if strings.HasPrefix(key, job.KeyPrefix) && strings.Contains(text, "esson") {
			t.Errorf("a job holds what was learnt: %s", text)
		}
	}
}

// What the device keeps may be damaged: the page starts, answers, and learns anew.
func TestDamagedLessons(t *testing.T) {
	good := shop(t, 30, 30, 0, 0, 0)
	want := pagetest.New(t, good, nil).Three("28", "200", "86").Page.Learnt().Says()
	for _, text := range []string{"", "{", `{"lessons":{"jobs":9,"low_K":99}}`, `{"lessons":{"jobs":9,"odds":[1]}}`, `{"lessons":{"jobs":9},"told":{"Fault":"air","Was":0,"Is":-1}}`} {
		good["twoneedles.learnt"] = text
		b := pagetest.New(t, good, nil)
		b.Sound(text)
		b.Three("28", "200", "86").Answered(text)
		if said := b.Page.Learnt().Says(); said != want || said == "" {
			t.Errorf("%s: %q, want %q", text, said, want)
		}
	}
}

// counted counts how often a job is read.
type counted struct {
	job.Memory
	read *int
}

func (c counted) Get(key string) (string, bool, error) {
	if strings.HasPrefix(key, job.KeyPrefix) {
		*c.read++
	}
	return c.Memory.Get(key)
}

// Nothing is looked over while one types: a key reads the job at hand at most. Nor is a
// job read, beyond its line in the list, when the page is opened again and none has changed.
func TestNothingIsLearntAtAKey(t *testing.T) {
	n := 0
	device := counted{shop(t, 60, 50, 4, 0, 0), &n}
	b := pagetest.New(t, device, nil)
	if n < 120 {
		t.Fatalf("%d jobs read: the test is empty", n)
	}
	said := b.Page.Learnt().Says()
	b.Three("28", "200", "86")
	n = 0
	for _, text := range []string{"2", "29", "29.", "29.5"} {
		b.Enter("low", text)
	}
	if n > 2*4 {
		t.Errorf("%d jobs read at 4 keys", n)
	}
	b.Do(b.Page.Save)
	n = 0
	if b = pagetest.New(t, device, nil); n > 60+10 {
		t.Errorf("%d jobs read on opening the page again", n)
	}
	if again := b.Page.Learnt().Says(); again != said || said == "" {
		t.Errorf("opened again: %q, before %q", again, said)
	}
}

// A visit marked as of a car in order says where its needles stood, and nothing of how
// often cars are: whoever marks rulers does not count his sound cars.
func TestSoundMarksTeachNoOdds(t *testing.T) {
	m, device := theModel(t), job.Memory{}
	store := job.NewStore(device)
	for i := range 60 {
		j := ofShop(m, i, "", 4, 0, 0)
		j.Repair = job.Repair{}
		j.Before.Readings, j.Before.Sound = j.After.Readings, true
		j.After = job.Visit{}
		if err := store.Save(j); err != nil {
			t.Fatal(err)
		}
	}
	said := pagetest.New(t, device, nil).Page.Learnt().Says()
	if !strings.Contains(said, "Learnt from 60 jobs here: sound low sides stand") || matches("often|rarer", said) {
		t.Errorf("%q", said)
	}
}

// Whoever is shown a job by a link sees the answer that its sender's customer sees: without
// what this device has learnt.
func TestAGuestsAnswerTakesNothing(t *testing.T) {
	from := pagetest.New(t, job.Memory{}, nil).Three("24", "190", "86")
	link := from.Page.Job.Link()
	b := pagetest.New(t, shop(t, 60, 50, 4, 0, 0), nil)
	arrive := func(path string) *diagnose.Report {
		b.Page.Ctx.Dispatch(func(ctx app.Context) {
			ctx.Page().ReplaceURL(&url.URL{Path: path, Fragment: link})
			b.Page.Arrive(ctx)
		})
		b.Do(func() {}).Answered(path)
		return &b.Page.Answer().Report
	}
	want := from.Page.Answer().Report.Ranking
	if got := arrive("/tell").Ranking; !reflect.DeepEqual(got, want) {
		t.Errorf("a guest sees %v, the sender %v", got[0], want[0])
	}
	if got := arrive("/").Ranking; reflect.DeepEqual(got, want) {
		t.Error("taken in, the answer is still the sender's: the test is empty")
	}
}

// linked is the job that opens from the link to the readings.
func linked(t *testing.T, b *pagetest.Screen) job.Job {
	t.Helper()
	_, fragment, _ := strings.Cut(b.Page.LinkReadings(), "#")
	j, _, err := job.OpenLink(fragment)
	if err != nil {
		t.Fatal(err)
	}
	j.ID = ""
	return j
}

// learntLine is what stands below the answer, as the places show it.
func learntLine(b *pagetest.Screen) string {
	line := b.Page.Learnt().Line()
	if line == nil {
		return ""
	}
	return app.HTMLString(line)
}

// A job says from how many jobs its answer had learnt, and where that was another number
// this is said below the answer: of a job that is opened later, of a link that is opened
// where nothing or something was learnt. Once it is edited here its answer is of here.
func TestAJobSaysWhatItsAnswerHadLearnt(t *testing.T) {
	differs := "that answer may differ from this one"
	without, device := "last answered without that", shop(t, 60, 50, 4, 0, 0)
	here := pagetest.New(t, device, nil).Three("24", "190", "86")
	plain := pagetest.New(t, job.Memory{}, nil).Three("24", "190", "86")
	if text := learntLine(here); strings.Contains(text, "last answered") {
		t.Errorf("of a job that was just typed: %q", text)
	}
	stored := here.Page.Job
	if stored.Learnt != 60 || plain.Page.Job.Learnt != 0 {
		t.Fatalf("%d and %d", stored.Learnt, plain.Page.Job.Learnt)
	}
	for _, k := range []struct {
		name        string
		of          job.Job
		at          *pagetest.Screen
		want, never string
	}{
		{"opened again", stored, here, "Learnt from 60 jobs here", "last answered"},
		{"from here, where nothing was learnt", linked(t, here), plain, "with what 60 jobs had taught: " + differs, "Learnt from|button"},
		{"from where nothing was learnt", linked(t, plain), here, "(?s)Learnt from 60 jobs here.*" + without, differs},
		{"from where nothing was, where nothing is", linked(t, plain), plain, "^$", "."},
	} {
		k.of.ID = job.NewID()
		k.at.Do(func() { k.at.Page.Open(k.of) }).Answered(k.name)
		if text := learntLine(k.at); !matches(k.want, text) || matches(k.never, text) {
			t.Errorf("%s: %q", k.name, text)
		}
	}
	here.Do(func() { here.Page.Open(linked(t, plain)) })
	here.Enter("low", "25")
	if text := learntLine(here); here.Page.Job.Learnt != 60 || strings.Contains(text, "last answered") {
		t.Errorf("edited here: %d, %q", here.Page.Job.Learnt, text)
	}
	lent := here.Page.FirstExample()
	here.Do(func() { here.Page.Lend(lent) })
	if text := learntLine(here); strings.Contains(text, "last answered") {
		t.Errorf("of an invented car: %q", text)
	}
}

// What was chosen in one window stands although another, which has not heard of it,
// learns or chooses the other thing.
func TestTwoWindowsChoose(t *testing.T) {
	device := shop(t, 60, 50, 4, 0, 0)
	a, b := pagetest.New(t, device, nil).Three("24", "190", "86"), pagetest.New(t, device, nil)
	learn := func(i int) {
		a.Do(func() {
			if err := a.Page.Store().Save(ofShop(theModel(t), i, car.Air, 0, 0, 0)); err != nil {
				t.Fatal(err)
			}
			a.Page.StoredAnew()
		})
	}
	says := func() string { return pagetest.New(t, device, nil).Page.Learnt().Says() }
	b.Do(func() { b.Page.Learnt().Use(false) })
	learn(100)
	if text := device["twoneedles.learnt"]; !strings.Contains(text, `"off":true`) || !strings.Contains(text, `"jobs":61`) {
		t.Errorf("left out in b, learnt in a: %.60s", text)
	}
	b.Do(func() { b.Page.Learnt().Forget(true) })
	a.Do(func() { a.Page.Learnt().Use(true) })
	if text := says(); text != "" || strings.Contains(device["twoneedles.learnt"], `"off":true`) {
		t.Errorf("forgotten in b, used in a: %q, %.60s", text, device["twoneedles.learnt"])
	}
	a.Do(func() { a.Page.Learnt().Forget(false) })
	b.Do(func() { b.Page.Learnt().Use(false) })
	if text := says(); !strings.HasPrefix(text, "Learnt from 61 jobs here") || !strings.Contains(device["twoneedles.learnt"], `"off":true`) {
		t.Errorf("taken back in a, left out in b: %q", text)
	}
}
