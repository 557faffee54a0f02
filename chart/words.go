package chart

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"strings"
)

// Words returns the text of key with its {name}s replaced by the values that
// follow, given as pairs: words("chart.unit.psi", "v", "31"). The screen passes
// its own; [English] is one for tests and reports.
type Words func(key string, pairs ...any) string

// WordsEN holds the English texts of every key this package uses, as one JSON
// object of texts.
//
//go:embed words_en.json
var WordsEN []byte

// English returns the words of [WordsEN]. An unknown key shows as ⟨key⟩.
func English() Words {
	var texts map[string]string
	if err := json.Unmarshal(WordsEN, &texts); err != nil {
		panic("chart: words_en.json: " + err.Error())
	}
	return func(key string, pairs ...any) string {
		text, ok := texts[key]
		if !ok {
			return "⟨" + key + "⟩"
		}
		for i := 0; i+1 < len(pairs); i += 2 {
			text = strings.ReplaceAll(text, fmt.Sprintf("{%v}", pairs[i]), fmt.Sprint(pairs[i+1]))
		}
		return text
	}
}

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
