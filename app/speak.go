package app

import (
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// conditionName names a condition in a list.
func (s *session) conditionName(id car.ConditionID) string {
	return s.words.T("condition." + string(id) + ".name")
}

// inText names a condition within a technician's sentence.
func (s *session) inText(id car.ConditionID) string {
	return s.words.T("condition." + string(id) + ".in_text")
}

// plain names a condition within a sentence for a driver.
func (s *session) plain(id car.ConditionID) string {
	return s.words.T("condition." + string(id) + ".plain")
}

// sentences returns the answer as one sentence a customer could hear and one for
// the technician. Both name the doubt.
func (s *session) sentences(r diagnose.Report) (customer, technician string) {
	w := s.words
	switch {
	case r.Verdict == diagnose.Doubtful || len(r.Ranking) == 0:
		return w.T("verdict.doubtful.customer"), w.T("verdict.doubtful.tech")
	case r.Ranking[0].ID == car.Combination && r.PairA != "" && r.PairB != "":
		return w.T("verdict.pair.customer", "first", s.plain(r.PairA), "second", s.plain(r.PairB)),
			w.T("verdict.pair.tech", "first", s.inText(r.PairA), "second", s.inText(r.PairB))
	case r.Verdict == diagnose.CannotTell && len(r.Ranking) > 1:
		return s.cannotTell(r)
	}
	lead := r.Ranking[0]
	how := "leaning"
	if r.Verdict == diagnose.Named {
		how = "named"
	}
	key, chance := "condition."+string(lead.ID), s.said(lead.Probability)
	if q, made := s.settled(lead.ID); made && how == "leaning" {
		return w.T("verdict.settled.customer", "condition", s.plain(lead.ID), "chance", chance),
			w.T("verdict.settled.tech", "measured", w.T("quantity."+string(q)+".in_text"), "condition", s.inText(lead.ID), "chance", chance)
	}
	return w.T(key+".customer."+how, "chance", chance), w.T(key+".tech."+how, "chance", chance)
}

// tellers are the measurements that the sentences of conditions.json for a
// condition that leads ask for.
var tellers = map[car.ConditionID][]car.Quantity{
	car.Undercharge:      {car.DischargeLine, car.Recovered},
	car.Overcharge:       {car.LiquidLine, car.Recovered},
	car.Air:              {car.Resting},
	car.CondenserAirflow: {car.WaterTest, car.FanTest},
	car.ValveOpen:        {car.SuctionLine},
	car.WeakCompressor:   {car.EqualiseTime},
	car.SwitchRange:      {car.Cycling},
	car.Empty:            {car.Resting},
}

// settled returns a measurement that the condition's own sentence would ask for
// although it has been made.
func (s *session) settled(id car.ConditionID) (car.Quantity, bool) {
	for _, q := range tellers[id] {
		if _, made := s.answer.of.Readings[q]; made {
			return q, true
		}
	}
	return "", false
}

// inFewWords names what leads and how likely it is, or says that nothing does; ""
// where there is no answer.
func (s *session) inFewWords() string {
	r := s.answer.report
	if s.answer.state != answered || len(r.Ranking) == 0 {
		return ""
	}
	if r.Verdict == diagnose.Named || r.Verdict == diagnose.Leaning {
		return s.words.T("readings.glance.leads", "condition", s.conditionName(r.Ranking[0].ID), "chance", s.words.Chance(r.Ranking[0].Probability))
	}
	return s.words.T("verdict." + string(r.Verdict) + ".name")
}

// said is a chance within a sentence that says "most likely" already: "almost
// certain" would double it.
func (s *session) said(p float64) string {
	if present.ChanceKey(p) == "chance.almost_certain" {
		return s.words.T("readings.nearly_sure")
	}
	return s.words.Chance(p)
}

func (s *session) cannotTell(r diagnose.Report) (customer, technician string) {
	w, a, b := s.words, r.Ranking[0], r.Ranking[1]
	return w.T("verdict.cannot_tell.customer", "first", s.plain(a.ID), "second", s.plain(b.ID)),
		w.T("verdict.cannot_tell.tech",
			"first", s.inText(a.ID), "first_chance", w.Chance(a.Probability),
			"second", s.inText(b.ID), "second_chance", w.Chance(b.Probability))
}

// wouldTell names what would settle readings that cannot tell, "" where the answer
// says so itself. It is a sentence of its own because it is known later than the
// answer.
func (s *session) wouldTell(r diagnose.Report) string {
	if len(r.Next) == 0 || len(r.Ranking) == 0 {
		return ""
	}
	_, settled := s.settled(r.Ranking[0].ID)
	if r.Verdict != diagnose.CannotTell && !(r.Verdict == diagnose.Leaning && settled) {
		return ""
	}
	return s.words.T("verdict.cannot_tell.next", "next", s.words.T("quantity."+string(r.Next[0].Quantity)+".in_text"))
}

// forTechnician is the answer for the technician in full.
func (s *session) forTechnician(r diagnose.Report) string {
	_, technician := s.sentences(r)
	if next := s.wouldTell(r); next != "" {
		return s.words.T("readings.two_sentences", "first", technician, "second", next)
	}
	return technician
}
