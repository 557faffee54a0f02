package app

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/refrig/car"
	"twoneedles/refrig/catalogue"
	"twoneedles/refrig/diagnose"
)

// report changes what the model said and draws it.
func (b *bench) report(change func(*diagnose.Report)) *bench {
	return b.do(func(app.Context) {
		change(&b.s.answer.report)
		b.s.answerRev++
		b.s.planRev++
		b.s.planRev++
	})
}

// Every condition has its page whole, from blocks and without markup; every source
// it names leads to its entry.
func TestConditionPagesAreWhole(t *testing.T) {
	b := newBench(t, job.Memory{})
	w := b.s.words
	bare := regexp.MustCompile(`[^>]\[[A-Z][A-Za-z0-9]+\]`)
	for _, id := range car.Conditions() {
		html := app.HTMLString(&conditionPage{ID: id, s: b.s})
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

// A page is not made before it is opened, and follows its condition when the order
// changes.
func TestConditionPageOpensWithItsRow(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "90")
	if strings.Contains(b.html(), `class="catalogue`) {
		t.Error("a page is there before it was opened")
	}
	rows := unfolder{s: b.s}
	if rows.page(car.Air) != nil {
		t.Error("a closed row has a page")
	}
	rows.open = map[car.ConditionID]bool{car.Air: true}
	if rows.page(car.Air) == nil || rows.page(car.Empty) != nil {
		t.Error("the open row has no page, or a closed one has")
	}
	for id, want := range map[car.ConditionID]bool{car.Air: true, car.Empty: false} {
		if html := app.HTMLString(rows.row(id, "")); strings.Contains(html, `aria-expanded="false"`) == want {
			t.Errorf("the row of %s says the contrary: %s", id, html)
		}
	}
}

func TestPatternIsNamedWithItsMembers(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "90").report(func(r *diagnose.Report) {
		r.Group = diagnose.GroupBothHigh
		r.Members = []car.ConditionID{car.CondenserAirflow, car.Air, car.Overcharge}
	})
	b.has("pattern", "The high side is high")
	b.has("pattern", "poor airflow through the condenser, air in the system, an overcharge.")
	b.report(func(r *diagnose.Report) { r.Members = car.Conditions()[:9] }).has("pattern", "and others.")
	b.sound("pattern")
}

func TestPairIsNamedWhereItLeadsAndWhereItDoesNot(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "90")
	pair := func(r *diagnose.Report) {
		r.PairA, r.PairB = car.Undercharge, car.CondenserAirflow
		r.Ranking = []diagnose.Ranked{{ID: car.Combination, Probability: .6}, {ID: car.Undercharge, Probability: .4}}
	}
	b.report(pair).has("pair", "a shortage of refrigerant and poor airflow through the condenser")
	b.has("technician-sentence", "Two things together")
	// Second, it is named in its row and claims nothing above.
	b.report(func(r *diagnose.Report) { r.Ranking[0], r.Ranking[1] = r.Ranking[1], r.Ranking[0] }).has("pair", "Together")
	if got := b.text("technician-sentence"); strings.Contains(got, "Two things") {
		t.Errorf("a pair that does not lead is claimed: %q", got)
	}
}

// A measurement that cannot change the leader says so; one whose every result would
// speak for another, which no honest expectation gives, says nothing.
func TestOutcomesWithOneLeader(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "90")
	lead := b.s.answer.report.Ranking[0].ID
	with := func(id car.ConditionID) {
		b.report(func(r *diagnose.Report) {
			r.Next = []diagnose.Next{{Quantity: car.Vent, Minutes: 2, Outcomes: []diagnose.Outcome{
				{Hi: 283, OpenLo: true, Leader: id, LeaderChance: .6}, {Lo: 283, OpenHi: true, Leader: id, LeaderChance: .9}}}}
		})
	}
	with(lead)
	b.has("outcomes", "Whatever it reads")
	b.has("outcomes", b.s.inText(lead))
	with(car.Moisture)
	if got := b.text("outcomes"); got != "" {
		t.Errorf("the outcomes say %q", got)
	}
}

// Published tables stand in the picture only for cars they may be meant for, the
// disputed ones marked.
func TestPublishedTablesFitTheCar(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "90")
	b.do(func(ctx app.Context) {
		b.s.weather.open, b.s.weather.published = true, true
		b.s.recompute(ctx)
	})
	b.has("published-notes", "[USArmy291]")
	b.has("published-notes", "disputed")
	b.has("weather-table", "USArmy291")
	b.sound("published")
	b.do(func(ctx app.Context) {
		b.s.job.Car.Refrigerant = "R1234yf"
		b.s.edited(ctx)
	}).has("published-notes", "No published table")
}

// The maker's own figures are a mark in the picture across the weather.
func TestOwnFiguresAreMarkedAcrossTheWeather(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "90").enter("service_low", "28-38").enter("service_high", "190-230")
	b.do(func(ctx app.Context) {
		b.s.weather.open = true
		b.s.recompute(ctx)
	}).has("weather-table", "maker’s figures")
	if c := b.s.current.Service; c.Low.Hi <= c.Low.Lo || c.High.Hi <= c.High.Lo {
		t.Errorf("the case has the figures %v", c)
	}
}

// Where the measurement that would tell has been made, nobody is asked for it again.
func TestWhatIsMeasuredIsNotAskedFor(t *testing.T) {
	b := newBench(t, job.Memory{}).three("38", "292", "86")
	air := func(r *diagnose.Report) {
		r.Verdict = diagnose.Leaning
		r.Ranking = []diagnose.Ranked{{ID: car.Air, Probability: .75}, {ID: car.Overcharge, Probability: .25}}
		r.Next = []diagnose.Next{{Quantity: car.HighIdle, Minutes: 3}}
	}
	b.report(air).has("technician-sentence", "A resting pressure after a full soak")
	b.enter("resting", "118").report(air)
	b.has("technician-sentence", "The readings, the resting pressure among them, lean to air in the system, about 3 in 4.")
	b.has("customer-sentence", "air inside the system")
	b.has("would-tell", "the high side at idle")
	// What a sentence asks for is among the measurements that can be typed.
	for id, quantities := range tellers {
		for _, q := range quantities {
			if !slices.Contains(measureOrder, q) {
				t.Errorf("the sentence of %s asks for %s, which cannot be entered", id, q)
			}
		}
	}
}
