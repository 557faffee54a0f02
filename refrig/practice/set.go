package practice

import (
	"hash/crc32"
	"net/url"
	"strconv"
	"strings"
)

// Set is a list of puzzles of one level, as a teacher hands them out.
type Set struct {
	Level Level
	Seeds []int
	// Edition is that of the program which made the link, "" where it does not say:
	// typed by hand, or made before links said it.
	Edition string
}

// MaxSet is how many puzzles a link may hold. judgement: more than a lesson has.
const MaxSet = 50

// Link writes the set as a URL fragment, readable and typed by hand:
// level=2&cases=17,18,19, and the edition where it is set.
func (s Set) Link() string {
	list := make([]string, len(s.Seeds))
	for i, n := range s.Seeds {
		list[i] = strconv.Itoa(n)
	}
	link := "level=" + strconv.Itoa(int(s.Level)) + "&cases=" + strings.Join(list, ",")
	if s.Edition != "" {
		link += "&edition=" + s.Edition
	}
	return link
}

// Foreign reports whether the link says that it was made with another edition: then some
// of its numbers may be other cars here.
func (s Set) Foreign() bool { return s.Edition != "" && s.Edition != Edition() }

// Number is a short name of the set, four digits of its level and numbers: what a
// student hands in and the teacher's sheet of the same set bear the same one. One pair of
// sets in nine thousand shares it by chance.
func (s Set) Number() int {
	s.Edition = ""
	return 1000 + int(crc32.ChecksumIEEE([]byte(s.Link()))%9000)
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
	if e := strings.ToLower(v.Get("edition")); isEdition(e) {
		s.Edition = e
	}
	for _, text := range strings.FieldsFunc(v.Get("cases"), func(r rune) bool { return r == ',' || r == ' ' || r == ';' }) {
		if n, err := strconv.Atoi(text); err == nil && checkSeed(n) == nil && len(s.Seeds) < MaxSet {
			s.Seeds = append(s.Seeds, n)
		}
	}
	return s, len(s.Seeds) > 0
}
