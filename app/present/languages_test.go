package present

import (
	"encoding/csv"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"

	"twoneedles/refrig/car"
	"twoneedles/refrig/catalogue"
)

// eachLanguage calls f with every language: its own texts, those it is spoken with
// (the same, but for one that has a base), and the English ones.
func eachLanguage(t *testing.T, f func(t *testing.T, lang string, own, all, en map[string]string)) {
	langs := Languages()
	if !slices.Contains(langs, "en") {
		t.Fatalf("languages: %v", langs)
	}
	for _, lang := range langs {
		t.Run(lang, func(t *testing.T) {
			own, err := Own(lang)
			if err != nil {
				t.Fatal(err)
			}
			w, err := Load(lang)
			if err != nil {
				t.Fatal(err)
			}
			f(t, lang, own, w.texts, English().texts)
		})
	}
}

// pluralEnding is what distinguishes the forms of one key.
var pluralEnding = regexp.MustCompile(`\.(zero|one|two|few|many|other)$`)

// bases are the keys without the endings of plural forms, but for what a language says
// of itself.
func bases(texts map[string]string) map[string]bool {
	found := map[string]bool{}
	for key := range texts {
		if !strings.HasPrefix(key, "language.") {
			found[pluralEnding.ReplaceAllString(key, "")] = true
		}
	}
	return found
}

// Every language says everything and nothing else, with the same arguments.
func TestEveryLanguageIsComplete(t *testing.T) {
	eachLanguage(t, func(t *testing.T, _ string, _, all, en map[string]string) {
		got, want := bases(all), bases(en)
		for _, key := range slices.Sorted(maps.Keys(want)) {
			if !got[key] {
				t.Errorf("no words for %s: %q", key, en[key])
			}
		}
		for _, key := range slices.Sorted(maps.Keys(got)) {
			if !want[key] {
				t.Errorf("%s is in no English file", key)
			}
		}
		for key, text := range all {
			as := en[key]
			if as == "" && pluralEnding.MatchString(key) {
				as = en[pluralEnding.ReplaceAllString(key, ".other")]
			}
			// One may leave out its number: "one job".
			if !strings.HasPrefix(key, "language.") && !strings.HasSuffix(key, ".one") && !slices.Equal(names(text), names(as)) {
				t.Errorf("%s has the arguments %v, in English %v", key, names(text), names(as))
			}
		}
	})
}

var (
	placeholder = regexp.MustCompile(`\{[^}]*\}`)
	word        = regexp.MustCompile(`\p{L}{2}`)
	cited       = regexp.MustCompile(`\[[A-Z][A-Za-z0-9]+\]`)
)

// names returns the arguments of a text, sorted, each once.
func names(text string) []string {
	found := placeholder.FindAllString(text, -1)
	slices.Sort(found)
	return slices.Compact(found)
}

// document tells if the text of a key is a page or a line of the bibliography, which
// keep the style of their kind.
func document(key string) bool {
	return strings.HasPrefix(key, "page.") || strings.HasPrefix(key, "ref.")
}

// fragment is the name of a key that holds no text but a piece of punctuation or a
// beginning, where a space at the end counts.
var fragment = regexp.MustCompile(`\.(sep|prefix)$`)

// House style: calm, complete, no marks of a chat, in every language. Pages may hold
// fragments, so only sentences are held to a full stop.
func TestTextsKeepHouseStyle(t *testing.T) {
	eachLanguage(t, func(t *testing.T, _ string, own, _, _ map[string]string) {
		for key, text := range own {
			switch {
			case text == "":
				t.Errorf("%s is empty", key)
			case document(key) || strings.HasPrefix(key, "language.plural."):
			case text != strings.TrimSpace(text) && !fragment.MatchString(key):
				t.Errorf("%s: space at an end", key)
			case strings.ContainsAny(text, "!¡\t\n"):
				t.Errorf("%s: no exclamation marks, tabs or line breaks", key)
			case strings.Contains(text, "  ") || strings.Contains(text, " ,"):
				t.Errorf("%s: stray space in %q", key, text)
			case strings.ContainsAny(text, `'"`):
				t.Errorf("%s: typographic quotes, please: %q", key, text)
			case strings.Count(text, "{") != len(placeholder.FindAllString(text, -1)):
				t.Errorf("%s: braces do not match in %q", key, text)
			}
		}
	})
}

// What a language says of itself can be used.
func TestLanguagesSayWhatTheyAre(t *testing.T) {
	eachLanguage(t, func(t *testing.T, lang string, own, all, _ map[string]string) {
		if _, err := language.Parse(lang); err != nil {
			t.Error(err)
		}
		for key, may := range map[string]string{
			"language.name": `^\p{L}.+`, "language.dir": `^(ltr|rtl)$`,
			"language.base": `^([a-z]{2})?$`, "number.point": `^[.,]$`,
		} {
			if !regexp.MustCompile(may).MatchString(all[key]) {
				t.Errorf("%s is %q, want it to match %s", key, all[key], may)
			}
		}
		for key, text := range all {
			if strings.HasPrefix(key, "example.") && !strings.HasPrefix(text, all["readings.example.prefix"]) {
				t.Errorf("%s does not begin by saying that it is an example: %q", key, text)
			}
		}
		if own["language.name"] == "" {
			t.Error("has no name of its own")
		}
		for key := range own {
			if strings.HasPrefix(key, "language.") && !regexp.MustCompile(`^language\.(name|dir|base|plural\.\w+)$`).MatchString(key) {
				t.Errorf("nobody reads %s", key)
			}
		}
	})
}

// The rules for plurals are those that Unicode has for the language.
func TestPluralsAreThoseOfTheLanguage(t *testing.T) {
	forms := map[plural.Form]string{plural.Zero: "zero", plural.One: "one", plural.Two: "two", plural.Few: "few", plural.Many: "many", plural.Other: "other"}
	check := func(t *testing.T, lang string, w *Words) {
		tag := language.MustParse(lang)
		for n := range 1200 {
			if got, want := w.pluralForm(n), forms[plural.Cardinal.MatchPlural(tag, n, 0, 0, 0, 0)]; got != want {
				t.Fatalf("%d takes the form %s, in Unicode %s", n, got, want)
			}
		}
		for tenths := range 120 {
			text := string(rune('0'+tenths/10)) + "." + string(rune('0'+tenths%10))
			if tenths >= 100 {
				continue
			}
			v := 1
			got, want := w.pluralForm(w.Point(text)), forms[plural.Cardinal.MatchPlural(tag, tenths/10, v, v, tenths%10, tenths%10)]
			if got != want {
				t.Fatalf("%s takes the form %s, in Unicode %s", text, got, want)
			}
		}
	}
	eachLanguage(t, func(t *testing.T, lang string, _, all, _ map[string]string) { check(t, lang, NewWords(lang, all)) })
	// A language with more forms than those we have.
	check(t, "pl", NewWords("pl", map[string]string{"number.point": ",",
		"language.plural.one":  "i = 1 and v = 0",
		"language.plural.few":  "v = 0 and i % 10 = 2..4 and i % 100 != 12..14",
		"language.plural.many": "v = 0 and i != 1 and i % 10 = 0..1 or v = 0 and i % 10 = 5..9 or v = 0 and i % 100 = 12..14"}))
	for _, n := range []any{nil, "some", -1, "−1", "a huge number"} {
		if got := English().pluralForm(n); got != "other" {
			t.Errorf("%v takes the form %s", n, got)
		}
	}
}

// No English is left in another language, but what its list of the same texts names with
// a reason. A
// language with a base holds only what differs from it.
func TestLanguagesHoldNoEnglish(t *testing.T) {
	eachLanguage(t, func(t *testing.T, lang string, own, all, en map[string]string) {
		if lang == "en" {
			return
		}
		if own["language.base"] != "" {
			for key, text := range own {
				if text == en[key] {
					t.Errorf("%s is the same as in the base: leave it out", key)
				}
			}
			return
		}
		reasons := table(t, lang, "same.csv", "key", "reason")
		listed := map[string]bool{}
		for _, row := range reasons {
			listed[row[0]] = true
			if row[1] == "" || all[row[0]] == "" || all[row[0]] != en[row[0]] {
				t.Errorf("same.csv: %s has no reason, no text, or another than in English", row[0])
			}
		}
		for _, key := range slices.Sorted(maps.Keys(all)) {
			text := all[key]
			if strings.Contains(text, "⟪") {
				t.Errorf("%s is not translated yet", key)
			}
			if text == en[key] && !listed[key] && !strings.HasPrefix(key, "unit.") && !strings.HasPrefix(key, "language.") &&
				word.MatchString(placeholder.ReplaceAllString(text, "")) {
				t.Errorf("%s is English: %q", key, text)
			}
		}
	})
}

// table reads a file of a language with two or more named columns.
func table(t *testing.T, lang, name string, columns ...string) [][]string {
	t.Helper()
	text, err := wordFiles.ReadFile("words/" + lang + "/" + name)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil || len(rows) == 0 || !slices.Equal(rows[0], columns) {
		t.Fatalf("%s: want the columns %v (%v)", name, columns, err)
	}
	return rows[1:]
}

// A page says in every language what it says in English: the same blocks, sources and
// marks.
func TestEveryLanguageHasThePages(t *testing.T) {
	eachLanguage(t, func(t *testing.T, lang string, _, all, _ map[string]string) {
		w := NewWords(lang, all)
		for _, id := range car.Conditions() {
			want, err := catalogue.Page(id)
			if err != nil {
				continue // no page in English either
			}
			got, err := w.Page(id)
			if err != nil {
				t.Error(err)
				continue
			}
			for _, s := range []struct {
				name      string
				got, want []catalogue.Block
			}{{"needles", got.Needles, want.Needles}, {"why", got.Why, want.Why}, {"next", got.Next, want.Next}, {"before", got.Before, want.Before}} {
				if len(s.got) != len(s.want) {
					t.Errorf("page %s, %s: %d blocks, in English %d", id, s.name, len(s.got), len(s.want))
					continue
				}
				for i := range s.got {
					if s.got[i].Item != s.want[i].Item || !slices.Equal(keysOf(s.got[i].Text), keysOf(s.want[i].Text)) {
						t.Errorf("page %s, %s, block %d: another kind or other sources than in English", id, s.name, i+1)
					}
				}
			}
			if !slices.EqualFunc(got.Sources, want.Sources, func(a, b catalogue.PageSource) bool {
				return a.Key == b.Key && a.Name == b.Name && a.Mark == b.Mark
			}) {
				t.Errorf("page %s: other sources or marks than in English", id)
			}
		}
	})
}

func keysOf(text string) []string {
	keys := cited.FindAllString(text, -1)
	slices.Sort(keys)
	return keys
}

// A language that spells in another way does so everywhere, pages included, and
// touches no argument.
func TestSpelling(t *testing.T) {
	us, err := Load("en-US")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range [][2]string{{"hoses.vapour", "Full of vapor"}, {"shell.skip", English().T("shell.skip")}} {
		if got := us.T(c[0]); got != c[1] {
			t.Errorf("%s is %q, want %q", c[0], got, c[1])
		}
	}
	own, _ := Own("en-US")
	if len(own) > len(English().texts)/8 || own["page.air"] == "" || own["page.gauge"] != "" {
		t.Errorf("%d texts differ", len(own))
	}
	for key, text := range us.texts {
		if m := regexp.MustCompile(`(?i)\b\w*(vapour|colour|odour|neighbour|favour|equalis|recognis|bonnet|grey\b|centre\b|draught|licence)\w*`).FindString(placeholder.ReplaceAllString(text, "")); m != "" {
			t.Errorf("%s says %q", key, m)
		}
	}
}

// The terms of the trade have a source in every language.
func TestGlossaries(t *testing.T) {
	eachLanguage(t, func(t *testing.T, lang string, own, _, _ map[string]string) {
		if lang == "en" || own["language.base"] != "" {
			return
		}
		rows, seen := table(t, lang, "glossary.csv", "english", "term", "standing", "source", "note"), map[string]bool{}
		if len(rows) < 80 {
			t.Errorf("glossary.csv has %d terms, want the 80 main ones", len(rows))
		}
		for _, row := range rows {
			if row[0] == "" || row[1] == "" || seen[row[0]] || !slices.Contains([]string{"read", "memory", "common practice"}, row[2]) || row[2] == "read" && row[3] == "" {
				t.Errorf("glossary.csv: %q is empty, twice, or does not say where its term was read", row)
			}
			seen[row[0]] = true
		}
	})
}
