package claim

import (
	"cmp"
	"slices"

	"twoneedles/app/present"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// Claim is all that is claimed of an answer: the verdict, its sentences, what is ranked
// in the open and with which chances, and the next step.
type Claim struct {
	Verdict    diagnose.Verdict
	Title      string      // the verdict in a few words
	Candidates []Candidate // every condition, the likeliest first
	Open       int         // so many of them are ranked in the open; only they are named in sentences
	// Technician is the claim alone. Customer is the same for the person who drives
	// the car, with the doubt.
	Technician, Customer string
	// Sure says to that person how sure this is, in the tone of Customer.
	Sure string
	Step Step
	// AskEngine is set where nothing can be said before it is known whether the engine
	// runs.
	AskEngine bool
	// Bar is the claim and the next step as short as can be: what leads, or the two
	// that lead.
	Bar string
}

// Candidate is a condition with its chance in words.
type Candidate struct {
	ID          car.ConditionID
	Probability float64
	Chance      string
}

// Step is what to do next: one measurement, or what its text says.
type Step struct {
	Measure car.Quantity // "" where nothing is to be measured
	Text    string       // a sentence or two
	Brief   string       // the same for the bar, which has three lines of a phone
	// Wait is set while the next measurement is not known yet.
	Wait bool
}

// What is at least 1 in 20 is ranked in the open, up to RankedOpen conditions: a
// technician expects to see whatever he would not be surprised to find. Unlikely is the
// chance below which a condition is folded away (judgement).
const (
	RankedOpen = 6
	Unlikely   = 0.05
)

// settledBy are the measurements that the sentence condition.<id>.tech.check asks for.
// Where one of them has been made, nobody is asked for it again.
var settledBy = map[car.ConditionID][]car.Quantity{
	car.Healthy:          {car.Recovered},
	car.Undercharge:      {car.Recovered},
	car.Overcharge:       {car.Recovered},
	car.Air:              {car.Resting},
	car.CondenserAirflow: {car.WaterTest, car.FanTest},
	car.ValveOpen:        {car.SuctionLine},
	car.WeakCompressor:   {car.EqualiseTime},
}

// lookFirst are the conditions that a look at the car settles before any measurement
// does: whether the clutch turns, a coupler is open, what gas it is (judgement).
var lookFirst = map[car.ConditionID]bool{car.NotRunning: true, car.Empty: true, car.Gauge: true, car.WrongRefrigerant: true}

// Of is what is claimed of a report on these readings. planned tells whether the
// report's next measurement is worked out.
func Of(w *present.Words, r diagnose.Report, read car.Readings, planned bool) Claim {
	said := Claim{Verdict: r.Verdict, Title: w.T("verdict." + string(r.Verdict) + ".name"), Open: open(r.Ranking)}
	for i, words := range w.Chances(Probabilities(r.Ranking)) {
		c := r.Ranking[i]
		said.Candidates = append(said.Candidates, Candidate{c.ID, c.Probability, words})
	}
	said.Step = step(w, &r, read, planned)
	said.Technician, said.Customer = said.sentences(w, &r, read)
	said.Sure = said.sure(w)
	said.Bar = said.bar(w)
	return said
}

// open is how many of a ranking stand in the open.
func open(ranking []diagnose.Ranked) int {
	n := 1
	for n < min(len(ranking), RankedOpen) && ranking[n].Probability >= Unlikely {
		n++
	}
	return n
}

// names tells whether the sentences speak of the one condition that leads.
func (said *Claim) names() bool {
	return said.Verdict != diagnose.Doubtful && !(said.Verdict == diagnose.CannotTell && said.Open > 1)
}

// sure says how sure the claim is. Where nothing is named, a chance of nothing in particular
// would only frighten; where a chance was said, it is said again and not taken back.
func (said *Claim) sure(w *present.Words) string {
	key, lead := "tell.sure.leaning", said.Candidates[0]
	switch {
	case !said.names():
		return w.T("tell.sure.open")
	case said.Verdict == diagnose.Named:
		key = "tell.sure.likeliest"
	}
	return w.T(key, "cause", w.Plain(lead.ID), "chance", lead.Chance)
}

// Probabilities are those of a ranking, in its order.
func Probabilities(ranking []diagnose.Ranked) []float64 {
	out := make([]float64, len(ranking))
	for i, r := range ranking {
		out[i] = r.Probability
	}
	return out
}

// sentences are the answer in one sentence each.
func (said *Claim) sentences(w *present.Words, r *diagnose.Report, read car.Readings) (technician, customer string) {
	lead := said.Candidates[0]
	paired := lead.ID == car.Combination && r.PairA != "" && r.PairB != ""
	switch {
	case r.Verdict == diagnose.Doubtful:
		return w.T("verdict.doubtful.tech"), w.T("verdict.doubtful.customer")
	case !said.names():
		b := said.Candidates[1]
		return w.T("verdict.cannot_tell.tech", "first", w.InText(lead.ID), "first_chance", lead.Chance, "second", w.InText(b.ID), "second_chance", b.Chance),
			w.T("verdict.cannot_tell.customer", "first", w.Plain(lead.ID), "second", w.Plain(b.ID))
	case paired:
		return w.T("verdict.pair.tech", "first", w.InText(r.PairA), "second", w.InText(r.PairB), "chance", lead.Chance),
			w.T("verdict.pair.customer", "first", w.Plain(r.PairA), "second", w.Plain(r.PairB))
	}
	key, how := "condition."+string(lead.ID), "leaning"
	if r.Verdict == diagnose.Named {
		how = "named"
	}
	technician = w.T(key+".tech."+how, "chance", lead.Chance)
	if first := key + ".tech.first"; how == "leaning" && !ChargeIsOut(read) && w.Has(first) && said.Step.Text != w.T(first) {
		technician = w.T("readings.two_sentences", "first", technician, "second", w.T(first))
	}
	customer = w.T(key+".customer."+how, "chance", lead.Chance)
	if made(read, settledBy[lead.ID]) { // what was done is not promised
		switch checked := key + ".customer.checked"; {
		case how == "leaning":
			customer = w.T("verdict.settled.customer", "condition", w.Plain(lead.ID), "chance", lead.Chance)
		case w.Has(checked):
			customer = w.T(checked, "chance", lead.Chance)
		}
	}
	return technician, customer
}

// made tells whether one of the readings was taken.
func made(read car.Readings, list []car.Quantity) bool {
	for _, q := range list {
		if _, ok := read[q]; ok {
			return true
		}
	}
	return false
}

// ChargeIsOut tells whether the refrigerant was recovered: then nothing can be run or
// measured until it is back.
func ChargeIsOut(read car.Readings) bool { return made(read, []car.Quantity{car.Recovered}) }

// step is what to do next.
func step(w *present.Words, r *diagnose.Report, read car.Readings, planned bool) Step {
	lead := r.Ranking[0].ID
	key := "condition." + string(lead) + ".tech."
	switch {
	case slices.ContainsFunc(r.Questions, func(q refrig.Warning) bool { return q.Code == "above_relief" }): // not "read again"
		return Step{Text: w.T("warning.above_relief.next")}
	case r.Verdict == diagnose.Doubtful:
		return Step{Text: w.T("verdict.doubtful.act")}
	case r.Verdict == diagnose.Named:
		text := w.T(key + "act")
		brief := text
		switch {
		case w.Has(key+"check") && !made(read, settledBy[lead]):
			brief = w.T(key + "check")
			text = w.T("readings.two_sentences", "first", brief, "second", text)
		case w.Has(key+"first") && !w.Has(key+"check"):
			brief = w.T(key + "first")
		}
		return Step{Text: text, Brief: brief}
	case ChargeIsOut(read):
		back := w.T("readings.next.charge_back")
		return Step{Text: w.T("readings.two_sentences", "first", w.T("readings.next.charge_out"), "second", back), Brief: back}
	case r.Verdict == diagnose.Leaning && lookFirst[lead]:
		return Step{Text: w.T(key + "first")}
	case len(r.Next) > 0:
		q := r.Next[0].Quantity
		return Step{Measure: q, Text: w.T("readings.step.measure", "quantity", w.T("quantity."+string(q)+".in_text"))}
	case !planned:
		return Step{Text: w.T("readings.busy"), Wait: true}
	}
	return Step{Text: w.T("readings.next.none")}
}

// bar is the answer and the step in a line or two.
func (said *Claim) bar(w *present.Words) string {
	lead := said.Candidates[0]
	first := ended(said.Title)
	switch {
	case said.Verdict == diagnose.CannotTell && said.Open > 1:
		first = w.T("readings.bar.two", "first", w.ShortName(lead.ID), "second", w.InText(said.Candidates[1].ID))
	case said.Verdict == diagnose.Named, said.Verdict == diagnose.Leaning:
		first = w.T("readings.bar.leads", "condition", w.ShortName(lead.ID), "chance", lead.Chance)
	}
	if said.Step.Wait {
		return first
	}
	return w.T("readings.two_sentences", "first", first, "second", cmp.Or(said.Step.Brief, said.Step.Text))
}

// InFull is the claim and the next step.
func (said Claim) InFull(w *present.Words) string {
	if said.Step.Wait || said.Technician == "" {
		return said.Technician
	}
	return w.T("readings.two_sentences", "first", said.Technician, "second", said.Step.Text)
}
