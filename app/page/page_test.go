package page_test

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/pagetest"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/catalogue"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// conditionPage is the page of a condition as its row opens it.
func conditionPage(pg *page.Page, id car.ConditionID) string {
	rows := page.Unfolder{On: pg, Open: map[car.ConditionID]bool{id: true}}
	return app.HTMLString(rows.Page(id))
}

// The numbers between: 28.5 psi is 1.9650 bar, and a hundredth of a bar says less than
// a tenth of a psi; 22 and 45 psi are 1.517 and 3.103, 500 psi 34.474 bar; whole
// degrees say no less than whole degrees Fahrenheit.
// Switching units and back gives back what was typed, to the letter.
func TestUnitsThereAndBack(t *testing.T) {
	b := pagetest.New(t, job.Memory{}, nil).Three("28.5", "22-45", "91").Enter("vent", "52").Enter("resting", "1.9 bar").Enter("high_idle", ">500")
	want := map[string]string{"low": "28.5", "high": "22-45", "ambient": "91", "vent": "52", "resting": "1.9 bar", "high_idle": ">500"}
	set := func(k unit.Kind, u unit.Unit) {
		b.Do(func() { b.Page.SetUnit(k, u) })
	}
	set(unit.GaugePressure, unit.Bar)
	set(unit.Temperature, unit.Celsius)
	for id, text := range map[string]string{
		"low": "1.965", "high": "1.52 to 3.10", "ambient": "33", "vent": "11", "resting": "1.9 bar", "high_idle": ">34.47",
	} {
		if got := b.Typed(id); got != text {
			t.Errorf("%s in metric units: %q, want %q", id, got, text)
		}
	}
	if c := b.Page.Case().Readings[car.Low].Value; c < 196e3 || c > 198e3 { // 28.5 psi is 196.5 kPa
		t.Errorf("low side became %g Pa", c)
	}
	set(unit.GaugePressure, unit.KPa)
	set(unit.GaugePressure, unit.PSI)
	set(unit.Temperature, unit.Fahrenheit)
	for id, text := range want {
		if got := b.Typed(id); got != text {
			t.Errorf("%s came back as %q, want %q", id, got, text)
		}
	}
}

// Numbers typed before the unit was chosen stay when the page was just asking
// whether they are in it.
func TestUnitChosenAfterTyping(t *testing.T) {
	b := pagetest.New(t, job.Memory{}, nil).Three("30", "210", "32")
	b.Do(func() { b.Page.SetUnit(unit.Temperature, unit.Celsius) })
	if got := b.Typed("ambient"); got != "32" {
		t.Errorf("ambient became %q, want 32", got)
	}
}

func TestSwingingNeedleKeepsBothTexts(t *testing.T) {
	b := pagetest.New(t, job.Memory{}, nil).Three("30", "210", "90")
	swing := func(on bool) { b.Do(func() { b.Page.SetSwing(car.Low, on) }) }
	swing(true)
	b.Enter("low-lo", "22").Enter("low-hi", "44")
	if r := b.Page.Case().Readings[car.Low]; !r.Swing || r.Hi < 300e3 || r.Hi > 305e3 { // 44 psi is 303.4 kPa
		t.Errorf("the model sees %+v", r)
	}
	swing(false)
	if got := b.Typed("low"); got != "30" {
		t.Errorf("the steady reading became %q", got)
	}
	swing(true)
	if lo, hi := b.Typed("low-lo"), b.Typed("low-hi"); lo != "22" || hi != "44" {
		t.Errorf("the swing became %q to %q", lo, hi)
	}
}

func TestJobSurvivesClosing(t *testing.T) {
	device := job.Memory{}
	pagetest.New(t, device, nil).Three("31", "211", "88").Enter("vent", "51")
	b := pagetest.New(t, device, nil)
	if b.Typed("low") != "31" || b.Typed("vent") != "51" || b.Page.Job.Example != "" {
		t.Errorf("what was typed is gone: %+v", b.Page.Job)
	}
	if b.Page.Answer().State != page.Answered {
		t.Error("no answer after reopening")
	}
}

// stubborn is a device that refuses to keep anything until it is told to.
type stubborn struct {
	job.Memory
	err error
}

func (s *stubborn) Set(k, v string) error {
	if s.err != nil {
		return s.err
	}
	return s.Memory.Set(k, v)
}

func TestFullDeviceIsSaidOnceAndWorkGoesOn(t *testing.T) {
	device := &stubborn{job.Memory{}, fmt.Errorf("%w: no room", job.ErrFull)}
	b := pagetest.New(t, device, nil).Three("31", "211", "88")
	if b.Page.Notice().Text == "" {
		t.Fatal("nothing was said")
	}
	b.Do(func() { b.Page.Say("") }).Enter("low", "32")
	if got := b.Page.Notice().Text; got != "" {
		t.Errorf("said again: %q", got)
	}
	if b.Page.Answer().State != page.Answered {
		t.Error("work stopped")
	}
	device.err = nil
	b.Enter("low", "33")
	if again := pagetest.New(t, device, nil); again.Typed("low") != "33" {
		t.Error("not kept although there is room again")
	}
}

func TestLinkOpensWithoutLosingWhatWasThere(t *testing.T) {
	shared := pagetest.New(t, job.Memory{}, nil).Three("25", "180", "80")
	device := job.Memory{}
	b := pagetest.New(t, device, nil).Three("31", "211", "88")
	b.At(shared.Page.Job.Link())
	if b.Typed("low") != "25" {
		t.Error("the link was not opened")
	}
	if j := b.Page.Job; time.Since(j.Created) > time.Hour || j.Updated != j.Created {
		t.Errorf("the list says that it is of %v", j.Updated)
	}
	jobs, _, _ := b.Page.Store().List()
	var lows []string
	for _, j := range jobs {
		lows = append(lows, j.Before.Readings[car.Low].Text)
	}
	if !strings.Contains(strings.Join(lows, " "), "31") {
		t.Errorf("the job that was there is gone; kept: %v", lows)
	}
	b.At("j1.damaged")
	if b.Page.Notice().Text == "" {
		t.Error("nothing is said of a damaged link")
	}
	if b.Typed("low") != "25" {
		t.Error("a damaged link changed the job")
	}
	b.Do(func() { b.Page.Undo() })
	if b.Typed("low") != "31" {
		t.Error("undo did not bring back what was there")
	}
}

// Looking at examples leaves no trace among the jobs, but reloading finds the one
// that is open.
func TestLentJobsAreNotKept(t *testing.T) {
	device := job.Memory{}
	b := pagetest.New(t, device, nil).Three("31", "211", "88")
	for _, name := range []string{"taxi_air_inside", "small_hatchback_poor_air"} {
		b.Do(func() { b.Page.Lend(b.Page.Example(name)) })
	}
	if again := pagetest.New(t, device, nil); again.Page.Job.Example != "small_hatchback_poor_air" {
		t.Errorf("reloading finds %q", again.Page.Job.Example)
	}
	count := func() int { jobs, _, _ := b.Page.Store().List(); return len(jobs) }
	if n := count(); n != 2 { // ours and the one that is open
		t.Errorf("%d jobs are kept, want 2", n)
	}
	b.Enter("low", "2.5").Do(func() { b.Page.Lend(b.Page.Example("taxi_air_inside")) })
	if n := count(); n != 3 { // a changed example is the user's
		t.Errorf("%d jobs are kept, want 3", n)
	}
}

func TestExampleCanBeUndone(t *testing.T) {
	b := pagetest.New(t, job.Memory{}, nil).Three("31", "211", "88")
	b.Do(func() { b.Page.Open(b.Page.Example("small_hatchback_poor_air")) })
	if !b.Page.CanUndo() {
		t.Fatal("no way back")
	}
	b.Do(func() { b.Page.Undo() })
	if b.Typed("low") != "31" {
		t.Error("not brought back")
	}
}

// Every condition has its page whole, from blocks and without markup; every source
// it names leads to its entry.
func TestConditionPagesAreWhole(t *testing.T) {
	b := pagetest.New(t, job.Memory{}, nil)
	w := b.Page.Words
	bare := regexp.MustCompile(`[^>]\[[A-Z][A-Za-z0-9]+\]`)
	for _, id := range car.Conditions() {
		html := conditionPage(b.Page, id)
		for _, part := range []string{"needles", "why", "next", "before", "sources"} {
			if !strings.Contains(html, w.T("catalogue."+part)) {
				t.Errorf("%s: no part %s", id, part)
			}
		}
		page, err := catalogue.Page(id)
		if err != nil {
			t.Fatal(err)
		}
		for _, src := range page.Sources {
			if src.Key != "" && !strings.Contains(html, "/sources#ref-"+src.Key+`"`) {
				t.Errorf("%s: %s cannot be followed", id, src.Key)
			}
		}
		if m := bare.FindString(html); m != "" {
			t.Errorf("%s: %s leads nowhere", id, m)
		}
		if strings.Contains(html, " style=") || strings.Contains(html, "⟨") || strings.Contains(html, "**") || strings.Contains(html, "`") {
			t.Errorf("%s: a style, a missing word or raw markup", id)
		}
	}
}

// A reading is one number wherever it is said: in its reason, in the picture with its
// sentence and table, and against the weather, as it was typed, in every unit.
func TestReadingIsOneNumberEverywhere(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 4))
	typed := func(lo, hi float64, decimals int) string {
		return strconv.FormatFloat(lo+(hi-lo)*dice.Float64(), 'f', decimals, 64)
	}
	for _, c := range []struct {
		pressure, temperature unit.Unit
		size                  float64 // of a psi in the unit of pressure
		decimals              int     // most a person would type
	}{{unit.PSI, unit.Fahrenheit, 1, 1}, {unit.KPa, unit.Celsius, 6.894757, 0}, {unit.Bar, unit.Celsius, 0.06894757, 3}} {
		for round := range 8 {
			d := dice.IntN(c.decimals + 1)
			low, high := typed(20*c.size, 45*c.size, max(d, c.decimals-1)), typed(150*c.size, 300*c.size, d)
			ambient := typed(70, 100, d%2)
			if c.temperature == unit.Celsius {
				ambient = typed(22, 38, d%2)
			}
			b := pagetest.New(t, job.Memory{}, nil).Three("30", "210", "90")
			b.Do(func() {
				b.Page.Job.Units.Pressure, b.Page.Job.Units.Temperature = c.pressure, c.temperature
			}).Enter("low", low).Enter("high", high).Enter("ambient", ambient)
			r := b.Page.Case().Readings
			for q, text := range map[car.Quantity]string{car.Low: low, car.High: high} {
				want := number(t, text)
				reason, _, _ := strings.Cut(b.Page.Voice().Reading(q, r[q]), " ")
				if number(t, reason) != want {
					t.Errorf("%s %s %s: the reason says %s", q, text, c.pressure, reason)
				}
				column := map[car.Quantity]int{car.Low: 1, car.High: 2}[q]
				o := b.Page.ChartOptions("plane")
				f, err := chart.Plane(b.Page.Answer().Plane, page.ChartReading(b.Page.Case()), nil, o)
				if err != nil {
					t.Fatal(err)
				}
				w, err := chart.Weather([]diagnose.WeatherBand{{Ambient: 270}, {Ambient: 320}}, chart.At{Reading: page.ChartReading(b.Page.Case()), Ambient: b.Page.Case().Weather.Ambient}, nil, o)
				if err != nil {
					t.Fatal(err)
				}
				for what, text := range map[string]string{"plane": f.Table.Rows[0][column], "weather": w.Table.Rows[0][column+1]} {
					if number(t, text) != want {
						t.Errorf("round %d, %s %s %s: the table of the %s says %s", round, q, low, c.pressure, what, text)
					}
				}
				for what, all := range map[string]string{"plane": f.SVG, "weather": w.SVG, "sentence": f.Summary} {
					if !slices.ContainsFunc(numbers.FindAllString(tags.ReplaceAllString(all, " "), -1), func(n string) bool { return number(t, n) == want }) {
						t.Errorf("%s %s %s is not said in the %s", q, text, c.pressure, what)
					}
				}
			}
		}
	}
}

var (
	tags    = regexp.MustCompile(`<[^>]*>`)
	numbers = regexp.MustCompile(`[\d.]*\d`)
)

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("%q is no number", text)
	}
	return x
}

// Whoever opens a link is told of a job he had before if there was one, and only then.
func TestLinkSaysWhetherThereWasAJob(t *testing.T) {
	shared := pagetest.New(t, job.Memory{}, nil).Three("25", "180", "80").Page.Job.Link()
	const had = "had before"
	for what, b := range map[string]*pagetest.Screen{
		"an empty page": pagetest.New(t, job.Memory{}, nil),
		"an example":    pagetest.New(t, job.Memory{}, nil),
		"a job":         pagetest.New(t, job.Memory{}, nil).Three("31", "211", "88"),
	} {
		if what == "an example" {
			b.Do(func() { b.Page.Lend(b.Page.FirstExample()) })
		}
		said := b.At(shared).Page.Notice().Text
		if !strings.HasPrefix(said, "Opened from a link.") || strings.Contains(said, had) != (what == "a job") {
			t.Errorf("after %s: %q", what, said)
		}
	}
}

// Edits are taken back one field at a time and made again, to the letter; another job
// has no edits to take back, and there is an end to what is kept.
func TestStepsBackAndForth(t *testing.T) {
	b := pagetest.New(t, job.Memory{}, nil)
	state := func() string { return b.Typed("low") + "/" + b.Typed("high") + "/" + b.Typed("ambient") }
	back, forth := func() { b.Do(b.Page.StepBack) }, func() { b.Do(b.Page.StepForward) }
	back() // nothing happens
	for _, text := range []string{"2", "28", "28 "} {
		b.Enter("low", text)
	}
	b.Enter("high", "210").Enter("ambient", "9").Enter("ambient", "90")
	for i, want := range []string{"28 /210/", "28 //", "//", "//"} {
		if back(); state() != want {
			t.Errorf("step %d back: %q, want %q", i+1, state(), want)
		}
	}
	for i, want := range []string{"28 //", "28 /210/", "28 /210/90", "28 /210/90"} {
		if forth(); state() != want {
			t.Errorf("step %d forth: %q, want %q", i+1, state(), want)
		}
	}
	b.Answered("after steps")
	back()
	b.Enter("low", "30")
	if forth(); state() != "30/210/" || b.Page.CanStepForward() {
		t.Errorf("after an edit nothing is to be made again: %q", state())
	}
	for i := range 300 {
		b.Enter([]string{"low", "high"}[i%2], strconv.Itoa(i))
	}
	n := 0
	for ; b.Page.CanStepBack() && n < 400; n++ {
		back()
	}
	if n != 100 { // mostSteps
		t.Errorf("%d steps are kept", n)
	}
	b.Enter("low", "31").Do(b.Page.NewJob)
	if b.Page.CanStepBack() {
		t.Error("the edits of another job could be taken back")
	}
}

// The check that would settle it is promised to the customer until it was made; a car
// whose charge is out has nothing left to measure, on the card and beside it.
func TestWhatWasDoneIsNotPromised(t *testing.T) {
	b := pagetest.New(t, job.Memory{}, nil)
	b.Three("22-42", "160", "85")
	b.Put(page.TextOf("vent"), "60").Put(page.TextOf("cycling"), "6")
	if said := b.Page.Said(); said.Verdict != diagnose.Named || !strings.Contains(said.Customer, "we will weigh what is left") {
		t.Fatalf("before: %s, %s", said.Verdict, said.Customer)
	}
	b.Put(page.TextOf(present.LabelCharge), "2 lb").Put(page.TextOf("recovered"), "1 lb")
	if said := b.Page.Said(); said.Verdict != diagnose.Named || !strings.Contains(said.Customer, "We weighed what was left") || strings.Contains(said.Customer, "will weigh") {
		t.Errorf("after: %s, %s", said.Verdict, said.Customer)
	}
	b.Three("31", "210", "86")
	b.Put(page.TextOf(present.LabelCharge), "2 lb")
	if len(b.Page.Answer().Report.Next) == 0 || b.Page.Said().Step.Measure == "" {
		t.Fatal("nothing is to be measured before the charge is out")
	}
	b.Put(page.TextOf("recovered"), "1 lb 15 oz")
	if said, next := b.Page.Said(), b.Page.Answer().Report.Next; len(next) > 0 || !strings.Contains(said.Step.Text, "The charge is out") {
		t.Errorf("the charge is out: %q, and then %v", said.Step.Text, next)
	}
}

func TestLeadersLeaveOutHealthyAndTheUnlikely(t *testing.T) {
	got := page.Leaders(diagnose.Report{Ranking: []diagnose.Ranked{
		{ID: car.Healthy, Probability: .5}, {ID: car.Undercharge, Probability: .3},
		{ID: car.NoneOfThese, Probability: .1}, {ID: car.Air, Probability: .09}, {ID: car.Empty, Probability: .01},
	}})
	if len(got) != 2 || got[0] != car.Undercharge || got[1] != car.Air {
		t.Errorf("leaders %v", got)
	}
}

// Above the pressure at which relief devices open nobody is sent to read again: relief
// valves of cars open from about 3.4 MPa, 500 psi (common practice).
func TestAboveReliefIsSwitchedOff(t *testing.T) {
	b := pagetest.New(t, job.Memory{}, nil)
	for _, high := range []string{">500", "510"} {
		said := b.Three("40", high, "95").Page.Said()
		if !strings.Contains(said.Step.Text, "Switch off") || strings.Contains(said.Step.Text, "read again") || !strings.Contains(said.Bar, "Switch off") {
			t.Errorf("%s psi: %q; %q", high, said.Step.Text, said.Bar)
		}
	}
}
