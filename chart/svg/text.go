package svg

// TextWidth returns roughly how wide s is in the text class, in units of the
// view box, without reading a font. The widths per letter are those of a wide
// sans-serif face (judgement: a label thought too wide only keeps more distance).
func TextWidth(class Class, s string) float64 {
	w := 0.0
	for _, r := range s {
		w += runeWidth(r)
	}
	if class.Size() > 14 {
		w *= 1.09 // all large classes are bold
	}
	return w * class.Size()
}

func runeWidth(r rune) float64 {
	switch {
	case r >= '0' && r <= '9':
		return 0.64
	case r == 'i' || r == 'j' || r == 'l' || r == '\'' || r == '|':
		return 0.29
	case r == ' ' || r == '.' || r == ',' || r == ':' || r == ';' || r == '/' || r == '-':
		return 0.34
	case r == 'f' || r == 't' || r == 'r' || r == 'I' || r == '(' || r == ')':
		return 0.4
	case r == 'm' || r == 'w' || r == 'M' || r == 'W' || r == '%':
		return 0.96
	case r >= 'A' && r <= 'Z':
		return 0.7
	case r < 0x80:
		return 0.61
	case r < 0x2E80:
		return 0.68
	}
	return 1.05 // ideographs
}

// Heights of letters as parts of the font size, judgement for sans-serif faces:
// capitals and digits reach up 0.73, descenders down 0.22.
const (
	ascent  = 0.73
	descent = 0.22
)

// TextBox returns the room s takes with its baseline at p.
func TextBox(class Class, p Pt, a Anchor, s string) Rect {
	return textBox(class.Size(), TextWidth(class, s), p, a)
}

func textBox(size, w float64, p Pt, a Anchor) Rect {
	x := p.X
	switch a {
	case Middle:
		x -= w / 2
	case End:
		x -= w
	}
	return Rect{x, p.Y - ascent*size, x + w, p.Y + descent*size}
}

// Fit shortens s with an ellipsis until it is at most width wide.
func Fit(class Class, s string, width float64) string {
	if TextWidth(class, s) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && TextWidth(class, string(r)+"…") > width {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}
