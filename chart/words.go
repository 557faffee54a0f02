package chart

// Words returns the text of key with its {name}s replaced by the values that
// follow, given as pairs: words("chart.after", "reading", "31 psi"). The page passes
// its own; the keys are those of chart.json and numbers.json there.
type Words func(key string, pairs ...any) string

// list joins names as the language does, two at a time.
func (o Options) list(names []string) string {
	if len(names) == 0 {
		return ""
	}
	s := names[0]
	for _, n := range names[1:] {
		s = o.Words("chart.list", "a", s, "b", n)
	}
	return s
}

// sentences joins whole sentences.
func (o Options) sentences(ss ...string) string {
	all := ""
	for _, s := range ss {
		switch {
		case s == "":
		case all == "":
			all = s
		default:
			all = o.Words("chart.sentences", "a", all, "b", s)
		}
	}
	return all
}
