package present

import (
	"slices"

	"twoneedles/refrig/unit"
)

// parser walks the tokens of one text: [bound] quantity [dash quantity] [bound].
type parser struct {
	text string
	kind unit.Kind
	sel  unit.Unit
	toks []token
	pos  int

	above, below, pegged bool
}

// part is one number with the unit that stood before or after it.
type part struct {
	num     float64
	unit    unit.Unit // "" if none was typed
	decimal bool
}

var (
	skipWords  = []string{"swings", "swing", "swinging", "from", "between", "about", "approx", "ca", "steady", "deg", "degrees", "at", "of", "="}
	aboveWords = []string{">", "over", "above", "more", "than", "min"}
	belowWords = []string{"<", "under", "below", "less"}
	peggedWord = []string{"pegged", "pegs", "max"}
	dashWords  = []string{"-", "to", "and", "till", "until", "bis", "und", "a", "y", "à", "et"}
	absolute   = []string{"psia", "bara", "kpaa", "abs", "absolute"}
)

func (p *parser) entry() (Entry, error) {
	p.bounds()
	first, err := p.quantity()
	if err != nil {
		return Entry{}, err
	}
	second, swing := first, false
	if p.accept(dashWords) {
		swing = true
		if second, err = p.quantity(); err != nil {
			return Entry{}, err
		}
	}
	p.bounds()
	if p.pos < len(p.toks) {
		return Entry{}, p.leftover()
	}
	// A unit after the second number counts for both; "5 in - 20" does not mean
	// a vacuum of 20.
	if swing && first.unit == "" {
		first.unit = second.unit
	}
	if swing && second.unit == "" && first.unit != unit.InHg {
		second.unit = first.unit
	}
	return p.build(first, second, swing)
}

func (p *parser) build(first, second part, swing bool) (Entry, error) {
	e := Entry{Unit: p.sel, Typed: first.unit != "", Decimal: first.decimal || second.decimal}
	if e.Typed {
		e.Unit = first.unit
	}
	e.Lo, e.Hi = p.si(first), p.si(second)
	if !finite(e.Lo) || !finite(e.Hi) {
		return Entry{}, refuse(NotANumber, "text", p.text)
	}
	if e.Lo > e.Hi {
		e.Lo, e.Hi = e.Hi, e.Lo
	}
	e.Swing = swing && e.Lo < e.Hi
	e.Value = e.Lo + (e.Hi-e.Lo)/2
	e.AtLeast, e.AtMost = p.above, p.below
	if p.pegged && !p.below {
		// A needle pegged in the vacuum has gone down, any other has gone up.
		e.AtMost = p.kind == unit.GaugePressure && e.Value < 0
		e.AtLeast = !e.AtMost
	}
	if e.AtLeast && e.AtMost || e.Swing && (e.AtLeast || e.AtMost) {
		return Entry{}, refuse(TooMuch, "text", p.text)
	}
	return e, nil
}

// si converts a part. A vacuum is negative whichever way it was typed.
func (p *parser) si(q part) float64 {
	u := q.unit
	if u == "" {
		u = p.sel
	}
	x := q.num
	if u == unit.InHg && x < 0 {
		x = -x
	}
	return u.ToSI(x)
}

// bounds takes signs and words of a pegged needle, and words that carry nothing.
func (p *parser) bounds() {
	for p.pos < len(p.toks) {
		switch {
		case p.kind == unit.Duration && p.peek() == "min": // minutes, not a minimum
			return
		case p.accept(skipWords):
		case p.accept(aboveWords):
			p.above = true
		case p.accept([]string{"+"}): // "500+", but a sign in "+28"
			p.above = p.pos > 1
		case p.accept(belowWords):
			p.below = true
			p.accept([]string{"than"})
		case p.accept(peggedWord):
			p.pegged = true
		default:
			return
		}
	}
}

// quantity reads [unit] [sign] number [unit] and, for pounds and ounces or hours
// and minutes, further number-unit pairs that get smaller.
func (p *parser) quantity() (part, error) {
	var q part
	if u, n, ok := p.unit(); ok { // "in 12"
		q.unit = u
		p.pos += n
	}
	p.accept(skipWords)
	sign := 1.0
	if p.accept([]string{"-"}) {
		sign = -1
	}
	if p.pos >= len(p.toks) || !p.toks[p.pos].isNum {
		return q, p.noNumber()
	}
	q.num, q.decimal = sign*p.toks[p.pos].num, p.toks[p.pos].decimal
	p.pos++
	if p.kind == unit.Duration && p.peek() == ":" {
		return p.clock(q)
	}
	p.accept([]string{"deg", "degrees"})
	if u, n, ok := p.unit(); ok {
		q.unit = u
		p.pos += n
	}
	return p.compound(q), nil
}

// clock reads the seconds of "1:30" (minutes:seconds).
func (p *parser) clock(q part) (part, error) {
	p.pos++
	if p.pos >= len(p.toks) || !p.toks[p.pos].isNum || p.toks[p.pos].num >= 60 {
		return q, refuse(NotANumber, "text", p.text)
	}
	q.num, q.unit = q.num*60+p.toks[p.pos].num, unit.Second
	p.pos++
	return q, nil
}

// compound adds the smaller parts of "1 lb 8 oz" and "1 h 20 min".
func (p *parser) compound(q part) part {
	smaller := map[unit.Unit]unit.Unit{unit.Pound: unit.Ounce, unit.PoundOunce: unit.Ounce, unit.Hour: unit.Minute, unit.Minute: unit.Second}
	for limit := 0; limit < 3; limit++ {
		next, ok := smaller[q.unit]
		if !ok || p.pos >= len(p.toks) || !p.toks[p.pos].isNum {
			return q
		}
		small := p.toks[p.pos]
		p.pos++
		if u, n, ok := p.unit(); ok && u == next {
			p.pos += n
		} else if ok {
			p.pos-- // another unit: leave the number where it is
			return q
		}
		q.num = q.num*q.unit.Size()/next.Size() + small.num
		q.unit = next
		q.decimal = q.decimal || small.decimal
	}
	return q
}

// unit looks for a unit of the field's kind at the current token and returns
// how many tokens it takes.
func (p *parser) unit() (unit.Unit, int, bool) {
	if p.pos >= len(p.toks) || p.toks[p.pos].isNum {
		return "", 0, false
	}
	w := p.toks[p.pos].word
	if p.pos+1 < len(p.toks) && !p.toks[p.pos+1].isNum {
		if u, ok := unit.Named(w+p.toks[p.pos+1].word, p.kind); ok { // "in hg", "fl oz"
			return u, 2, true
		}
	}
	u, ok := unit.Named(w, p.kind)
	n := 1
	// "12 in vac", "12 inHg vacuum": the second word says it again.
	if ok && u == unit.InHg && p.pos+1 < len(p.toks) {
		if v, again := unit.Named(p.toks[p.pos+1].word, p.kind); again && v == unit.InHg {
			n = 2
		}
	}
	return u, n, ok
}

func (p *parser) peek() string {
	if p.pos < len(p.toks) && !p.toks[p.pos].isNum {
		return p.toks[p.pos].word
	}
	return ""
}

func (p *parser) accept(words []string) bool {
	w := p.peek()
	if w == "" || !slices.Contains(words, w) {
		return false
	}
	p.pos++
	return true
}

// noNumber says why a number is missing where one is needed.
func (p *parser) noNumber() *Problem {
	if p.pegged && p.pos >= len(p.toks) {
		return refuse(PeggedNumber)
	}
	return refuse(NotANumber, "text", p.text)
}

// leftover says what is wrong with a word after a number.
func (p *parser) leftover() *Problem {
	t := p.toks[p.pos]
	if t.isNum {
		return refuse(TooMuch, "text", p.text)
	}
	if slices.Contains(absolute, t.word) {
		return refuse(AbsoluteUnit, "unit", t.word)
	}
	if unit.IsName(t.word) {
		return refuse(WrongKind, "unit", t.word)
	}
	if !isWord([]rune(t.word)[0]) {
		return refuse(NotANumber, "text", p.text)
	}
	return refuse(UnknownUnit, "unit", t.word)
}
