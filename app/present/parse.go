package present

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"twoneedles/refrig/unit"
)

// Entry is what a typed text says, in the SI unit of its kind. Every number in
// it is finite.
type Entry struct {
	Value           float64 // the middle of a swing
	Lo, Hi          float64 // ends of a swing; equal to Value otherwise
	Swing           bool
	AtLeast, AtMost bool      // a pegged needle: the truth lies beyond Value
	Unit            unit.Unit // the unit the number was read in, typed or selected
	Typed           bool      // the unit was typed, not selected
	Decimal         bool      // a decimal point was typed
}

// MaxText is the longest text that is read, in characters.
const MaxText = 64

// Parse reads typed text as a number of kind k; a number without a unit is in
// the unit sel. It understands
//
//	28   28.5   28,5   −5   1.9 bar   95F   35 °C   50 %
//	in 12   12 in   12inHg        a vacuum of 12 inHg
//	22-45   22 to 45   swings 22-45 psi
//	>500   500+   pegged 500   <5
//	1 lb 8 oz   2 min 30 s   1:30
//
// The text itself is never changed. An error is always a *[Problem] with Level
// Refused and without a Field. A unit sel of another kind panics.
func Parse(text string, k unit.Kind, sel unit.Unit) (Entry, error) {
	if sel.Kind() != k {
		panic("present: unit " + string(sel) + " is of another kind")
	}
	if utf8.RuneCountInString(text) > MaxText {
		return Entry{}, refuse(TooLong, "max", MaxText)
	}
	if strings.TrimSpace(text) == "" {
		return Entry{}, refuse(Empty)
	}
	p := parser{text: text, kind: k, sel: sel, toks: scan(text, sel)}
	return p.entry()
}

func refuse(code string, pairs ...any) *Problem {
	args := map[string]any{}
	for i := 0; i+1 < len(pairs); i += 2 {
		args[pairs[i].(string)] = pairs[i+1]
	}
	return &Problem{Code: code, Level: Refused, Args: args}
}

// asked is a question about a number, with what may have been meant.
func asked(meant []Suggestion, code string, pairs ...any) *Problem {
	p := refuse(code, pairs...)
	p.Level, p.Suggest = Asked, meant
	return p
}

// token is a number (isNum), a word or a single sign.
type token struct {
	isNum   bool
	num     float64
	decimal bool
	word    string
}

// replacer brings the many signs a phone types to the few the scanner knows.
var replacer = strings.NewReplacer(
	"−", "-", "–", "-", "—", "-", "‑", "-", "…", " to ", "°", " ", "º", " ", "\u00a0", " ", "\u202f", " ",
	"”", "\"", "″", "\"", "“", "\"", "≥", ">", "≤", "<", ">=", ">", "<=", "<", "’", "'", "′", "'", "~", " ", "≈", " ", "٫", ",", " de ", " ", " 1/min", " /min")

func scan(text string, sel unit.Unit) []token {
	s := []rune(strings.ToLower(replacer.Replace(text)))
	var toks []token
	for i := 0; i < len(s); {
		r := s[i]
		switch {
		case unicode.IsSpace(r):
			i++
		case isDigit(r) || (r == '.' || r == ',') && i+1 < len(s) && isDigit(s[i+1]):
			j := numberEnd(s, i)
			toks = append(toks, numberToken(string(s[i:j]), unitBehind(s[j:], sel)))
			i = j
		case isWord(r):
			j := i + 1
			for j < len(s) && (isWord(s[j]) || wordTail(s, j)) {
				j++
			}
			toks = append(toks, token{word: strings.TrimSuffix(string(s[i:j]), ".")})
			i = j
		default:
			toks = append(toks, token{word: string(r)})
			i++
		}
	}
	return toks
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

func isDigit(r rune) bool { return '0' <= r && r <= '9' }
func isWord(r rune) bool  { return unicode.IsLetter(r) || r == '/' || r == '_' || r == 'µ' }

// wordTail tells whether s[j] continues a word it could not start: the 2 of
// kg/cm2 and the point of fl.oz.
func wordTail(s []rune, j int) bool {
	switch s[j] {
	case '²', '³', '.':
		return true
	case '2', '3':
		return j >= 2 && s[j-1] == 'm' && s[j-2] == 'c'
	}
	return false
}

func numberEnd(s []rune, i int) int {
	j := i
	for j < len(s) && (isDigit(s[j]) || (s[j] == '.' || s[j] == ',') && j+1 < len(s) && isDigit(s[j+1])) {
		j++
	}
	if j < len(s) && s[j] == '.' { // "28."
		j++
	}
	if j+1 < len(s) && s[j] == 'e' { // an exponent only if digits follow
		k := j + 1
		if s[k] == '-' || s[k] == '+' {
			k++
		}
		if k < len(s) && isDigit(s[k]) {
			for k < len(s) && isDigit(s[k]) {
				k++
			}
			j = k
		}
	}
	return j
}

// numberToken reads a number with a point or a comma. Of both the last is the decimal
// sign and the other separates thousands, as in "1,234.5" and "1.234,5". A comma alone
// before exactly three last digits separates thousands where the unit is usually written
// without decimals ("1,500 rpm"), and is a decimal comma elsewhere.
func numberToken(s string, in unit.Unit) token {
	t := token{isNum: true, word: s}
	whole, rest := s, ""
	if last := strings.LastIndexAny(s, ".,"); last >= 0 {
		whole, rest = s[:last], s[last:]
	}
	joined, grouped := thousands(whole)
	switch all, is := thousands(s); {
	case is && (joined != whole || in.Decimals() == 0 && strings.HasPrefix(rest, ",")): // 1,234,567 or 1,500
		s = all
	case grouped:
		s = joined + strings.Replace(rest, ",", ".", 1)
	}
	t.decimal = strings.Contains(strings.TrimSuffix(s, "."), ".")
	x, err := strconv.ParseFloat(s, 64)
	if err != nil && !(x > 0 && !finite(x)) {
		t.isNum = false
		return t
	}
	t.num = min(x, 1e300) // an overflow is a huge number, refused later as such
	return t
}

// unitBehind is the unit that was typed behind a number, or else sel.
func unitBehind(s []rune, sel unit.Unit) unit.Unit {
	word, _, _ := strings.Cut(strings.TrimSpace(string(s)), " ")
	if u, ok := unit.Named(word, sel.Kind()); ok {
		return u
	}
	return sel
}

// thousands joins digits in groups of three between equal signs; ok is false for digits
// that stand in other groups. Digits without a sign are one group.
func thousands(s string) (joined string, ok bool) {
	sign := strings.IndexAny(s, ".,")
	if sign < 0 {
		return s, true
	}
	groups := strings.Split(s, s[sign:sign+1])
	for i, g := range groups {
		if strings.ContainsFunc(g, func(r rune) bool { return !isDigit(r) }) || len(g) != 3 && (i > 0 || len(g) < 1 || len(g) > 3) || i == 0 && g[0] == '0' {
			return s, false
		}
	}
	return strings.Join(groups, ""), true
}
