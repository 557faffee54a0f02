package practice

import (
	"slices"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/pagetest"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/practice"
	"twoneedles/refrig/unit"
)

// What was kept of a drill is restored only if it is one.
func TestDrillIsRestoredNotTrusted(t *testing.T) {
	for text, ok := range map[string]bool{
		`{"level":2,"cases":[7,8],"at":1,"bought":["vent"]}`: true,
		`{"level":2,"cases":[7,8],"at":2}`:                   false,
		`{"level":2,"cases":[7,8],"at":-1}`:                  false,
		`{"level":2,"cases":[0],"at":0}`:                     false,
		`{"level":2,"cases":[],"at":0}`:                      false,
		`{"level":`:                                          false,
		``:                                                   false,
	} {
		var d drill
		if got := d.restore(text); got != ok {
			t.Errorf("%s: %v", text, got)
		}
	}
	var d drill
	if !d.restore(`{"level":99,"cases":[7],"at":0}`) || d.Level != practice.Everyday {
		t.Errorf("an unknown level becomes %d", d.Level)
	}
}

// Codes of package practice and their words, both ways: a new complaint, outcome,
// dial, sign or question has no place to hide, and no words outlive one.
func TestPracticeCodesHaveWordsBothWays(t *testing.T) {
	en := present.English()
	codes := map[string][]string{}
	put := func(prefix, code, suffix string) {
		codes[prefix] = append(codes[prefix], code)
		if key := prefix + code + suffix; !en.Has(key) {
			t.Errorf("no words %s", key)
		}
	}
	for _, c := range practice.Complaints {
		put("practice.complaint.", string(c), "")
	}
	for _, o := range practice.Outcomes {
		put("practice.outcome.", string(o), ".title")
		put("practice.outcome.", string(o), ".text")
	}
	for _, l := range practice.Levels {
		put("practice.level.", levelName(l), ".name")
		put("practice.level.", levelName(l), ".about")
	}
	for i := range practice.Confidences {
		put("practice.sure.", string(rune('1'+i)), "")
	}
	for _, d := range practice.Dials {
		put("explore.dial.", string(d.Dial), "")
	}
	for _, s := range practice.Signs {
		put("explore.sign.", string(s), "")
	}
	for _, q := range practice.Questions {
		put("explore.ask.", string(q), ".question")
		put("explore.ask.", string(q), ".answer")
		for _, a := range practice.NewSettings().Arms(q) {
			put("explore.arm.", a.Kind, "")
		}
	}
	for prefix, known := range codes {
		for _, key := range en.Keys() {
			if rest, ok := strings.CutPrefix(key, prefix); ok {
				if code, _, _ := strings.Cut(rest, "."); !slices.Contains(known, code) {
					t.Errorf("%s: words for a code that is none", key)
				}
			}
		}
	}
}

// What was typed and is no number of a case is named, not dropped in silence.
func TestClassNumbersNameWhatIsNone(t *testing.T) {
	many := strings.Repeat("7 ", practice.MaxSet) + "8"
	for text, want := range map[string]struct {
		n   int
		bad []string
	}{
		"5, 6; 7":        {3, nil},
		"1, x":           {1, []string{"x"}},
		"0 -3 4 1000000": {1, []string{"0", "-3", "1000000"}},
		"":               {0, nil},
		many:             {practice.MaxSet, []string{"8"}},
	} {
		cases, bad := classNumbers(text)
		if len(cases) != want.n || !slices.Equal(bad, want.bad) {
			t.Errorf("%q: %v, left out %q", text, cases, bad)
		}
	}
}

// Slight, clear and severe are thirds of the scale of severity.
func TestSeverityIsInThirds(t *testing.T) {
	for x, want := range map[float64]string{0: "slight", 0.3: "slight", 0.36: "clear", 0.64: "clear", 0.7: "severe", 1: "severe"} {
		if got := severity(x); got != want {
			t.Errorf("%g is %s, want %s", x, got, want)
		}
	}
}

// As on Readings, a recovered mass is a share of the label charge, and so is what
// healthy cars give, whichever units are chosen.
func TestRecoveredMassIsAShareOfTheLabel(t *testing.T) {
	for _, units := range []unit.Units{unit.US(), unit.Metric()} {
		s := pagetest.New(t, job.Memory{}, func(pg *page.Page) func() app.Composer {
			return func() app.Composer {
				return weighedOf(pg, diagnose.Report{
					Ranking: []diagnose.Ranked{{ID: car.Empty, Probability: 0.9}, {ID: car.Undercharge, Probability: 0.1}},
					Evidence: []diagnose.Evidence{{Quantity: car.Recovered, Reading: car.Reading{Value: 0.02}, HasExpected: true,
						Expected: car.Interval{Lo: 0.9, Hi: 1.1}, Place: -1, AgainstHealthy: 3}},
				})
			}
		})
		s.Do(func() { s.Page.Job.Units = units })
		s.Has("practice-why", "2 % of the label charge, below the healthy 90–110 %.")
	}
}

// The chances of one case add up to no more than one here too: each rounded alone, these
// would be 2, 1⅔, 1 and ½ fifths.
func TestChancesAddUp(t *testing.T) {
	s := pagetest.New(t, job.Memory{}, func(pg *page.Page) func() app.Composer {
		return func() app.Composer {
			return weighedOf(pg, diagnose.Report{
				Ranking: []diagnose.Ranked{{ID: car.Empty, Probability: .4}, {ID: car.Undercharge, Probability: .3}, {ID: car.Air, Probability: .2}, {ID: car.Healthy, Probability: .1}},
			})
		}
	})
	s.Has("weighed", "1 in 4")
	if got := s.Text("weighed"); strings.Contains(got, "1 in 3") {
		t.Errorf("it says %q", got)
	}
}

// weighedOf draws the part of a marked case that says what each reading spoke for.
func weighedOf(pg *page.Page, r diagnose.Report) app.Composer {
	return &only{part: (&view{s: pg, review: &review{mark: practice.Mark{Report: r}}}).weighed}
}

// only draws a part of the place.
type only struct {
	app.Compo
	part func() app.UI
}

func (o *only) Render() app.UI { return o.part() }

// After the answer the shortest way stands beside the student's own, with the minutes and
// the chance that the search found.
func TestShortestWayBesideTheStudents(t *testing.T) {
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]int{}
	for seed := 1; seed <= 6; seed++ {
		puzzle, err := practice.Draw(m, seed, practice.Textbook)
		if err != nil {
			t.Fatal(err)
		}
		var v *view
		s := pagetest.New(t, job.Memory{}, func(pg *page.Page) func() app.Composer {
			v = View(pg).(*view)
			v.store, v.progress = job.Memory{}, practice.NewProgress()
			v.drill, v.desk = drill{Level: practice.Textbook, Cases: []int{seed}}, practice.NewDesk(puzzle)
			v.drill.Given = answerGiven{waiting, 0}
			return func() app.Composer { return v }
		})
		v.ctx = s.Page.Ctx
		v.desk.Buy(car.Vent)
		s.Do(v.markIt)
		s.Show(func() app.Composer {
			return &only{part: func() app.UI { return app.Section().ID("short").Body(v.shortPart()) }}
		})
		s.Has("your-way", "the vent")
		search := v.review.search
		if search == nil {
			t.Fatalf("number %d: no search came", seed)
		}
		w := s.Page.Words
		s.Has("short", w.T("practice.short.about", "n", search.Tried))
		switch {
		case !search.Found:
			told["open"]++
			s.Has("short-way", w.Chance(search.Chance))
		case len(search.Way) == 0:
			told["needles"]++
			s.Has("short-way", "None was needed")
		default:
			told["found"]++
			s.Has("short-way", v.minutes(search.Minutes()))
			s.Has("short-way", s.Page.Words.InText(v.review.mark.Want))
			s.Has("short-way", w.Chance(search.Chance))
			for _, q := range search.Way {
				if q != car.HighIdle {
					s.Has("short-way", w.T("quantity."+string(q)+".in_text"))
				}
			}
		}
	}
	if told["found"] == 0 {
		t.Errorf("no case needed a measurement: %v", told)
	}
}
