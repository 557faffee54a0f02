package repair

import (
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// The sheet shows bars only of what it names, says of what it is how sure, and never
// "we cannot say" beside either.
func TestCustomerPageAgreesWithItself(t *testing.T) {
	for _, verdict := range []diagnose.Verdict{diagnose.Named, diagnose.Leaning, diagnose.CannotTell, diagnose.Doubtful} {
		for _, cause := range []car.ConditionID{"", car.Undercharge, car.Restriction, car.Healthy} {
			b := open(t, job.Memory{}).put(page.TextOf("low"), "12").put(page.TextOf("high"), "95").put(page.TextOf(present.Ambient), "80")
			b.Answered("three readings")
			b.Do(func() {
				b.Page.Job.Repair.Cause = string(cause)
				b.Page.Answer().Report.Verdict = verdict
			})
			b.customer().Sound(string(verdict) + ", " + string(cause))
			sheet, sure, bars := b.Text("sheet"), b.Text("tell-sure"), b.Text("tell-picture") != ""
			if want := verdict == diagnose.Named && cause == ""; bars != want {
				t.Errorf("%s, %q: bars %v, want %v", verdict, cause, bars, want)
			}
			if strings.Contains(sheet, "cannot say") && (bars || regexp.MustCompile(`\d in \d`).MatchString(b.Text("tell-found")+sure)) {
				t.Errorf("%s, %q: %s", verdict, cause, sheet)
			}
			if named := b.place.Words.Plain(car.Undercharge); cause == car.Undercharge && strings.Contains(sure, "numbers pointed to") && !strings.Contains(sure, named) {
				t.Errorf("%s: how sure of what? %s", verdict, sure)
			}
			if !strings.Contains(b.Text("tell-next"), ".") {
				t.Errorf("%s, %q: nothing is suggested next", verdict, cause)
			}
		}
	}
}

// What the search under gas came to stands on the sheet and beside its step, whether
// somebody said it or the needle did; a needle that fell counts more than what was said.
func TestCustomerIsToldOfTheSearchUnderGas(t *testing.T) {
	b := open(t, job.Memory{})
	b.Three("38", "330", "90")
	b.customer()
	if got := b.Text("tell-did"); strings.Contains(got, "test gas") {
		t.Errorf("no search was made: %s", got)
	}
	if got := b.Text("tell-promise"); strings.Contains(got, "small leak") {
		t.Errorf("no test was made: %s", got)
	}
	b.put(page.TextOf(present.LeakPressure), "150").put(page.TextOf(present.RetestEnd), "150").put(page.TextOf(present.RetestTime), "30")
	for _, c := range []struct{ retest, end, sheet, step string }{
		{"", "150", "watched the gauge. It did not fall", "No drop seen"},
		{"tight", "150", "searched every joint. We found no leak", "no leak found"},
		{"leak", "150", "found that it still leaks", "leak found"},
		{"tight", "90", "found that it still leaks", "leak found"},
		{"", "90", "found that it still leaks", "leak found"},
	} {
		b.Do(func() { b.Page.Job.Repair.Retest = c.retest; b.Page.Edited() })
		b.put(page.TextOf(present.RetestEnd), c.end).customer().Has("tell-did", c.sheet)
		if small := strings.Contains(b.Text("tell-promise"), "small leak"); small == strings.Contains(c.sheet, "leaks") {
			t.Errorf("%+v: that a small leak can pass is said: %v", c, small)
		}
		b.work().Has("stands-retest", c.step)
	}
}

// A vacuum that rose as with a leak is told, so the page beside it proves nothing and
// promises no more than the search; the next test, which holds, sets it right.
func TestCustomerIsNotToldProvedBesideALeak(t *testing.T) {
	b := pickup(t, job.Memory{})
	held := b.Page.Job.Repair.Hold
	b.Do(func() {
		b.Page.Job.Repair.Hold = []job.HoldPoint{{Time: "0", Pressure: "400"}, {Time: "3", Pressure: "700"}, {Time: "6", Pressure: "1000"}, {Time: "9", Pressure: "1300"}, {Time: "12", Pressure: "1600"}}
		b.Page.Edited()
	})
	b.customer().Has("tell-did", "there is still a leak")
	b.Has("tell-next", "still wrong")
	b.work().Has("stands-prove", "Not proved")
	b.Has("prove-says", "leak check found a leak")
	b.Do(func() { b.Page.Job.Repair.Hold = held; b.Page.Edited() })
	b.customer().Has("tell-next", "Nothing more is needed now")
}

// What is suggested follows the work and names neither price nor time.
func TestCustomerIsToldWhatIsNext(t *testing.T) {
	b := open(t, job.Memory{})
	b.customer().Has("tell-next", "measure the pressures")
	b.Three("38", "330", "90")
	b.customer().Has("tell-next", "look further")
	b = pickup(t, job.Memory{})
	b.Do(func() { b.Page.Job.Plate, b.Page.Job.Technician = "INV 471", "Ada (invented)"; b.Page.Edited() })
	b.customer().Has("tell-plate", "INV 471")
	b.Has("tell-technician", "Ada (invented)")
	if b.Text("tell-odometer") != "" {
		t.Error("an odometer that nobody read stands on the sheet")
	}
	b.customer().Has("tell-next", "Nothing more is needed now. If the cooling gets weaker")
	b.Do(func() { b.Page.Job.Repair.Retest = ""; b.Page.Edited() })
	b.customer().Has("tell-next", "last check")
	b.Has("tell-proved", "One last check is still to come.")
	b.put(page.TextAfter("low"), "").customer().Has("tell-next", "test the car again")
	b.Do(func() { b.Page.Job.Repair.Parts = nil; b.Page.Edited() })
	b.customer().Has("tell-next", "test the car again") // it was filled
	b.Do(func() { b.Page.Job.Repair.Cause = ""; b.Page.Edited() })
	b.customer().Has("tell-next", "test the car again") // whatever the cause was
	b.Do(func() { b.Page.Job.Repair.Cause = string(car.Undercharge); b.Page.Edited() })
	b.put(page.TextOf(present.MassIn), "").customer().Has("tell-next", "We will repair this")
	b.put(page.TextAfter("low"), "95").customer().Has("tell-next", "still wrong")
}

// A link to the sheet shows the sheet and nothing to change; the jobs of the device
// stay as they are until somebody takes this one in.
func TestSharedSheetIsOnlyShown(t *testing.T) {
	from := pickup(t, job.Memory{})
	from.Do(func() { from.Page.TellIn("en-US") })
	link := from.Page.Job.Link()
	device := job.Memory{}
	b := open(t, device)
	b.Three("25", "180", "80").Do(b.Page.Save)
	own := b.Page.Job.ID
	arrive := func(path, fragment string) {
		b.Page.Ctx.Dispatch(func(ctx app.Context) {
			ctx.Page().ReplaceURL(&url.URL{Path: path, Fragment: fragment})
			b.Page.Arrive(ctx)
		})
		b.Do(func() {})
	}
	arrive("/tell", link)
	b.customer().Sound("a sheet that was sent")
	b.Has("tell-did", "We changed")
	if text := b.Text("sheet"); strings.Contains(text, "past jobs taught") {
		t.Errorf("of an answer that had learnt nothing: %s", text)
	}
	from.Do(func() { from.Page.Job.Learnt = 34 })
	if text := from.customer().Text("sheet"); strings.Contains(text, "past jobs taught") {
		t.Errorf("to the shop itself: %s", text)
	}
	arrive("/tell", from.Page.Job.Link())
	b.customer().Has("tell-sure", "what our own past jobs taught us. The number there can differ")
	arrive("/tell", link)
	b.customer()
	if b.Page.Lang() != "en-US" {
		t.Errorf("whoever is sent the sheet reads %s", b.Page.Lang())
	}
	for _, forbidden := range []string{"<input", "tell-print", "tell-share", `href="./job"`} {
		if strings.Contains(b.HTML(), forbidden) {
			t.Errorf("a sheet that was sent holds %s", forbidden)
		}
	}
	b.Do(b.Page.Save)
	if kept, _, ok := job.NewStore(device).Current(); !ok || kept.ID != own {
		t.Errorf("the device now holds %q at hand, want %q as before", kept.ID, own)
	}
	// Elsewhere the device's own job is back.
	arrive("/", "")
	if b.Page.Guest() || b.Page.Job.ID != own || b.Page.Lang() != "en" {
		t.Errorf("away from the sheet: guest %v, job %s, want %s", b.Page.Guest(), b.Page.Job.ID, own)
	}
	// Taken in, it is a job like any other, and the one before is one tap away.
	arrive("/tell", link)
	b.Do(b.Page.TakeGuest)
	if b.Page.Guest() || b.Page.Job.ID == own || !b.Page.CanUndo() {
		t.Error("the job was not taken in")
	}
	b.Do(b.Page.Undo)
	if b.Page.Job.ID != own {
		t.Error("the job before is gone")
	}
	b.customer().Has("tell-share", "Send this page")
}

// Before it is known whether the engine runs, equal sides condemn nothing on the sheet
// either; engine off, they are a check at rest.
func TestSheetCondemnsNothingAtRest(t *testing.T) {
	b := open(t, job.Memory{})
	b.Three("87", "87", "80")
	sheet := func() string {
		b.customer().Sound("equal sides")
		return b.Text("tell-found") + b.Text("tell-sure") + b.Text("tell-picture")
	}
	if got := sheet(); strings.Contains(got, "compressor") || !strings.Contains(got, "look further") {
		t.Errorf("not yet known: %q", got)
	}
	b.Do(func() { b.Page.SetEngine(job.EngineOff) })
	if got := sheet(); strings.Contains(got, "compressor") {
		t.Errorf("at rest: %q", got)
	}
	b.Three("87", "87", "80")
	b.Do(func() { b.Page.SetEngine(job.EngineOn) })
	if got := sheet(); !strings.Contains(got, "compressor") {
		t.Errorf("running: %q", got)
	}
}

// The customer reads the sheet in his language, the technician works on in his own; the
// link takes the choice along, and whoever is sent it reads all of it so.
func TestSheetInAnotherLanguage(t *testing.T) {
	b := open(t, job.Memory{}).customer()
	b.Do(func() { b.Page.Open(b.Page.Example("small_hatchback_poor_air")) }).Do(func() { b.Page.TellIn("en-US") })
	sheet := regexp.MustCompile(`<article[^>]*\slang="en-US"`)
	if !sheet.MatchString(b.HTML()) {
		t.Error("the sheet is not in the language that was chosen")
	}
	if b.Page.Lang() != "en" || b.Page.Words.Lang() != "en" {
		t.Errorf("the page speaks %s", b.Page.Lang())
	}
	b.Do(func() { b.Page.TellIn("en") })
	if b.Page.Job.TellIn != "" || sheet.MatchString(b.HTML()) {
		t.Error("the page's own language is noted as another")
	}
	b.Do(func() { b.Page.TellIn("en-US") })
	j, _, err := job.OpenLink(b.Page.LinkSheet()[strings.Index(b.Page.LinkSheet(), "#")+1:])
	if err != nil || j.TellIn != "en-US" {
		t.Errorf("the link to the sheet takes the language %q along (%v)", j.TellIn, err)
	}
	b.Do(func() { b.Page.TellIn("xx") })
	if got := b.Page.SheetWords().Lang(); got != "en" {
		t.Errorf("for a language that is not to be had the sheet is in %q", got)
	}
}

// What somebody settled on is not told beside what says the contrary: a sound car that the
// scale found short, or that leaked; a fault of our own gauges; a cause that no number names.
func TestCustomerHearsNoContradictionOfWhatWasSettled(t *testing.T) {
	b := open(t, job.Memory{})
	b.Three("29", "203", "82")
	settle := func(id car.ConditionID, leaks ...string) {
		b.Do(func() {
			b.Page.Job.Repair.Cause, b.Page.Job.Repair.LeaksFound = string(id), leaks
			b.Page.Edited()
		})
		b.customer().Sound(string(id))
	}
	settle(car.Healthy)
	b.Has("tell-found", "nothing wrong")
	b.Has("tell-next", "Nothing needs to be changed")
	settle(car.Healthy, "fittings")
	if found, next := b.Text("tell-found"), b.Text("tell-next"); strings.Contains(found, "nothing wrong") || !strings.Contains(found, "leaked") || strings.Contains(next, "Nothing needs") {
		t.Errorf("a leak was found: %s %s", found, next)
	}
	settle(car.Healthy)
	b.put(page.TextOf(present.LabelCharge), "500 g").put(page.TextOf("recovered"), "300 g").customer()
	if found, next := b.Text("tell-found"), b.Text("tell-next"); strings.Contains(found, "nothing wrong") || strings.Contains(next, "Nothing needs") {
		t.Errorf("300 of 500 g were in it: %s %s", found, next)
	}
	settle(car.Gauge)
	b.Has("tell-found", "not in your car")
	settle(car.NoneOfThese)
	if found := b.Text("tell-found"); strings.Contains(found, "not thought of") {
		t.Errorf("found, and not thought of: %s", found)
	}
	if sure := b.Text("tell-sure"); strings.Contains(sure, "found the cause") {
		t.Errorf("how sure: %s", sure)
	}
}

// Work is told of and gone on with, whichever of its steps were typed: nobody hears that
// nothing was measured or begun beside a mass that was weighed out, that nothing is known
// beside a leak that was seen, or that the car will be ready beside one that is still there.
func TestCustomerHearsOfWorkInAnyOrder(t *testing.T) {
	low := func(b *screen) { b.Three("12", "95", "80") }
	for name, c := range map[string]struct {
		do     func(b *screen)
		has    map[string]string
		hasNot []string
	}{
		"weighed without needles or label": {func(b *screen) { b.put(page.TextOf("recovered"), "300 g") },
			map[string]string{"tell-did": "weighed it: 10.6 oz.", "tell-found": "not measured before the work", "tell-next": "look further"},
			[]string{"not started", "Nothing has been measured", "First we will"}},
		"a leak seen, no needles, nothing settled": {func(b *screen) { b.Page.Job.Repair.LeaksFound = []string{"fittings"} },
			map[string]string{"tell-found": "leaked at this place: a joint", "tell-sure": "looked at the car itself", "tell-next": "We will repair this"},
			[]string{"Nothing has been measured", "cannot say"}},
		"a leak seen on a car that reads sound": {func(b *screen) {
			b.Three("29", "203", "82")
			b.Page.Job.Repair.LeaksFound = []string{"fittings"}
		}, map[string]string{"tell-found": "leaked at this place", "tell-next": "We will repair this"}, []string{"nothing wrong", "good order"}},
		"settled without needles": {func(b *screen) { b.Page.Job.Repair.Cause = string(car.Undercharge) },
			map[string]string{"tell-found": "too little refrigerant", "tell-sure": "looked at the car itself"}, []string{"cannot say"}},
		"evacuated, and no more": {func(b *screen) { b.put(page.TextOf(present.VacuumReached), "500") },
			map[string]string{"tell-did": "pumped the system empty", "tell-next": "test the car again"}, []string{"not started"}},
		"repaired, and it still leaks under gas": {func(b *screen) {
			low(b)
			b.Page.Job.Repair.Cause, b.Page.Job.Repair.Parts, b.Page.Job.Repair.Retest = string(car.Undercharge), []string{"hose"}, "leak"
		}, map[string]string{"tell-did": "still leaks", "tell-next": "still wrong"}, []string{"get it back"}},
		"repaired, and the vacuum rose": {func(b *screen) {
			low(b)
			b.Page.Job.Repair.Cause, b.Page.Job.Repair.Parts = string(car.Undercharge), []string{"hose"}
			b.Page.Job.Repair.Hold = []job.HoldPoint{{Time: "0", Pressure: "500"}, {Time: "5", Pressure: "200000"}}
		}, map[string]string{"tell-did": "still a leak", "tell-next": "still wrong"}, []string{"get it back", "know it works"}},
		"the fault was in our gauges": {func(b *screen) {
			low(b)
			b.Page.Job.Repair.Cause = string(car.Gauge)
		}, map[string]string{"tell-next": "test the car again"}, []string{"repair this"}},
		"needles after the work alone": {func(b *screen) {
			b.put(page.TextAfter(present.Ambient), "82").put(page.TextAfter("low"), "29").put(page.TextAfter("high"), "203").put(page.TextAfter("vent"), "48")
		}, map[string]string{"tell-proved": "test after the work", "tell-found": "not measured before the work"}, []string{"Nothing has been measured", "same test again"}},
	} {
		b := open(t, job.Memory{})
		b.Do(func() { b.Page.Open(job.New(b.Page.Job.Created, unit.US())) })
		c.do(b)
		b.Do(func() { b.Page.Edited() })
		b.customer().Sound(name)
		for id, want := range c.has {
			if got := b.Text(id); !strings.Contains(got, want) {
				t.Errorf("%s: #%s says %q, want %q", name, id, got, want)
			}
		}
		for _, not := range c.hasNot {
			if got := b.Text("sheet"); strings.Contains(got, not) {
				t.Errorf("%s: the sheet says %q: %s", name, not, got)
			}
		}
	}
}
