package readings

import (
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/pagetest"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// screen is the place on a page without a browser.
type screen struct {
	*pagetest.Screen
	place *Place
}

func open(t *testing.T) *screen {
	t.Helper()
	s := &screen{}
	s.Screen = pagetest.New(t, job.Memory{}, func(pg *page.Page) func() app.Composer {
		s.place = New(pg)
		return s.place.View
	})
	return s
}

// three types the three numbers that are asked first.
func (s *screen) three(low, high, ambient string) *screen {
	s.Three(low, high, ambient)
	return s
}

// tap takes the first suggestion beside a text with the code, "" for any.
func (s *screen) tap(id, code string) {
	s.Helper()
	s.Do(func() {
		if !s.Page.TakeSuggestion(page.TextOf(present.FieldID(id)), code) {
			s.Errorf("no suggestion %s beside %s", code, id)
		}
	})
}

// A first visit is empty: what it says of a car is of nobody's invention. An example
// is one tap away.
func TestFirstVisitIsEmptyAndOffersAnExample(t *testing.T) {
	b := open(t)
	if !b.Page.Job.Blank() || b.Page.Answer().State != page.Missing {
		t.Fatalf("it begins with %+v", b.Page.Job)
	}
	b.Has("about", "two gauges")
	b.Has("example", "Show an example")
	b.Sound("first visit")
	b.Do(func() { b.Page.Lend(b.Page.FirstExample()) })
	if b.Page.Job.Example == "" || b.Page.Answer().State != page.Answered {
		t.Fatalf("example %q, state %d", b.Page.Job.Example, b.Page.Answer().State)
	}
	b.Has("about", "invented car")
	for _, id := range []string{"technician-sentence", "ranking", "why", "next-ask", "plane-frame", "low-band"} {
		if b.Text(id) == "" {
			t.Errorf("#%s is empty", id)
		}
	}
	b.Sound("example")
	if b.Page.CanUndo() {
		t.Error("an empty job can be brought back")
	}
}

// Of an invented car nothing counts beside a number of one's own: neither a reading
// behind a fold, nor the car, nor its name. Every invented car, every number typed
// over; what is only added to it is a try.
func TestTypingOverAnExampleDropsAllThatWasInvented(t *testing.T) {
	for _, example := range job.Examples(open(t).Page.Job.Created) {
		b := open(t)
		b.Do(func() { b.Page.Lend(b.Page.Example(example.Example)) }).Enter("cycling", "9")
		if example.Before.Readings[car.Cycling].Text == "" && b.Page.Job.Example == "" {
			t.Errorf("%s: a number added made it the user's", example.Example)
		}
		b = open(t)
		b.Do(func() { b.Page.Lend(b.Page.Example(example.Example)) })
		was := b.Page.Job.Clone()
		b.Enter("ambient", "77")
		want := job.New(b.Page.Job.Created, b.Page.Job.Units)
		want.ID, want.Updated = b.Page.Job.ID, b.Page.Job.Updated
		want.Before.SetText(present.Ambient, "77")
		if !reflect.DeepEqual(b.Page.Job, want) {
			t.Errorf("%s: after typing one number it is %+v", example.Example, b.Page.Job)
		}
		b.Has("about", "invented numbers are gone")
		b.Enter("low", "30").Has("about", "invented numbers are gone") // until something else comes
		b.Do(func() { b.Page.Undo() })
		was.Updated = b.Page.Job.Updated
		if !reflect.DeepEqual(b.Page.Job, was) {
			t.Errorf("%s: undo brings back %+v", example.Example, b.Page.Job)
		}
		if jobs, _ := b.Page.Entries(); len(jobs) > 0 {
			t.Errorf("%s: %d jobs are left in the list", example.Example, len(jobs))
		}
	}
}

// A swing, a choice and a fact of the car count as typing over, a point that is moved
// over the picture and another unit do not.
func TestWhatMakesAnExampleOnesOwn(t *testing.T) {
	for what, c := range map[string]struct {
		do  func(*screen)
		own bool
	}{
		"swing": {func(b *screen) { b.Page.SetSwing(car.Low, true) }, true},
		"car":   {func(b *screen) { b.Page.Job.Car.Metering = "orifice_tube"; b.Page.Edited() }, true},
		"doors": {func(b *screen) { b.Page.Job.Before.Doors = "open"; b.Page.Edited() }, false}, // it says nothing of them
		"unit":  {func(b *screen) { b.Page.SetUnit(unit.GaugePressure, unit.Bar) }, false},
		"two": {func(b *screen) {
			b.Page.SetUnit(unit.GaugePressure, unit.KPa)
			b.Page.SetUnit(unit.GaugePressure, unit.PSI)
		}, false},
		"engine":   {func(b *screen) { b.Page.SetEngine(job.EngineOff) }, false},
		"moved":    {func(b *screen) { b.place.moveTo(2e5, 1.5e6) }, false},
		"cleared":  {func(b *screen) { b.Page.Put(page.TextOf("vent"), ""); b.Page.Edited() }, true},
		"repaired": {func(b *screen) { b.Page.Job.Repair.Parts = []string{"belt"}; b.Page.Edited() }, false},
	} {
		b := open(t)
		b.Do(func() { b.Page.Lend(b.Page.Example("taxi_air_inside")) })
		b.Do(func() { c.do(b) })
		if got := b.Page.Job.Example == ""; got != c.own {
			t.Errorf("%s: one's own: %v, want %v", what, got, c.own)
		}
		if c.own && b.Typed("low") != "" {
			t.Errorf("%s: the invented %s stays", what, b.Typed("low"))
		}
	}
}

// At rest too: what is typed over an invented resting pressure leaves none of it.
func TestTypingOverAnExampleAtRest(t *testing.T) {
	b := open(t)
	b.Do(func() { b.Page.Lend(b.Page.Example("taxi_air_inside")) })
	b.Do(func() { b.Page.SetEngine(job.EngineOff) })
	b.Enter("resting", "90")
	if j := b.Page.Job; j.Example != "" || j.Before.Engine != job.EngineOff || b.Typed("resting") != "90" || b.Typed("resting_high") != "" || b.Typed("ambient") != "" {
		t.Errorf("it holds %+v", j)
	}
}

// Units are the person's: no example, link or job opened changes them.
func TestUnitsStayWhateverIsOpened(t *testing.T) {
	b := open(t)
	b.Do(func() { b.Page.Lend(b.Page.Example("small_hatchback_poor_air")) }) // typed in bar and °C
	if u := b.Page.Job.Units; u != unit.US() {
		t.Errorf("an example makes the units %+v", u)
	}
	if low, ambient := b.Typed("low"), b.Typed("ambient"); low != "42" || ambient != "93" { // 2.9 bar are 42.06 psi, 34 °C are 93.2 °F
		t.Errorf("it says %s and %s", low, ambient)
	}
	metric := job.Examples(b.Page.Job.Created)[0]
	if metric.Units.Pressure != unit.Bar {
		t.Fatal("the first example is not in bar")
	}
	b.At(metric.Link())
	if u := b.Page.Job.Units; u != unit.US() || b.Typed("low") != "42" {
		t.Errorf("a link makes the units %+v, low %s", u, b.Typed("low"))
	}
}

// An address may open with an example: make run prints it.
func TestAddressOpensWithAnExample(t *testing.T) {
	if b := open(t); b.At("example").Page.Job.Example == "" {
		t.Error("no example")
	}
}

// Every state of every place is whole: words, ids, labels, no style.
func TestEveryStateIsSound(t *testing.T) {
	b := open(t)
	for _, j := range job.Examples(b.Page.Job.Created) {
		b.Do(func() { b.Page.Replace(j) }).Sound(j.Example)
	}
	for what, three := range map[string][3]string{
		"empty": {"", "", ""}, "one": {"30", "", ""}, "letters": {"abc", "200", "90"}, "huge": {"9e99", "200", "90"},
		"vacuum": {"in 12", "200", "90"}, "pegged": {"30", ">500", "90"}, "swapped": {"200", "30", "90"},
		"Celsius as Fahrenheit": {"30", "200", "32"}, "bar as psi": {"2.1", "15", "90"}, "swing": {"22-45", "160-200", "80"},
		"below vacuum": {"in 40", "200", "90"}, "markup": {"<b>", "\"'", "&amp;"},
	} {
		b.Three(three[0], three[1], three[2]).Sound(what)
	}
	b.Three("30", "200", "90").Do(func() {
		b.place.weather.open = true
		b.place.askWeather()
	}).Sound("weather")
	if b.Text("weather-frame") == "" {
		t.Error("no picture across the weather")
	}
}

func TestMissingNumbersAreNamed(t *testing.T) {
	b := open(t).three("30", "", "90")
	b.Has("answer", "The high side is missing.")
	if strings.Contains(b.Text("answer"), "low side is missing") {
		t.Error("the low side is there")
	}
	b.Enter("high", "210").Has("technician-sentence", ".")
}

func TestBadInputStaysAndIsExplainedBesideTheField(t *testing.T) {
	b := open(t).three("abc", "210", "90")
	if got := b.Typed("low"); got != "abc" {
		t.Errorf("the text became %q", got)
	}
	b.Has("low-note", "cannot be read as a number")
	b.Has("answer", "cannot be used yet")
	if !strings.Contains(b.HTML(), " aria-invalid") {
		t.Error("no input is marked invalid")
	}
	// A bad optional reading costs only itself.
	b.Three("30", "210", "90").Enter("vent", "warm")
	b.Has("vent-note", "cannot be read")
	if b.Page.Answer().State != page.Answered {
		t.Error("no answer without the vent")
	}
}

func TestSuggestionIsOneTap(t *testing.T) {
	b := open(t).three("30", "210", "32")
	b.Has("ambient-note", "32 °C")
	b.tap("ambient", "")
	if c := b.Page.Case().Weather.Ambient; c < 305 || c > 305.3 {
		t.Errorf("ambient %g K, want 32 °C", c)
	}
	if got := b.Text("ambient-note"); got != "" {
		t.Errorf("still asked: %q", got)
	}
	b.Three("210", "30", "90").Has("low-note", "swap")
	b.tap("low", present.SwapSides)
	if b.Typed("low") != "30" {
		t.Error("the sides were not swapped")
	}
}

func TestDoubtfulReadingIsAskedAboutFirst(t *testing.T) {
	b := open(t).three("210", "40", "90")
	if b.Page.Answer().Report.Verdict != diagnose.Doubtful {
		t.Fatal("a low side above the high side is not doubted")
	}
	b.Has("verdict", "in doubt")
	b.Has("next-ask", "zero of the gauges")
}

// A screen reader hears one sentence of the answer, and nothing else on the page
// speaks by itself but notices.
func TestAnswerIsReadOutOnce(t *testing.T) {
	b := open(t).three("30", "210", "90")
	b.Has("answer-live", b.Text("technician-sentence"))
	b.Has("answer-live", b.Page.Said().Step.Text)

	if n := strings.Count(b.HTML(), "aria-live"); n != 1 {
		t.Errorf("%d live regions", n)
	}
	b.Enter("low", "abc").Has("answer-live", "cannot be used")
}

func TestPictureMovesTheReading(t *testing.T) {
	b := open(t).three("30", "210", "90")
	b.Do(func() { b.place.moveTo(200e3, 1.5e6) }) // 29.0 and 217.6 psi
	if low, high := b.Typed("low"), b.Typed("high"); low != "29" || high != "218" {
		t.Errorf("the fields say %s and %s, want 29 and 218", low, high)
	}
}

// report changes what the model said and draws it.
func (b *screen) report(change func(*diagnose.Report)) *screen {
	b.Do(func() {
		a := b.Page.Answer()
		change(&a.Report)
		a.Rev++
		a.PlanRev++
	})
	return b
}

// A page is not made before it is opened, and follows its condition when the order
// changes.
func TestConditionPageOpensWithItsRow(t *testing.T) {
	b := open(t).three("30", "210", "90")
	if strings.Contains(b.HTML(), `class="catalogue`) {
		t.Error("a page is there before it was opened")
	}
	rows := page.Unfolder{On: b.Page}
	if rows.Page(car.Air) != nil {
		t.Error("a closed row has a page")
	}
	rows.Open = map[car.ConditionID]bool{car.Air: true}
	if rows.Page(car.Air) == nil || rows.Page(car.Empty) != nil {
		t.Error("the open row has no page, or a closed one has")
	}
	for id, want := range map[car.ConditionID]bool{car.Air: true, car.Empty: false} {
		if html := app.HTMLString(rows.Row(id, "")); strings.Contains(html, `aria-expanded="false"`) == want {
			t.Errorf("the row of %s says the contrary: %s", id, html)
		}
	}
}

func TestPatternIsNamed(t *testing.T) {
	b := open(t).three("30", "210", "90").report(func(r *diagnose.Report) {
		r.Group = diagnose.GroupBothHigh
		r.Members = []car.ConditionID{car.CondenserAirflow, car.Air, car.Overcharge}
	})
	b.Has("pattern", "The high side is high")
	b.Sound("pattern")
}

func TestPairIsNamedWhereItLeadsAndWhereItDoesNot(t *testing.T) {
	b := open(t).three("30", "210", "90")
	pair := func(r *diagnose.Report) {
		r.Verdict, r.PairA, r.PairB = diagnose.Leaning, car.Undercharge, car.CondenserAirflow
		r.Ranking = []diagnose.Ranked{{ID: car.Combination, Probability: .6}, {ID: car.Undercharge, Probability: .4}}
	}
	b.report(pair).Has("pair", "a shortage of refrigerant and poor airflow through the condenser")
	b.Has("technician-sentence", "Two things together")
	// Second, it is named in its row and claims nothing above.
	b.report(func(r *diagnose.Report) { r.Ranking[0], r.Ranking[1] = r.Ranking[1], r.Ranking[0] }).Has("pair", "Together")
	if got := b.Text("technician-sentence"); strings.Contains(got, "Two things") {
		t.Errorf("a pair that does not lead is claimed: %q", got)
	}
}

// A measurement that cannot change the leader says so; one whose every result would
// speak for another, which no honest expectation gives, says nothing.
func TestOutcomesWithOneLeader(t *testing.T) {
	b := open(t).three("30", "210", "90")
	lead := b.Page.Answer().Report.Ranking[0].ID
	with := func(id car.ConditionID) {
		b.report(func(r *diagnose.Report) {
			r.Next = []diagnose.Next{{Quantity: car.Vent, Minutes: 2, Outcomes: []diagnose.Outcome{
				{Hi: 283, OpenLo: true, Leader: id, LeaderChance: .6}, {Lo: 283, OpenHi: true, Leader: id, LeaderChance: .9}}}}
		})
	}
	with(lead)
	b.Has("outcomes", "will not change the favourite")
	b.Has("outcomes", b.Page.Words.InText(lead))
	with(car.Moisture)
	if got := b.Text("outcomes"); got != "" {
		t.Errorf("the outcomes say %q", got)
	}
}

// Published tables stand in the picture only for cars they may be meant for, the
// disputed ones marked.
func TestPublishedTablesFitTheCar(t *testing.T) {
	b := open(t).three("30", "210", "90")
	b.Do(func() {
		b.place.weather.open, b.place.weather.published = true, true
		b.place.askWeather()
	})
	b.Has("published-notes", "[USArmy291]")
	b.Has("published-notes", "disputed")
	b.Has("weather-table", "USArmy291")
	b.Sound("published")
	b.Do(func() {
		b.Page.Job.Car.Refrigerant = "R1234yf"
		b.Page.Edited()
	}).Has("published-notes", "No published table")
}

// The loop says what was read where, which parts the likely conditions concern with the
// chances of the list, and follows the next answer.
func TestLoopSaysWhatIsReadWhere(t *testing.T) {
	b := open(t).three("55", "375", "90")
	b.Do(func() { b.place.loop.open = true; b.Page.Job.Car.Metering = car.ExpansionValve.Code(); b.Page.Edited() })
	b.Sound("loop")
	said := b.Page.Said()
	lead := said.Candidates[0]
	if lead.ID != car.CondenserAirflow {
		t.Fatalf("the case is one of %s", lead.ID)
	}
	b.Has("loop-picture-summary", "Poor condenser airflow, "+lead.Chance+": the condenser.")
	// R-134a boils at 2633 kPa at 80 °C and at 3244 at 90, at 415 at 10 and at 572 at 20
	// [TillnerRoth1994]: 375 psi (2687 kPa absolute) are 80.9 °C, 55 psi (481) 14.6 °C.
	b.Has("loop-picture-summary", "Condenser: condenses at 178 °F; sound cars")
	b.Has("loop-picture-summary", "Evaporator: boils at 58 °F; sound cars")
	b.Has("loop-picture-summary", "High port, on either line: 375 psi; sound cars")
	b.Has("loop-picture-table", "Drier")
	for _, c := range said.Candidates[:said.Open] {
		b.Has("loop-picture-summary", b.Page.Words.ShortName(c.ID)+", "+c.Chance)
	}
	if hidden := b.Page.Words.ShortName(said.Candidates[said.Open].ID) + ","; strings.Contains(b.Text("loop-picture-summary"), hidden) {
		t.Errorf("the loop tells of %s which the list folds away", hidden)
	}
	b.three("15", "125", "90").Has("loop-picture-summary", "the refrigerant.")
	b.report(func(r *diagnose.Report) { // two things at once are where both are
		r.Ranking, r.PairA, r.PairB = []diagnose.Ranked{{ID: car.Combination, Probability: .9}, {ID: car.Healthy, Probability: .1}}, car.CondenserAirflow, car.WeakCompressor
	}).Has("loop-picture-summary", "the condenser, the compressor.")
}

// The maker's own figures are a mark in the picture across the weather.
func TestOwnFiguresAreMarkedAcrossTheWeather(t *testing.T) {
	b := open(t).three("30", "210", "90")
	b.Enter("service_low", "28-38").Enter("service_high", "190-230")
	b.Do(func() {
		b.place.weather.open = true
		b.place.askWeather()
	}).Has("weather-table", "maker’s figures")
	if c := b.Page.Case().Service; c.Low.Hi <= c.Low.Lo || c.High.Hi <= c.High.Lo {
		t.Errorf("the case has the figures %v", c)
	}
}

// Where the measurement that a sentence would ask for has been made, nobody is asked
// for it again.
func TestWhatIsMeasuredIsNotAskedFor(t *testing.T) {
	b := open(t).three("38", "292", "86")
	air := func(r *diagnose.Report) {
		r.Verdict = diagnose.Named
		r.Ranking = []diagnose.Ranked{{ID: car.Air, Probability: .85}, {ID: car.Overcharge, Probability: .15}}
	}
	b.report(air).Has("next-ask", "Confirm it at rest first")
	b.Enter("resting", "118")
	b.report(air).Has("next-ask", "evacuate, then charge by weight")
	if got := b.Text("next-ask"); strings.Contains(got, "at rest") {
		t.Errorf("after the resting pressure it says %q", got)
	}
}

// While a measurement is typed in the card of the next step, the card stays and says
// what the number has changed; what else is typed, or going on, lets it go.
func TestNextStepHoldsWhileItIsTyped(t *testing.T) {
	b := open(t)
	b.three("6", "150", "90")
	q := b.Page.Said().Step.Measure
	if q == "" {
		t.Fatal("nothing is asked for")
	}
	was := b.Text("next-ask")
	b.Do(func() { b.place.hold(q) })
	text := map[car.Quantity]string{car.LiquidLine: "85", car.Vent: "72", car.DischargeLine: "190", car.SuctionLine: "60"}[q]
	b.Enter(string(q), text[:1]).Enter(string(q), text)
	if got := b.Text("next-ask"); got != was {
		t.Errorf("the card changed to %q under the finger", got)
	}
	lead := b.Page.Said().Candidates[0]
	b.Has("change", b.Page.Words.ShortName(lead.ID))
	b.Has("change", lead.Chance)
	b.Sound("held")
	b.Enter("low", "7")
	if got := b.Text("next-ask"); got == was {
		t.Errorf("it still asks %q", got)
	}
	if b.Text("change") != "" {
		t.Error("the change of a reading before stays")
	}
}

// A resting pressure is asked for with the temperature of the car, and whether all of it
// has come to that; both reach the case.
func TestRestingPressureHasItsTemperature(t *testing.T) {
	b := open(t)
	b.three("38", "292", "86").Enter("resting", "118").Enter("soak", "75")
	b.Do(func() {
		b.Page.Job.Repair.Soaked = true
		b.Page.Edited()
	})
	if r := b.Page.Case().Rest; r.Temperature < 297 || r.Temperature > 297.1 || !r.Soaked { // 75 °F are 297.04 K
		t.Errorf("the case has %+v", r)
	}
	b.Do(func() { b.place.measuring = true; b.Page.Edited() })
	b.Has("soak-note", "")
	if !strings.Contains(b.HTML(), `id="soaked"`) {
		t.Error("no tick beside the resting pressure")
	}
	b.Sound("resting")
}

func TestModelFailureKeepsInputsAndPasses(t *testing.T) {
	b := open(t).three("30", "210", "90")
	b.Panic = true
	b.Enter("low", "31").Sound("panic")
	if b.Page.Answer().State != page.Failed || b.Typed("low") != "31" {
		t.Fatalf("state %d, low %q", b.Page.Answer().State, b.Typed("low"))
	}
	b.Panic, b.Fail = false, &refrig.RangeError{Quantity: "evaporating temperature", Value: 400, Min: 200, Max: 370, Unit: "K"}
	b.Enter("low", "32").Has("answer", "evaporating temperature")
	b.Fail = errors.New("anything")
	b.Enter("low", "33").Sound("unknown failure")
	b.Fail = nil
	if b.Enter("low", "34"); b.Page.Answer().State != page.Answered {
		t.Error("the answer did not come back")
	}
}

// Which caution stands where on this place. All of reading gauges stand in the open
// before they are coupled, once; then, with each measurement, the one of the place where
// the hand is; all of reading stay one tap away. A recovery is a step of its own.
func TestCautionsBeforeCouplingAndThenWhereTheHandIs(t *testing.T) {
	b := open(t)
	reading := present.Cautions(present.StepRead, car.Spec{})
	if got := b.cautions("cautions-first"); !slices.Equal(got, reading) || len(got) < 5 {
		t.Errorf("before coupling there stand %v", got)
	}
	b.three("30", "210", "90")
	if got := b.cautions("cautions-first"); got != nil {
		t.Errorf("with the gauges on the car there stand %v", got)
	}
	if got := b.cautions("cautions-all"); !slices.Equal(got, reading) {
		t.Errorf("one tap away are %v", got)
	}
	recovery := present.Cautions(present.StepRecover, car.Spec{})
	for q, want := range map[car.Quantity][]string{
		car.Vent: nil, car.DischargeLine: {"hot_parts"}, car.SuctionLine: {"fans_belts"}, car.LiquidLine: {"fans_belts"},
		car.Resting: nil, car.Cycling: {"fans_belts"}, car.WaterTest: {"water_and_electrics"}, car.HighIdle: nil, car.EqualiseTime: nil, car.Recovered: recovery,
	} {
		b.report(func(r *diagnose.Report) {
			r.Verdict, r.Next = diagnose.CannotTell, []diagnose.Next{{Quantity: q, Minutes: 2, Hazard: q.Info().Hazard}}
			r.Ranking = []diagnose.Ranked{{ID: car.Undercharge, Probability: .4}, {ID: car.Air, Probability: .4}, {ID: car.Healthy, Probability: .2}}
		})
		if got := b.cautions("cautions"); !slices.Equal(got, want) {
			t.Errorf("with %s there stand %v, want %v", q, got, want)
		}
		delete(b.Page.Case().Readings, q)
	}
	// With the engine off: what reading did not have.
	b.Do(func() { b.Page.SetEngine(job.EngineOff) })
	if got := b.cautions("cautions"); !slices.Equal(got, []string{"identify_first"}) {
		t.Errorf("at rest there stand %v", got)
	}
}

// cautions are the codes in the list with the id.
func (b *screen) cautions(id string) (codes []string) {
	_, list, _ := strings.Cut(b.HTML(), fmt.Sprintf("id=%q", id))
	list, _, _ = strings.Cut(list, "</ul>")
	for _, m := range regexp.MustCompile(`data-caution="([^"]+)"`).FindAllStringSubmatch(list, -1) {
		codes = append(codes, m[1])
	}
	return codes
}

// Equal sides are no verdict on a compressor before it is known whether the engine runs.
// Off, the same two numbers are the check at rest: R-134a with liquid left shows 86 to
// 87 psi at 80 °F (memory of printed pressure–temperature charts).
func TestEqualSidesAskWhetherTheEngineRuns(t *testing.T) {
	b := open(t)
	b.three("87", "87", "80")
	if said := b.Page.Said(); !said.AskEngine || len(said.Candidates) > 0 {
		t.Fatalf("it says %+v", said)
	}
	b.Has("glance", "Is the engine running?")
	for _, id := range []string{"answer", "glance", "next"} {
		if got := b.Text(id); strings.Contains(got, "ompressor") {
			t.Errorf("#%s condemns: %q", id, got)
		}
	}
	b.Sound("asked")
	b.Do(func() { b.Page.SetEngine(job.EngineOn) })
	if lead := b.Page.Said().Candidates[0].ID; lead != car.NotRunning {
		t.Errorf("running, %s leads", lead)
	}
	b.Has("next-ask", "clutch") // and not the vent
	b.Page.Job.Car.Refrigerant = car.R134a
	b.Do(func() { b.Page.SetEngine(job.EngineOff) })
	if low, high := b.Typed("resting"), b.Typed("resting_high"); low != "87" || high != "87" || b.Typed("low") != "" {
		t.Errorf("off, the needles at rest are %s and %s, low %q", low, high, b.Typed("low"))
	}
	b.Has("verdict", "Liquid is left")
	b.Has("glance", "Start the engine")
	b.Has("next-ask", "Start the engine")
	b.Has("picture", "of a running engine")
	b.Sound("at rest")
	b.Enter("resting_high", "120").Has("verdict", "The needles differ")
	b.Enter("resting", "0").Enter("resting_high", "0").Has("verdict", "Empty")
	b.Has("next-ask", "do not run the compressor")
	b.Enter("resting", "").Has("answer", "engine off")
	// And back: the resting pressure stays, the running needles are asked for.
	b.Enter("resting", "85").Do(func() { b.Page.SetEngine(job.EngineOn) })
	b.Has("answer", "Type both needles")
	b.Enter("low", "38").Enter("high", "245")
	if _, ok := b.Page.Case().Readings[car.Resting]; !ok || b.Page.Answer().State != page.Answered {
		t.Error("the resting pressure is gone")
	}
}

// A tap on the wrong side can be taken back.
func TestEngineOffCanBeUndone(t *testing.T) {
	b := open(t)
	b.three("38", "245", "95").Do(func() { b.Page.SetEngine(job.EngineOff) })
	b.Do(func() { b.Page.Undo() })
	if b.Typed("low") != "38" || b.Typed("high") != "245" || b.Page.Job.Before.Engine != "" {
		t.Errorf("it came back as %+v", b.Page.Job.Before)
	}
}

// What is asked in seconds is taken in seconds.
func TestTimeToEqualiseIsInSeconds(t *testing.T) {
	b := open(t)
	b.three("68", "135", "90").Enter("equalise_time", "20")
	if s := b.Page.Case().Readings[car.EqualiseTime].Value; s != 20 {
		t.Errorf("20 is %g s", s)
	}
	b.Has("why", "Time to equalise: 20 s")
	b.Do(func() { b.place.measuring = true; b.Page.Edited() })
	if unit := b.Page.UnitBeside(page.TextOf("equalise_time")); unit != "s" {
		t.Errorf("beside it stands %q", unit)
	}
}

// What cannot be used is named.
func TestUnusableNumberIsNamed(t *testing.T) {
	b := open(t)
	b.three("30", "x", "90").Has("answer", "High side cannot be used yet.")
	b.Has("glance", "High side cannot be used yet.")
	b.Enter("ambient", "hot").Has("answer", "High side, Outside air cannot be used yet.")
}

// Two needles that stand together are in one unit: an empty car reads next to nothing.
func TestNearlyNothingOnBothIsNotAskedAbout(t *testing.T) {
	b := open(t)
	b.three("4", "6", "80")
	if got := b.Text("high-note"); got != "" {
		t.Errorf("of 6 psi it asks %q", got)
	}
	b.Enter("high", "60").Enter("low", "2.1").Has("low-note", "bar") // a number that stands alone still is
}

// A minus in psi is mostly meant in inches.
func TestMinusInPsiSpeaksOfInches(t *testing.T) {
	b := open(t)
	b.three("-5", "110", "90").Has("low-note", "−5 psi is taken as 10 inHg vacuum.")
}

// A rate that nobody sees is said as what it is.
func TestClutchThatStaysOnIsSaid(t *testing.T) {
	b := open(t)
	b.three("30", "210", "90")
	got := b.reason(diagnose.Evidence{Quantity: car.Cycling, Reading: car.Reading{Value: 7}, HasExpected: true, Expected: car.Interval{Hi: 0.1}, Place: 1})
	if !strings.Contains(got, "Clutch cycling: 7 per minute; on a healthy car here the clutch stays on.") {
		t.Errorf("it says %q", got)
	}
}

// The words of the picture put a needle on the same side of healthy cars as the line
// below it and the reasons do, between the band of one needle and the region of both too.
func TestPictureAgreesWithTheBands(t *testing.T) {
	b := open(t)
	edge := 0
	for low := 44; low <= 66; low++ {
		b.three(strconv.Itoa(low), "230", "90")
		band, says := b.Text("low-band"), b.Text("plane-summary")
		above, pictured := strings.Contains(band, "above healthy"), strings.Contains(says, "is higher than on healthy cars")
		if strings.Contains(band, "edge") {
			edge++
		} else if above != pictured {
			t.Errorf("low side %d: the band says %q, the picture %q", low, band, says)
		}
	}
	if edge > 2 {
		t.Errorf("%d of the pressures lie at the edge", edge)
	}
}
