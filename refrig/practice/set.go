package practice

import (
	"net/url"
	"strconv"
	"strings"
)

// Set is a list of puzzles of one level, as a teacher hands them out.
type Set struct {
	Level Level
	Seeds []int
}

// MaxSet is how many puzzles a link may hold. judgement: more than a lesson has.
const MaxSet = 50

// Link writes the set as a URL fragment, readable and typed by hand:
// level=2&cases=17,18,19.
func (s Set) Link() string {
	list := make([]string, len(s.Seeds))
	for i, n := range s.Seeds {
		list[i] = strconv.Itoa(n)
	}
	return "level=" + strconv.Itoa(int(s.Level)) + "&cases=" + strings.Join(list, ",")
}

// ParseSet reads a fragment. What cannot be read is left out; ok is false where
// no puzzle is left.
func ParseSet(fragment string) (s Set, ok bool) {
	v, err := url.ParseQuery(strings.TrimPrefix(fragment, "#"))
	if err != nil {
		return Set{}, false
	}
	s.Level = Everyday
	if n, err := strconv.Atoi(v.Get("level")); err == nil && n >= int(Textbook) && n <= int(Ambiguous) {
		s.Level = Level(n)
	}
	for _, text := range strings.FieldsFunc(v.Get("cases"), func(r rune) bool { return r == ',' || r == ' ' || r == ';' }) {
		if n, err := strconv.Atoi(text); err == nil && checkSeed(n) == nil && len(s.Seeds) < MaxSet {
			s.Seeds = append(s.Seeds, n)
		}
	}
	return s, len(s.Seeds) > 0
}
