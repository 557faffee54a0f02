package app

import (
	"fmt"
	"math/rand/v2"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// Switching units and back gives back what was typed, to the letter.
func TestUnitsThereAndBack(t *testing.T) {
	b := newBench(t, job.Memory{}).three("28.5", "22-45", "91").enter("vent", "52").enter("resting", "1.9 bar").enter("high_idle", ">500")
	want := map[string]string{"low": "28.5", "high": "22-45", "ambient": "91", "vent": "52", "resting": "1.9 bar", "high_idle": ">500"}
	set := func(k unit.Kind, u unit.Unit) {
		b.do(func(ctx app.Context) { b.s.setUnit(ctx, k, u) })
	}
	set(unit.GaugePressure, unit.Bar)
	set(unit.Temperature, unit.Celsius)
	for id, text := range map[string]string{
		"low": "1.965", "high": "1.52 to 3.10", "ambient": "33", "vent": "11", "resting": "1.9 bar", "high_idle": ">34.47",
	} {
		if got := b.s.text(input{id: present.FieldID(id)}); got != text {
			t.Errorf("%s in metric units: %q, want %q", id, got, text)
		}
	}
	if c := b.s.current.Readings[car.Low].Value; c < 196e3 || c > 198e3 { // 28.5 psi is 196.5 kPa
		t.Errorf("low side became %g Pa", c)
	}
	set(unit.GaugePressure, unit.KPa)
	set(unit.GaugePressure, unit.PSI)
	set(unit.Temperature, unit.Fahrenheit)
	for id, text := range want {
		if got := b.s.text(input{id: present.FieldID(id)}); got != text {
			t.Errorf("%s came back as %q, want %q", id, got, text)
		}
	}
}

// Numbers typed before the unit was chosen stay when the page was just asking
// whether they are in it.
func TestUnitChosenAfterTyping(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "32")
	b.do(func(ctx app.Context) { b.s.setUnit(ctx, unit.Temperature, unit.Celsius) })
	if got := b.s.text(input{id: "ambient"}); got != "32" {
		t.Errorf("ambient became %q, want 32", got)
	}
}

func TestSwingingNeedleKeepsBothTexts(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "90")
	swing := func(on bool) { b.do(func(ctx app.Context) { b.s.setSwing(ctx, car.Low, on) }) }
	swing(true)
	b.enter("low-lo", "22").enter("low-hi", "44")
	if r := b.s.current.Readings[car.Low]; !r.Swing || r.Hi < 300e3 || r.Hi > 305e3 { // 44 psi is 303.4 kPa
		t.Errorf("the model sees %+v", r)
	}
	swing(false)
	if got := b.s.text(input{id: "low"}); got != "30" {
		t.Errorf("the steady reading became %q", got)
	}
	swing(true)
	if lo, hi := b.s.text(input{"low", "lo"}), b.s.text(input{"low", "hi"}); lo != "22" || hi != "44" {
		t.Errorf("the swing became %q to %q", lo, hi)
	}
}

func TestPictureMovesTheReading(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "90")
	b.do(func(ctx app.Context) { b.s.moveTo(ctx, 200e3, 1.5e6) }) // 29.0 and 217.6 psi
	if low, high := b.s.text(input{id: "low"}), b.s.text(input{id: "high"}); low != "29" || high != "218" {
		t.Errorf("the fields say %s and %s, want 29 and 218", low, high)
	}
}

func TestJobSurvivesClosing(t *testing.T) {
	device := job.Memory{}
	newBench(t, device).three("31", "211", "88").enter("vent", "51")
	b := newBench(t, device)
	if b.s.text(input{id: "low"}) != "31" || b.s.text(input{id: "vent"}) != "51" || b.s.job.Example != "" {
		t.Errorf("what was typed is gone: %+v", b.s.job)
	}
	if b.s.answer.state != answered {
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
	b := newBench(t, device).three("31", "211", "88")
	if b.text("banner") == "" {
		t.Fatal("nothing was said")
	}
	b.sound("full device")
	b.do(func(app.Context) { b.s.say(notice{}) }).enter("low", "32")
	if got := b.text("banner"); got != "" {
		t.Errorf("said again: %q", got)
	}
	if b.s.answer.state != answered {
		t.Error("work stopped")
	}
	device.err = nil
	b.enter("low", "33")
	if again := newBench(t, device); again.s.text(input{id: "low"}) != "33" {
		t.Error("not kept although there is room again")
	}
}

func TestLinkOpensWithoutLosingWhatWasThere(t *testing.T) {
	shared := newBench(t, job.Memory{}).three("25", "180", "80")
	device := job.Memory{}
	b := newBench(t, device).three("31", "211", "88")
	follow := func(fragment string) {
		b.do(func(ctx app.Context) {
			ctx.Page().ReplaceURL(&url.URL{Path: "/", Fragment: fragment})
			b.s.arrive(ctx)
			if f := ctx.Page().URL().Fragment; f != "" {
				t.Errorf("the address still holds %q", f)
			}
		})
	}
	follow(shared.s.job.Link())
	if b.s.text(input{id: "low"}) != "25" {
		t.Error("the link was not opened")
	}
	jobs, _, _ := b.s.keeper.store.List()
	var lows []string
	for _, j := range jobs {
		lows = append(lows, j.Before.Readings[car.Low].Text)
	}
	if !strings.Contains(strings.Join(lows, " "), "31") {
		t.Errorf("the job that was there is gone; kept: %v", lows)
	}
	follow("j1.damaged")
	b.has("banner", ".")
	if b.s.text(input{id: "low"}) != "25" {
		t.Error("a damaged link changed the job")
	}
	b.do(func(ctx app.Context) { b.s.undo(ctx) })
	if b.s.text(input{id: "low"}) != "31" {
		t.Error("undo did not bring back what was there")
	}
}

// Looking at examples leaves no trace among the jobs, but reloading finds the one
// that is open.
func TestLentJobsAreNotKept(t *testing.T) {
	device := job.Memory{}
	b := newBench(t, device).three("31", "211", "88")
	for _, name := range []string{firstUS, firstMetric} {
		b.do(func(ctx app.Context) { b.s.lend(ctx, example(name)) })
	}
	if again := newBench(t, device); again.s.job.Example != firstMetric {
		t.Errorf("reloading finds %q", again.s.job.Example)
	}
	count := func() int { jobs, _, _ := b.s.keeper.store.List(); return len(jobs) }
	if n := count(); n != 2 { // ours and the one that is open
		t.Errorf("%d jobs are kept, want 2", n)
	}
	b.enter("low", "2.5").do(func(ctx app.Context) { b.s.lend(ctx, example(firstUS)) })
	if n := count(); n != 3 { // a changed example is the user's
		t.Errorf("%d jobs are kept, want 3", n)
	}
}

func TestExampleCanBeUndone(t *testing.T) {
	b := newBench(t, job.Memory{}).three("31", "211", "88")
	b.do(func(ctx app.Context) { b.s.put(ctx, example(firstMetric)) })
	if b.text("undo") == "" {
		t.Fatal("no way back")
	}
	b.do(func(ctx app.Context) { b.s.undo(ctx) })
	if b.s.text(input{id: "low"}) != "31" {
		t.Error("not brought back")
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
			b := newBench(t, job.Memory{}).three("30", "210", "90")
			b.do(func(ctx app.Context) {
				b.s.job.Units.Pressure, b.s.job.Units.Temperature = c.pressure, c.temperature
			}).enter("low", low).enter("high", high).enter("ambient", ambient)
			r := b.s.current.Readings
			for q, text := range map[car.Quantity]string{car.Low: low, car.High: high} {
				want := number(t, text)
				reason, _, _ := strings.Cut(b.s.readingText(q, r[q]), " ")
				if number(t, reason) != want {
					t.Errorf("%s %s %s: the reason says %s", q, text, c.pressure, reason)
				}
				column := map[car.Quantity]int{car.Low: 1, car.High: 2}[q]
				o := b.s.chartOptions("plane")
				f, err := chart.Plane(b.s.answer.plane, chartReading(b.s.current), nil, o)
				if err != nil {
					t.Fatal(err)
				}
				w, err := chart.Weather([]diagnose.WeatherBand{{Ambient: 270}, {Ambient: 320}}, chart.At{Reading: chartReading(b.s.current), Ambient: b.s.current.Weather.Ambient}, nil, o)
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

var numbers = regexp.MustCompile(`[\d.]*\d`)

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("%q is no number", text)
	}
	return x
}
