package claim_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"twoneedles/app/claim"
	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/diagnose/cases"
	"twoneedles/refrig/unit"
)

// No two of the things that the page says of one answer contradict each other, in any
// language: over cases drawn at random, likely and odd ones, and over every published case.
func TestWhatIsSaidAgrees(t *testing.T) {
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	n := 20000
	if testing.Short() {
		n = 500
	}
	var checks []*agreement
	for _, code := range present.Languages() {
		w, err := present.Load(code)
		if err != nil {
			t.Fatal(err)
		}
		checks = append(checks, newAgreement(w))
	}
	dice := rand.New(rand.NewPCG(8, 15))
	seen := map[diagnose.Verdict]int{}
	ask := func(what string, c car.Case, plan bool) {
		a, err := m.Ask(c)
		if err != nil {
			return // a reading beyond what instruments show: there is nothing to say
		}
		r := a.Answer()
		if plan { // about ten times as long as the answer
			r.Next = a.Next()
		}
		seen[r.Verdict]++
		for _, check := range checks {
			if !plan && check.w.Lang() != "en" { // a tenth of them in the other languages
				continue
			}
			for _, wrong := range check.contradictions(r, c, plan) {
				t.Errorf("%s %s %+v: %s", check.w.Lang(), what, c.Readings, wrong)
			}
		}
	}
	for i := range n {
		ask("random", randomCase(dice), i%10 == 0)
		if t.Failed() {
			return
		}
	}
	for _, v := range []diagnose.Verdict{diagnose.Named, diagnose.Leaning, diagnose.CannotTell, diagnose.Doubtful} {
		if seen[v] < n/100 {
			t.Errorf("only %d of %d are %s: the cases do not try it", seen[v], n, v)
		}
	}
	published, err := cases.Load(os.DirFS(filepath.Join("..", "..", "testdata", "cases")))
	if err != nil {
		t.Fatal(err)
	}
	asked := 0
	for _, s := range published {
		c := car.Case{Car: s.Car, Readings: car.Readings{}}
		c.Weather.Ambient, c.Weather.Humidity, c.Running.RPM, c.Running.Blower = 305, 0.5, 1500, 1
		if r, ok := s.Numbers["ambient"]; ok {
			c.Weather.Ambient = (r.Lo + r.Hi) / 2
		}
		for _, q := range car.Quantities() {
			if r, ok := s.Numbers[string(q)]; ok {
				c.Readings[q] = car.Reading{Value: (r.Lo + r.Hi) / 2}
			}
		}
		bands, err := m.WeatherBands(c, []float64{c.Weather.Ambient})
		if err != nil {
			t.Fatal(err)
		}
		for q, band := range map[car.Quantity]diagnose.Band{car.Low: bands[0].Low, car.High: bands[0].High} {
			if p, ok := s.Patterns[q]; ok && len(p.Levels) > 0 { // said in words: as far outside as half the band is wide
				c.Readings[q] = car.Reading{Value: map[cases.Level]float64{cases.Vacuum: -40e3, cases.Low: 2*band.P05 - band.P50,
					cases.High: 2*band.P95 - band.P50, cases.Normal: band.P50}[p.Levels[0]]}
			}
		}
		if len(c.Readings) == 0 {
			continue
		}
		asked++
		ask(s.Name, c, true)
	}
	if asked < 40 {
		t.Errorf("only %d published cases were asked", asked)
	}
}

// randomCase is a car with two needles and some further readings, each anywhere where
// the page does not ask whether it was meant.
func randomCase(dice *rand.Rand) car.Case {
	within := func(id present.FieldID) float64 {
		f, _ := present.FieldOf(id)
		span := f.Typical
		if dice.IntN(5) == 0 {
			span = f.Usual
		}
		return span.Lo + (span.Hi-span.Lo)*dice.Float64()
	}
	c := car.Case{Readings: car.Readings{}}
	c.Weather.Ambient, c.Weather.Humidity, c.Weather.HumidityKnown = within(present.Ambient), within(present.Humidity), true
	c.Running.RPM, c.Running.Blower = 1500, 1
	if dice.IntN(2) == 0 {
		c.Car.Refrigerant = car.Refrigerants()[1+dice.IntN(len(car.Refrigerants())-1)]
		c.Car.Metering, _ = car.MeteringOf(car.Meterings()[1+dice.IntN(2)])
		c.Car.LabelCharge = 0.3 + dice.Float64()
	}
	for _, q := range car.Quantities() {
		switch needle := q == car.Low || q == car.High; {
		case !needle && dice.IntN(6) > 0:
		case q == car.SightGlass:
			c.Readings[q] = car.Reading{Choice: job.SightGlassChoices[dice.IntN(4)]}
		case q == car.Recovered:
			if c.Car.LabelCharge > 0 {
				c.Readings[q] = car.Reading{Value: 1.3 * dice.Float64()}
			}
		default:
			c.Readings[q] = car.Reading{Value: within(present.FieldID(q))}
		}
	}
	return c
}

// agreement holds what two things said of one answer must not do to each other.
type agreement struct {
	w       *present.Words
	share   map[string]float64 // of a chance in words
	promise *regexp.Regexp
}

func newAgreement(w *present.Words) *agreement {
	a := &agreement{w: w, share: map[string]float64{}, promise: regexp.MustCompile(`will (show|tell|settle)|decides`)}
	for p := 0.051; p < 0.95; p += 0.001 {
		var n, of float64
		if m := regexp.MustCompile(`(\d+) in (\d+)`).FindStringSubmatch(present.English().Chance(p)); m != nil {
			n, of = float(m[1]), float(m[2])
		}
		a.share[w.Chance(p)] = n / of
	}
	a.share[w.Chance(1)] = 0.95
	return a
}

func float(digits string) float64 {
	n := 0.0
	for _, d := range digits {
		n = 10*n + float64(d-'0')
	}
	return n
}

func (a *agreement) contradictions(r diagnose.Report, c car.Case, planned bool) (wrong []string) {
	said := claim.Of(a.w, r, c.Readings, planned)
	sentences := map[string]string{"the technician": said.Technician, "the customer": said.Customer, "the customer’s doubt": said.Sure, "the bar": said.Bar,
		"the step": said.Step.Text, "in full": said.InFull(a.w)}
	for i, e := range r.Evidence {
		line, _ := claim.Reason(present.Voice{Words: a.w, Units: unit.US()}, e, r)
		sentences["reason "+strconv.Itoa(i)] = line[strings.LastIndex(strings.TrimSuffix(line, "."), ". ")+1:] // what it does, not what was read
	}
	complain := func(why, text string) { wrong = append(wrong, why+": "+text) }
	open := said.Candidates[:said.Open]
	mayBeNamed := []car.ConditionID{r.PairA, r.PairB}
	if r.PairA == "" {
		mayBeNamed = nil
	}
	for _, k := range open {
		mayBeNamed = append(mayBeNamed, k.ID)
	}
	sum := 0.0
	for _, k := range said.Candidates {
		sum += a.share[k.Chance]
	}
	if sum > 1+1e-9 {
		complain("what is said adds up to more than one", said.InFull(a.w))
	}
	for who, text := range sentences {
		if strings.Contains(text, "%") || regexp.MustCompile(`(?i)\b(certain\w*|definitely)\b`).MatchString(text) {
			complain(who+" hears of certainty", text)
		}
		if said.Verdict != diagnose.Named && regexp.MustCompile(`clearly|fits best, |most likely`).MatchString(text) && said.Verdict != diagnose.Leaning {
			complain(who+" hears a claim where nothing can be told", text)
		}
		if said.Open != 2 && regexp.MustCompile(`(?i)\btwo things fit\b`).MatchString(text) {
			complain(who+" hears of two where others are listed", text)
		}
		// Only what is ranked in the open is named, under whatever name.
		for _, id := range car.Conditions() {
			name := a.w.InText
			if strings.HasPrefix(who, "the customer") {
				name = a.w.Plain
			}
			named := strings.Contains(text, name(id)) || who == "the bar" && strings.HasPrefix(text, a.w.T("chart.condition."+string(id)))
			if named && !within(name, mayBeNamed, id) {
				complain(who+" hears of "+string(id)+", which the list calls unlikely", text)
			}
		}
		if most := 150; who == "the bar" && len([]rune(text)) > most {
			complain("more than three lines of a phone hold", text)
		}
		// A chance in a sentence is one of the list's.
		for words := range a.share {
			if strings.Contains(text, words) && !slices.ContainsFunc(open, func(k claim.Candidate) bool { return k.Chance == words }) {
				complain(who+" hears a chance that is not in the list", text)
			}
		}
		// What has been made is not asked for.
		_, weighed := c.Readings[car.Recovered]
		if weighed && regexp.MustCompile(`(?i)recover (it )?and|the needles do not say|we will (take it out, )?weigh|Do not add|Take none out`).MatchString(text) {
			complain(who+" is asked to weigh what was weighed", text)
		}
		if a.promise.MatchString(text) {
			complain(who+" is promised what a measurement may not bring", text)
		}
	}
	if said.Verdict == diagnose.Named {
		if open[0].ID == car.Healthy && r.Group != diagnose.GroupNormal && r.Group != "" {
			complain("both needles are called sound beside the pattern "+string(r.Group), said.Technician)
		}
		f, err := chart.Odds(r.Ranking, chart.Options{ID: "odds", Units: unit.US(), Words: a.w.T, Chances: a.w.Chances})
		if err != nil {
			complain("the customer’s bars", err.Error())
		}
		for i, row := range f.Table.Rows[:min(said.Open, len(f.Table.Rows)-1)] {
			if row[1] != said.Candidates[i].Chance {
				complain("the customer’s bars say another chance than the list", row[0]+" "+row[1]+", "+said.Candidates[i].Chance)
			}
		}
	}
	if strings.Contains(said.Customer, open[0].Chance) && strings.Contains(said.Sure, "cannot say") {
		complain("the customer hears a chance, and that nothing can be said", said.Customer+" "+said.Sure)
	}
	if q := said.Step.Measure; q != "" {
		if _, out := c.Readings[car.Recovered]; out {
			complain("a car is to be run whose charge is out", said.Step.Text)
		}
		if _, made := c.Readings[q]; made {
			complain("a measurement is asked for that was made", said.Step.Text)
		}
		if len(r.Next) == 0 || r.Next[0].Quantity != q {
			complain("the step is not the first of the plan", said.Step.Text)
		}
		if said.Verdict == diagnose.Named || said.Verdict == diagnose.Doubtful {
			complain("a measurement is asked for where there is something to do", said.Step.Text)
		}
	}
	if said.Verdict == diagnose.CannotTell && said.Open > 1 && !strings.Contains(said.Bar, a.w.InText(open[1].ID)) {
		complain("the bar names one where nothing can be told", said.Bar)
	}
	if w := r.Weighed; w != nil {
		least, most := w.Label*(1-w.Tolerance), w.Label*(1+w.Tolerance)
		right, surelyOff := w.Charge >= least && w.Charge <= most, w.Hi < least || w.Lo > most // as wrong as machines weigh
		if lead := open[0].ID; right && said.Verdict != diagnose.CannotTell && (lead == car.Undercharge || lead == car.Overcharge) || surelyOff && lead == car.Healthy {
			complain("the scale says otherwise", fmt.Sprint(open, *w))
		}
	}
	return wrong
}

// within tells whether the name of a condition is a part of that of one that may be named.
func within(name func(car.ConditionID) string, named []car.ConditionID, id car.ConditionID) bool {
	return slices.ContainsFunc(named, func(other car.ConditionID) bool { return strings.Contains(name(other), name(id)) })
}

// Fractions that are said add up to no more than one, and move as little as that asks.
func TestChancesAddUpToNoMoreThanOne(t *testing.T) {
	w := present.English()
	for _, c := range []struct {
		p    []float64
		want []string
	}{
		// Each rounded alone, these would be 1.03: 0.3 gained most, as 1 in 3.
		{[]float64{0.4, 0.3, 0.2, 0.1}, []string{"about 2 in 5", "about 1 in 4", "about 1 in 5", "about 1 in 10"}},
		{[]float64{0.71, 0.19, 0.1}, []string{"about 2 in 3", "about 1 in 5", "about 1 in 10"}},
		{[]float64{0.46, 0.45, 0.09}, []string{"about 1 in 2", "about 2 in 5", "about 1 in 10"}},
		{[]float64{0.97, 0.03}, []string{"more than 19 in 20", "unlikely (less than 1 in 20)"}},
	} {
		if got := w.Chances(c.p); !slices.Equal(got, c.want) {
			t.Errorf("%v: %q, want %q", c.p, got, c.want)
		}
	}
}
