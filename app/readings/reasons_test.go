package readings

import (
	"fmt"
	"strings"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// What a technician reads of the reasons, as text of the page.

// reason is how one piece of evidence for an undercharge is put into words.
func (b *screen) reason(e diagnose.Evidence, ranking ...diagnose.Ranked) string {
	if len(ranking) == 0 {
		ranking = []diagnose.Ranked{{ID: car.Undercharge, Probability: .6}, {ID: car.Air, Probability: .3}, {ID: car.Healthy, Probability: .1}}
	}
	b.report(func(r *diagnose.Report) { r.Ranking, r.Evidence = ranking, []diagnose.Evidence{e} })
	return b.Text("why")
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
	b := open(t).three("30", "210", "90")
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
	b := open(t).three("30", "210", "90")
	for weight, want := range map[float64]string{
		3: "Points to it.", 0.4: "Points to it.", 0.1: "Adds little.", -0.1: "Adds little.",
		-0.4: "Points away from it.", -3: "Points away from it.",
	} {
		if got := b.reason(lowReads(30, weight)); !strings.Contains(got, want) {
			t.Errorf("weight %g: it says %q, want %q", weight, got, want)
		}
	}
	against := lowReads(30, -0.4)
	against.Favours = car.CondenserAirflow
	for chance, named := range map[float64]bool{.2: true, .04: false} { // what the list folds away is not named here either
		got := b.reason(against, diagnose.Ranked{ID: car.Undercharge, Probability: .7}, diagnose.Ranked{ID: car.CondenserAirflow, Probability: chance})
		want := "Points away from it."
		if named {
			want = "Points to " + b.Page.Words.InText(car.CondenserAirflow) + " instead."
		}
		if !strings.Contains(got, want) {
			t.Errorf("%g: it says %q, want %q", chance, got, want)
		}
	}
	// A leader cannot be compared with itself: of a healthy car the runner-up counts.
	healthy := lowReads(30, 0)
	healthy.AgainstNext = 1
	if got := b.reason(healthy, diagnose.Ranked{ID: car.Healthy, Probability: .7}, diagnose.Ranked{ID: car.Undercharge, Probability: .3}); !strings.Contains(got, "Points to it.") {
		t.Errorf("of a healthy car it says %q", got)
	}
}

// From the keys to the reasons, on the real model. Directions: a condenser that gets
// no air drives both sides up [AutoHeating2009] [USArmy303]; a short charge pulls both
// down [USArmy387]. Numbers are ours, far outside the band (judgement).
func TestReasonsFollowTheNeedles(t *testing.T) {
	b := open(t).three("55", "380", "90")
	b.Has("why", "High side: 380 psi, above the healthy")
	for _, e := range b.Page.Answer().Report.Evidence {
		if e.Quantity == car.High && e.AgainstHealthy <= 0 {
			t.Errorf("a high side of 380 psi speaks for a healthy car by %.2f", -e.AgainstHealthy)
		}
	}
	if got := b.Text("why"); !strings.Contains(got[strings.Index(got, "High side"):], "Points to it.") {
		t.Errorf("it says %q", got)
	}
	b.three("12", "90", "90").Has("why", "High side: 90 psi, below the healthy")
	b.Has("why", "Low side: 12 psi, below the healthy")
	b.Has("pattern", "The high side is low")
}

// What stands in the open: the leader and what is at least one in twenty, six at most.
func TestRankingShowsWhatMatters(t *testing.T) {
	b := open(t).three("30", "210", "90").report(func(r *diagnose.Report) {
		r.Ranking = []diagnose.Ranked{{ID: car.Undercharge, Probability: .45}, {ID: car.Air, Probability: .25}, {ID: car.Moisture, Probability: .06},
			{ID: car.Slipping, Probability: .03}, {ID: car.Healthy, Probability: .02}}
	})
	for id, want := range map[car.ConditionID]bool{car.Undercharge: true, car.Air: true, car.Moisture: true, car.Slipping: false, car.Healthy: false} {
		if got := strings.Contains(b.Text("ranking"), b.Page.Words.ShortName(id)); got != want {
			t.Errorf("%s in the open: %v", id, got)
		}
	}
	b.Has("ranking", "1 in 4")
	if got := b.Text("ranking"); strings.Contains(got, "%") {
		t.Errorf("a chance is said twice: %q", got)
	}
	b.report(func(r *diagnose.Report) { // as two needles above the band leave it: the fifth is what most would look for
		r.Ranking = []diagnose.Ranked{{ID: car.CondenserAirflow, Probability: .35}, {ID: car.Healthy, Probability: .18}, {ID: car.Undercharge, Probability: .15},
			{ID: car.Air, Probability: .08}, {ID: car.Overcharge, Probability: .056}, {ID: car.WrongRefrigerant, Probability: .053}, {ID: car.Slipping, Probability: .052}}
	})
	b.Has("ranking", b.Page.Words.ShortName(car.Overcharge))
	b.Has("ranking", b.Page.Words.ShortName(car.WrongRefrigerant))
	if strings.Contains(b.Text("ranking"), b.Page.Words.ShortName(car.Slipping)) {
		t.Error("seven are in the open")
	}
}

// A named condition is said as one, a leaning one with its doubt, and where nothing
// can be told, and only there, the next measurement is a sentence of its own.
func TestSentencesFollowTheVerdict(t *testing.T) {
	b := open(t).three("30", "210", "90")
	say := func(v diagnose.Verdict, p float64) {
		b.report(func(r *diagnose.Report) {
			r.Verdict, r.PairA, r.PairB = v, "", ""
			r.Ranking = []diagnose.Ranked{{ID: car.Undercharge, Probability: p}, {ID: car.Air, Probability: 1 - p}}
			r.Next = []diagnose.Next{{Quantity: car.Resting, Minutes: 20}}
		})
	}
	say(diagnose.Named, .9)
	b.Has("technician-sentence", "fits best, about 9 in 10.")
	b.Has("next-ask", "Look for the leak")
	say(diagnose.Leaning, .6)
	b.Has("technician-sentence", "lean to a shortage of refrigerant, about 3 in 5. Do not add any yet.")
	b.Has("next-ask", "Measure the resting pressure.")
	b.Has("glance", "Not enough refrigerant, about 3 in 5. Measure the resting pressure.")
	say(diagnose.CannotTell, .45)
	b.Has("technician-sentence", "Several things fit; the likeliest are a shortage of refrigerant")
	b.Has("glance", "Not enough refrigerant or air in the system? Measure the resting pressure.")
	say(diagnose.Doubtful, .9)
	b.Has("glance", "The reading is in doubt. Check hoses")
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
	b := open(t).three("30", "210", "90")
	b.Do(func() {
		b.place.weather.open = true
		b.place.askWeather()
	})
	dry := b.Enter("humidity", "20").Text("weather-table")
	if damp := b.Enter("humidity", "90").Text("weather-table"); dry == "" || damp == dry {
		t.Error("the bands do not follow the humidity")
	}
}

// A recovered mass is held against the share of the label charge that healthy cars
// give, in whatever unit the mass is typed: 34 oz of 24 oz are 142 %, 200 g of 450 g
// are 44 %.
func TestRecoveredMassIsAShareOfTheLabel(t *testing.T) {
	for _, c := range []struct {
		units            unit.Units
		label, recovered string
		want             string
	}{{unit.US(), "24 oz", "34 oz", "142 % of the label charge, above the healthy "}, {unit.Metric(), "450", "200", "44 % of the label charge, below the healthy "}} {
		b := open(t).three("30 psi", "210 psi", "90 F")
		b.Do(func() { b.Page.Job.Units = c.units })
		b.Enter("label_charge", c.label).Enter("recovered", c.recovered)
		_, after, ok := strings.Cut(b.Text("why"), c.want)
		band, _, _ := strings.Cut(after, ".")
		var lo, hi float64
		// A full charge, give or take what a scale and a machine miss [SAEJ2788].
		if n, _ := fmt.Sscanf(band, "%f–%f %%", &lo, &hi); !ok || n != 2 || lo < 70 || lo > 100 || hi < 100 || hi > 130 {
			t.Errorf("%s of %s: %q", c.recovered, c.label, b.Text("why"))
		}
	}
}
