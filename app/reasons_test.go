package app

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// What a technician reads of the reasons, as text of the page.

// reason is how one piece of evidence for an undercharge is put into words.
func (b *bench) reason(e diagnose.Evidence, ranking ...diagnose.Ranked) string {
	if len(ranking) == 0 {
		ranking = []diagnose.Ranked{{ID: car.Undercharge, Probability: .6}, {ID: car.Air, Probability: .3}, {ID: car.Healthy, Probability: .1}}
	}
	b.report(func(r *diagnose.Report) { r.Ranking, r.Evidence = ranking, []diagnose.Evidence{e} })
	return b.text("why")
}

// lowReads is a low side of so many psi against 25 to 40.
func lowReads(psi, againstHealthy float64) diagnose.Evidence {
	const pa = 6894.757
	e := diagnose.Evidence{Quantity: car.Low, Reading: car.Reading{Value: psi * pa}, HasExpected: true,
		Expected: car.Interval{Lo: 25 * pa, Hi: 40 * pa}, Median: 32 * pa, AgainstHealthy: againstHealthy}
	switch {
	case psi < 25:
		e.Place = -1
	case psi > 40:
		e.Place = 1
	}
	return e
}

func TestReasonSaysWhereAReadingStands(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "90")
	for psi, want := range map[float64]string{
		10: "Low side: 10 psi, below the healthy 25–40 psi.", 30: "Low side: 30 psi, within the healthy 25–40 psi.",
		60: "Low side: 60 psi, above the healthy 25–40 psi.",
		// What looks the same as the end of the band is at its edge, whichever end.
		24.8: "Low side: 25 psi, at the edge of the healthy 25–40 psi.", 40.2: "Low side: 40 psi, at the edge of the healthy 25–40 psi.",
	} {
		if got := b.reason(lowReads(psi, 1)); !strings.Contains(got, want) {
			t.Errorf("%g psi: it says %q, want %q", psi, got, want)
		}
	}
}

// Positive evidence speaks for the leader. Below a quarter of a natural log unit the
// odds move by less than a third, which is little: judgement, as the page's comment
// says; the signs are not.
func TestReasonSaysForWhomItSpeaks(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "90")
	for weight, want := range map[float64]string{
		3: "Speaks for it.", 0.4: "Speaks for it.", 0.1: "Says little here.", -0.1: "Says little here.",
		-0.4: "Speaks against it.", -3: "Speaks against it.",
	} {
		if got := b.reason(lowReads(30, weight)); !strings.Contains(got, want) {
			t.Errorf("weight %g: it says %q, want %q", weight, got, want)
		}
	}
	against := lowReads(30, -0.4)
	against.Favours = car.CondenserAirflow
	if got := b.reason(against); !strings.Contains(got, "Speaks against it, more for "+b.s.inText(car.CondenserAirflow)+".") {
		t.Errorf("it says %q and names not whom it favours", got)
	}
	// A leader cannot be compared with itself: of a healthy car the runner-up counts.
	healthy := lowReads(30, 0)
	healthy.AgainstNext = 1
	if got := b.reason(healthy, diagnose.Ranked{ID: car.Healthy, Probability: .7}, diagnose.Ranked{ID: car.Undercharge, Probability: .3}); !strings.Contains(got, "Speaks for it.") {
		t.Errorf("of a healthy car it says %q", got)
	}
}

// From the keys to the reasons, on the real model. Directions: a condenser that gets
// no air drives both sides up [AutoHeating2009] [USArmy303]; a short charge pulls both
// down [USArmy387]. Numbers are ours, far outside the band (judgement).
func TestReasonsFollowTheNeedles(t *testing.T) {
	b := newBench(t, job.Memory{}).three("55", "380", "90")
	b.has("why", "High side: 380 psi, above the healthy")
	for _, e := range b.s.answer.report.Evidence {
		if e.Quantity == car.High && e.AgainstHealthy <= 0 {
			t.Errorf("a high side of 380 psi speaks for a healthy car by %.2f", -e.AgainstHealthy)
		}
	}
	if got := b.text("why"); !strings.Contains(got[strings.Index(got, "High side"):], "Speaks for it.") {
		t.Errorf("it says %q", got)
	}
	b.three("12", "90", "90").has("why", "High side: 90 psi, below the healthy")
	b.has("why", "Low side: 12 psi, below the healthy")
	b.has("pattern", "The high side is low")
}

// What stands in the open: the leader and what is at least one in twenty, four at most.
func TestRankingShowsWhatMatters(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "90").report(func(r *diagnose.Report) {
		r.Ranking = []diagnose.Ranked{{ID: car.Undercharge, Probability: .45}, {ID: car.Air, Probability: .25}, {ID: car.Moisture, Probability: .06},
			{ID: car.Slipping, Probability: .03}, {ID: car.Healthy, Probability: .02}}
	})
	for id, want := range map[car.ConditionID]bool{car.Undercharge: true, car.Air: true, car.Moisture: true, car.Slipping: false, car.Healthy: false} {
		if got := strings.Contains(b.text("ranking"), b.s.conditionName(id)); got != want {
			t.Errorf("%s in the open: %v", id, got)
		}
	}
	// Words and percent are one chance.
	b.has("ranking", "1 in 4")
	b.has("ranking", "25 %")
}

// A named condition is said as one, a leaning one with its doubt, and where nothing
// can be told, and only there, the next measurement is a sentence of its own.
func TestSentencesFollowTheVerdict(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "90")
	say := func(v diagnose.Verdict, p float64) {
		b.report(func(r *diagnose.Report) {
			r.Verdict, r.PairA, r.PairB = v, "", ""
			r.Ranking = []diagnose.Ranked{{ID: car.Undercharge, Probability: p}, {ID: car.Air, Probability: 1 - p}}
			r.Next = []diagnose.Next{{Quantity: car.Resting, Minutes: 20}}
		})
	}
	say(diagnose.Named, .9)
	b.has("technician-sentence", "fits best, about 9 in 10.")
	if got := b.text("would-tell"); got != "" {
		t.Errorf("a named condition asks for more: %q", got)
	}
	say(diagnose.Leaning, .6)
	b.has("technician-sentence", "lean to a shortage of refrigerant, about 3 in 5.")
	say(diagnose.CannotTell, .45)
	b.has("technician-sentence", "fit more than one condition")
	b.has("would-tell", "the resting pressure")
}

// The bands across the weather hold for one kind of car in one kind of air: what
// changes those makes them anew, a reading does not.
func TestBandsAcrossTheWeatherFollowTheCar(t *testing.T) {
	with := func(change func(*car.Case)) car.Case {
		c := car.Case{Car: car.Spec{Refrigerant: car.R134a}, Readings: car.Readings{car.Low: {Value: 2e5}}}
		c.Weather.Ambient, c.Weather.Humidity, c.Running.RPM = 305, 0.5, 1500
		change(&c)
		return c
	}
	own := func(c *car.Case) { c.Service.Low = car.Interval{Lo: 2e5, Hi: 3e5} }
	for name, k := range map[string]struct {
		a, b func(*car.Case)
		same bool
	}{
		"another reading":   {func(*car.Case) {}, func(c *car.Case) { c.Readings = car.Readings{car.Low: {Value: 3e5}} }, true},
		"another day":       {func(*car.Case) {}, func(c *car.Case) { c.Weather.Ambient = 310 }, true},
		"another humidity":  {func(*car.Case) {}, func(c *car.Case) { c.Weather.Humidity = 0.8 }, false},
		"another altitude":  {func(*car.Case) {}, func(c *car.Case) { c.Weather.Altitude = 1500 }, false},
		"another speed":     {func(*car.Case) {}, func(c *car.Case) { c.Running.RPM = 900 }, false},
		"another car":       {func(*car.Case) {}, func(c *car.Case) { c.Car.Metering = car.OrificeTube }, false},
		"its own figures":   {func(*car.Case) {}, own, false},
		"figures elsewhere": {own, func(c *car.Case) { own(c); c.Weather.Ambient = 310 }, false},
	} {
		if got := sameBands(with(k.a), with(k.b)); got != k.same {
			t.Errorf("%s: the same bands: %v", name, got)
		}
	}
	// On the page: the table of the picture is another in moister air.
	b := newBench(t, job.Memory{}).three("30", "210", "90")
	b.do(func(ctx app.Context) {
		b.s.weather.open = true
		b.s.recompute(ctx)
	})
	dry := b.enter("humidity", "20").text("weather-table")
	if damp := b.enter("humidity", "90").text("weather-table"); dry == "" || damp == dry {
		t.Error("the bands do not follow the humidity")
	}
}

// A needle in inches is read to 1.6 kPa [EN837], a vacuum gauge to a tenth of what it
// shows (judgement). At 29 inHg below 101.325 kPa there are 3.1 kPa left; water at 30 °C
// boils at 4.25 kPa (steam tables). The needle may be at 4.7 kPa and cannot tell; a
// vacuum gauge is at 3.4 kPa at most, and can.
func TestNeedleCannotTellWhetherWaterBoils(t *testing.T) {
	b := pickup(t, job.Memory{}).put(slot{present.Soak, ""}, "86").put(slot{present.VacuumReached, ""}, "29 in").at("job")
	b.has("vacuum-says", "too coarse")
	b.put(slot{present.VacuumReached, ""}, "3100 Pa").at("job").has("vacuum-says", "boils off")
	// 4.0 kPa may be 4.4.
	b.put(slot{present.VacuumReached, ""}, "4000 Pa").at("job").has("vacuum-says", "too coarse")
}

// A needle is read to a quarter of an inch (judgement): a climb of 0.3 inches is no leak
// yet. On a vacuum gauge of 20 microns the same points are one.
func TestSmallClimbOfANeedleIsNoLeak(t *testing.T) {
	hold := func(points ...string) *bench {
		b := pickup(t, job.Memory{})
		b.do(func(ctx app.Context) {
			b.s.job.Repair.Hold = nil
			for i, p := range points {
				b.s.job.Repair.Hold = append(b.s.job.Repair.Hold, job.HoldPoint{Time: []string{"0", "3", "6", "9", "12", "15"}[i], Pressure: p})
			}
			b.s.edited(ctx)
		})
		return b.at("job")
	}
	hold("28.50 in", "28.44 in", "28.38 in", "28.32 in", "28.26 in", "28.20 in").has("hold-hero", "It holds")
	// 28.5 … 28.2 inHg below the atmosphere as a vacuum gauge shows them, Pa.
	hold("4813 Pa", "5016 Pa", "5219 Pa", "5423 Pa", "5626 Pa", "5829 Pa").has("hold-hero", "A leak")
}

// Two metres of 5 mm hose hold 39 ml: of liquid R-134a at 32 °C, 1180 kg/m³ (its
// equation of state), 46 g; of its vapour a gram or two.
func TestHosesFullOfLiquidAreWeighedOut(t *testing.T) {
	b := pickup(t, job.Memory{})
	for state, want := range map[string]string{"drawn_in": "907 g", "liquid": "953 g", "vapour": "909 g"} {
		b.do(func(ctx app.Context) {
			b.s.job.Units.Mass = unit.Gram
			b.s.job.Repair.Hoses = state
			b.s.edited(ctx)
		})
		b.put(slot{present.HoseLength, ""}, "2 m").put(slot{present.HoseBore, ""}, "5 mm").at("job").has("charge-hero", want)
	}
}

// The proof looks at each needle against its own side.
func TestProofLooksAtBothNeedles(t *testing.T) {
	b := pickup(t, job.Memory{}).at("job")
	b.has("prove-hero", "Proved")
	b.put(slot{"low", "after"}, "95").at("job").has("prove-checks", "Low side: 95 psi, above")
	b.has("prove-hero", "Not proved")
	b.put(slot{"low", "after"}, "38").put(slot{"high", "after"}, "380").at("job").has("prove-checks", "High side: 380 psi, above")
	// A vent colder than a sound car's fails nothing.
	b.put(slot{"high", "after"}, "225").put(slot{"vent", "after"}, "38").at("job").has("prove-hero", "Proved")
}

// A temperature typed for the step outranks the weather: at rest at 50 °F 62 psi is
// above the 45 psi of R-134a's saturation, at 90 °F far below its 104.
func TestTemperatureOfTheStepOutranksTheWeather(t *testing.T) {
	b := pickup(t, job.Memory{}).at("job")
	b.has("resting-hero", "No liquid left")
	b.put(slot{present.Soak, ""}, "50").at("job")
	if got := b.text("resting-hero"); strings.Contains(got, "No liquid") {
		t.Errorf("at 50 °F it says %q", got)
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
