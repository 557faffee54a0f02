package site

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"html"
	"maps"
	"regexp"
	"slices"
	"strings"

	"twoneedles/app/present"
)

// english is the language that every device keeps: what another one does not say for
// want of a file is said in it, and the page is written in it until its words come.
const english = "en"

// language is what the boot script knows of a language beforehand.
type language struct {
	Code string `json:"code"`
	Name string `json:"name"` // in the language itself
	Dir  string `json:"dir"`
	Base string `json:"base,omitempty"` // the language it differs from and is joined to
	Sum  string `json:"sum"`
}

// Words returns the texts of every language by its code.
func Words() (map[string]map[string]string, error) {
	words := map[string]map[string]string{}
	for _, lang := range present.Languages() {
		texts, err := present.Own(lang)
		if err != nil {
			return nil, err
		}
		words[lang] = texts
	}
	return words, nil
}

// wordsFile names the file of a language as it is stored; it travels packed.
func wordsFile(lang string) string { return "words-" + lang + ".json" }

// wordFiles returns each language's file, plain, and the list of languages, English
// first.
func wordFiles(words map[string]map[string]string) (files map[string][]byte, list []language, err error) {
	if words[english] == nil {
		return nil, nil, fmt.Errorf("no words in %q", english)
	}
	files = map[string][]byte{}
	for _, lang := range slices.Sorted(maps.Keys(words)) {
		var text bytes.Buffer
		plain := json.NewEncoder(&text)
		plain.SetEscapeHTML(false)
		if err := plain.Encode(words[lang]); err != nil { // in key order
			return nil, nil, err
		}
		files[wordsFile(lang)] = text.Bytes()
		l := language{lang, words[lang]["language.name"], words[lang]["language.dir"], words[lang]["language.base"], sum(text.Bytes())}
		if l.Base != "" && l.Dir == "" {
			l.Dir = words[l.Base]["language.dir"]
		}
		list = append(list, l)
	}
	slices.SortStableFunc(list, func(a, b language) int {
		switch {
		case a.Code == english:
			return -1
		case b.Code == english:
			return 1
		}
		return strings.Compare(a.Name, b.Name)
	})
	return files, list, nil
}

// said are the places of a page that hold a text of the words: an element, or the
// label of one.
var said = regexp.MustCompile(`data-(words|label)="([A-Za-z_.]+)"([^>]*>)`)

// inWords writes the texts into a page where it names them; the boot script
// does the same in another language.
func inWords(page []byte, texts map[string]string) ([]byte, error) {
	var missing []string
	page = said.ReplaceAllFunc(page, func(tag []byte) []byte {
		m := said.FindSubmatch(tag)
		text, ok := texts[string(m[2])]
		if !ok {
			missing = append(missing, string(m[2]))
		}
		if string(m[1]) == "label" {
			return fmt.Appendf(nil, `data-label="%s" aria-label="%s"%s`, m[2], html.EscapeString(text), m[3])
		}
		return fmt.Appendf(nil, "%s%s", tag, html.EscapeString(text))
	})
	if missing != nil {
		return nil, fmt.Errorf("static/index.html: no words for %s", strings.Join(missing, ", "))
	}
	return page, nil
}

// saidIn returns the texts of a page by language, where they are not the English ones, in
// which it is written: a device speaks them before the words of its language have come.
// What is said of a failure, which comes later, is left out.
func saidIn(page []byte, list []language, words map[string]map[string]string) map[string]map[string]string {
	all := map[string]map[string]string{}
	page, _, _ = bytes.Cut(page, []byte(`<section id="shell-failed"`))
	for _, l := range list {
		if l.Code == english {
			continue
		}
		all[l.Code] = map[string]string{}
		for _, m := range said.FindAllSubmatch(page, -1) {
			key := string(m[2])
			if text := cmp.Or(words[l.Code][key], words[l.Base][key]); text != "" && text != words[english][key] {
				all[l.Code][key] = text
			}
		}
	}
	return all
}

// withoutScript says in every language what only JavaScript could choose one for.
func withoutScript(list []language, words map[string]map[string]string) string {
	var b strings.Builder
	for _, l := range list {
		if text := words[l.Code]["start.noscript"]; text != "" {
			fmt.Fprintf(&b, "<p lang=%q>%s</p>", l.Code, html.EscapeString(text))
		}
	}
	return b.String()
}

// manifestFile names what "add to home screen" reads, in a language.
func manifestFile(lang string) string {
	if lang == english {
		return "manifest.webmanifest"
	}
	return "manifest-" + lang + ".webmanifest"
}

// manifests translates the manifest, whose English texts static/ holds as {{key}}.
func manifests(template []byte, list []language, words map[string]map[string]string) (map[string][]byte, error) {
	files := map[string][]byte{}
	for _, l := range list {
		texts := maps.Clone(words[english])
		maps.Copy(texts, words[l.Base])
		maps.Copy(texts, words[l.Code])
		texts["LANGUAGE"], texts["DIRECTION"] = l.Code, l.Dir
		text, err := fill("manifest.webmanifest", template, texts)
		if err != nil {
			return nil, err
		}
		if !json.Valid(text) {
			return nil, fmt.Errorf("the manifest in %q is no JSON", l.Code)
		}
		files[manifestFile(l.Code)] = text
	}
	return files, nil
}
