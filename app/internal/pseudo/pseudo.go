// Package pseudo makes languages for tests out of the English words: one that is as
// much longer as a translation may be, and one that is written from right to left.
// Nobody speaks them, but what breaks in them would break in a real one, and a text
// that stays English in them does not come from the words.
package pseudo

import (
	"maps"
	"regexp"
	"strings"
)

// The languages, under codes that are set aside for private use.
const (
	Long     = "qaa" // every vowel twice, with accents: 40 % longer, in words that cannot break
	Mirrored = "qab" // other letters, from right to left
)

// Languages returns the texts of both by their codes.
func Languages(english map[string]string) map[string]map[string]string {
	return map[string]map[string]string{
		Long:     made(english, longer, "Lóóng", "ltr"),
		Mirrored: made(english, mirrored, "דררקמ", "rtl"),
	}
}

func made(english map[string]string, write func(string) string, name, dir string) map[string]string {
	texts := maps.Clone(english)
	for key, text := range english {
		switch {
		case strings.HasPrefix(key, "language."), strings.HasPrefix(key, "number."), strings.HasPrefix(key, "date."):
		case strings.HasPrefix(key, "page."):
			texts[key] = page(text, write)
		default:
			texts[key] = prose(text, write)
		}
	}
	texts["language.name"], texts["language.dir"], texts["number.point"] = name, dir, ","
	return texts
}

// kept is what stays in a text: arguments, keys of sources and names with a digit.
var kept = regexp.MustCompile(`\{[^}]*\}|\[[A-Z][A-Za-z0-9]+\]|[A-Z]+-?[0-9]\w*`)

func prose(text string, write func(string) string) string {
	var b strings.Builder
	from := 0
	for _, m := range kept.FindAllStringIndex(text, -1) {
		b.WriteString(write(text[from:m[0]]))
		b.WriteString(text[m[0]:m[1]])
		from = m[1]
	}
	b.WriteString(write(text[from:]))
	return b.String()
}

// page keeps the headings of a catalogue page and the signs of its sources.
func page(text string, write func(string) string) string {
	text, sources, _ := strings.Cut(text, "\n## Sources\n")
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if !strings.HasPrefix(line, "## ") {
			lines[i] = prose(line, write)
		}
	}
	return strings.Join(lines, "\n") + "\n## Sources\n" + sources
}

var longer = strings.NewReplacer("a", "áá", "e", "éé", "i", "íí", "o", "óó", "u", "úú", "A", "Áá", "E", "Éé", "I", "Íí", "O", "Óó", "U", "Úú", "y", "ýý").Replace

var mirrored = func() func(string) string {
	letters := []rune("אבגדהוזחטיכלמנסעפצקרשתאבגד")
	var pairs []string
	for i, to := range letters {
		pairs = append(pairs, string(rune('a'+i)), string(to), string(rune('A'+i)), string(to))
	}
	return strings.NewReplacer(pairs...).Replace
}()
