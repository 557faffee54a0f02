//go:build ignore

// Newlanguage starts a language, or says what one that was started still lacks. It
// copies the English texts, each marked ⟪en⟫ until it is translated; the tests refuse a
// text with the mark. It overwrites nothing. Run it at the root of the module, as
// make words LANG=… does:
//
//	go run app/present/newlanguage.go pt
package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"log"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"twoneedles/app/present"
)

const mark = "⟪en⟫ "

func main() {
	log.SetFlags(0)
	if len(os.Args) != 2 || !regexp.MustCompile(`^[a-z]{2,3}(-[A-Za-z0-9]{2,8})?$`).MatchString(os.Args[1]) {
		log.Fatal("which language? make words LANG=pt, by its code")
	}
	lang := os.Args[1]
	english, err := present.Own("en")
	if err != nil {
		log.Fatal(err)
	}
	dir := filepath.Join("app", "present", "words", lang)
	if slices.Contains(present.Languages(), lang) {
		lacking(lang, english)
		return
	}
	if err := start(dir, english); err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%s is started: translate what is marked %s, then go test ./app/present\n", dir, strings.TrimSpace(mark))
}

func start(dir string, english map[string]string) error {
	if err := os.MkdirAll(filepath.Join(dir, "pages"), 0o777); err != nil {
		return err
	}
	files := map[string]string{"glossary.csv": "english,term,standing,source,note\n", "same.csv": "key,reason\n"}
	sources, err := filepath.Glob("app/present/words/en/*.json")
	if err != nil {
		return err
	}
	text := regexp.MustCompile(`(": ")([^"])`) // no text of ours holds a straight quote
	for _, name := range sources {
		b, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		files[filepath.Base(name)] = text.ReplaceAllString(string(b), "${1}"+mark+"${2}")
	}
	files["language.json"] = strings.ReplaceAll(files["language.json"], `": "`+mark+`ltr"`, `": "ltr"`)
	refs := map[string]string{}
	for key, text := range english {
		if id, ok := strings.CutPrefix(key, "page."); ok {
			files["pages/"+id+".md"] = strings.Replace(text, "# ", "# "+mark, 1)
		}
		if id, ok := strings.CutPrefix(key, "ref."); ok {
			refs[id] = mark + text
		}
	}
	var list bytes.Buffer
	plain := json.NewEncoder(&list)
	plain.SetEscapeHTML(false)
	plain.SetIndent("", "  ")
	if err := plain.Encode(map[string]any{"ref": refs}); err != nil {
		return err
	}
	files["refs.json"] = list.String()
	for name, text := range files {
		file, err := os.OpenFile(filepath.Join(dir, name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if err != nil {
			return err
		}
		if _, err := file.WriteString(text); err != nil {
			return err
		}
		if err := file.Close(); err != nil {
			return err
		}
	}
	return nil
}

// lacking lists what a language does not say yet.
func lacking(lang string, english map[string]string) {
	words, err := present.Load(lang)
	if err != nil {
		log.Fatal(err)
	}
	n := 0
	for _, key := range slices.Sorted(maps.Keys(english)) {
		text, _, _ := strings.Cut(english[key], "\n")
		switch {
		case strings.HasPrefix(key, "language."):
		case !words.Has(strings.TrimSuffix(strings.TrimSuffix(key, ".one"), ".other")):
			fmt.Printf("missing: %s: %s\n", key, text)
			n++
		case strings.Contains(words.T(key), strings.TrimSpace(mark)):
			fmt.Printf("English: %s: %s\n", key, text)
			n++
		}
	}
	fmt.Printf("%s: %d of %d texts are to be written\n", lang, n, len(english))
}
