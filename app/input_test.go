package app

import (
	"fmt"
	"net/url"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
)

// Switching units and back gives back what was typed, to the letter.
func TestUnitsThereAndBack(t *testing.T) {
	b := newBench(t, job.Memory{}).three("28.5", "22-45", "91").enter("vent", "52").enter("resting", "1.9 bar").enter("high_idle", ">500")
	want := map[string]string{"low": "28.5", "high": "22-45", "ambient": "91", "vent": "52", "resting": "1.9 bar", "high_idle": ">500"}
	set := func(k present.Kind, u present.Unit) {
		b.do(func(ctx app.Context) { b.s.setUnit(ctx, k, u) })
	}
	set(present.GaugePressure, present.Bar)
	set(present.Temperature, present.Celsius)
	for id, text := range map[string]string{
		"low": "1.97", "high": "1.52-3.1", "ambient": "32.8", "vent": "11.1", "resting": "1.9 bar", "high_idle": ">34.5",
	} {
		if got := b.s.text(input{id: present.FieldID(id)}); got != text {
			t.Errorf("%s in metric units: %q, want %q", id, got, text)
		}
	}
	if c := b.s.current.Readings[car.Low].Value; c < 196e3 || c > 198e3 { // 28.5 psi is 196.5 kPa
		t.Errorf("low side became %g Pa", c)
	}
	set(present.GaugePressure, present.KPa)
	set(present.GaugePressure, present.PSI)
	set(present.Temperature, present.Fahrenheit)
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
	b.do(func(ctx app.Context) { b.s.setUnit(ctx, present.Temperature, present.Celsius) })
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
