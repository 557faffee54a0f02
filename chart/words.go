package chart

import "twoneedles/refrig/car"

// Words returns the text of key with its {name}s replaced by the values that
// follow, given as pairs: words("chart.after", "reading", "31 psi"). The page passes
// its own; the keys are those of chart.json and numbers.json there.
type Words func(key string, pairs ...any) string

// List joins names as the language does, two at a time.
func (w Words) List(names []string) string {
	if len(names) == 0 {
		return ""
	}
	s := names[0]
	for _, n := range names[1:] {
		s = w("chart.list", "a", s, "b", n)
	}
	return s
}

// Sentences joins whole sentences.
func (w Words) Sentences(ss ...string) string {
	all := ""
	for _, s := range ss {
		switch {
		case s == "":
		case all == "":
			all = s
		default:
			all = w("chart.sentences", "a", all, "b", s)
		}
	}
	return all
}

// Condition names a condition where there is little room.
func (w Words) Condition(id car.ConditionID) string { return w("chart.condition." + string(id)) }
