package present

import (
	"bytes"
	"cmp"
	"embed"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"regexp"
	"strings"
	"sync"

	"twoneedles/refrig"
	"twoneedles/refrig/catalogue"
)

// The words as files: for the build, which makes one file a language of them, and for
// tests. The program in the browser is handed the words it needs (page.ShellWords);
// it calls nothing here, so that the linker leaves the files out of it. A variable
// that is set from one of these functions as the program starts would drag them in.

//go:embed words
var wordFiles embed.FS

var once sync.Once
var english *Words

// English returns the English words. The files are embedded and tested, so a
// failure to read them is a fault of the build and panics.
func English() *Words {
	once.Do(func() {
		var err error
		if english, err = Load("en"); err != nil {
			panic("present: " + err.Error())
		}
	})
	return english
}

// Languages lists the languages that have a folder of words.
func Languages() []string {
	dirs, err := wordFiles.ReadDir("words")
	if err != nil {
		panic("present: " + err.Error())
	}
	var langs []string
	for _, d := range dirs {
		if d.IsDir() {
			langs = append(langs, d.Name())
		}
	}
	return langs
}

// Load returns the words of a language with those of its base, if it has one: see
// [Own].
func Load(lang string) (*Words, error) {
	texts, err := Own(lang)
	if err != nil {
		return nil, err
	}
	if base := texts["language.base"]; base != "" {
		all, err := Own(base)
		if err != nil {
			return nil, err
		}
		maps.Copy(all, texts)
		texts = all
	}
	return NewWords(lang, texts), nil
}

// Own returns the texts of words/<lang>: every key of its *.json, and page.<condition>
// of its pages/*.md. A language whose language.base names another holds what differs
// from that and nothing else; words that it only spells in another way are in its
// spelling.csv and changed wherever the base has them. English takes its pages and its
// ref.<key>, what a source is used for, from the catalogue and the bibliography themselves.
func Own(lang string) (map[string]string, error) {
	texts, err := loadFrom(wordFiles, "words/"+lang)
	if err != nil {
		return nil, err
	}
	if base := texts["language.base"]; base != "" {
		return texts, respell(texts, base, lang)
	}
	if lang != "en" {
		return texts, nil
	}
	for id, page := range catalogue.Texts() {
		texts["page."+string(id)] = page
	}
	for _, key := range refrig.RefKeys() {
		ref, _ := refrig.Ref(key)
		texts["ref."+key] = ref.UsedFor
	}
	return texts, nil
}

// respell adds to a language the texts of its base that it spells in another way.
func respell(texts map[string]string, base, lang string) error {
	all, err := Own(base)
	if err != nil {
		return err
	}
	if all["language.base"] != "" {
		return fmt.Errorf("the base of %q has a base", lang)
	}
	file, err := wordFiles.Open("words/" + lang + "/spelling.csv")
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	} else if err != nil {
		return err
	}
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		return fmt.Errorf("%s/spelling.csv: %w", lang, err)
	}
	words := regexp.MustCompile(`\{[^}]*\}|\pL+`) // or placeholders, which stay
	spelling := map[string]string{}
	for _, row := range rows[min(1, len(rows)):] {
		spelling[row[0]] = row[1]
		spelling[capital(row[0])] = capital(row[1])
	}
	for key, text := range all {
		own := words.ReplaceAllStringFunc(text, func(w string) string { return cmp.Or(spelling[w], w) })
		if _, has := texts[key]; !has && own != text {
			texts[key] = own
		}
	}
	return nil
}

func capital(word string) string { return strings.ToUpper(word[:1]) + word[1:] }

// loadFrom reads one folder of words. Objects may nest; {"a": {"b": "text"}} and
// {"a.b": "text"} are the same key a.b. A key that appears twice, in one file or in
// two, is an error that names it, as is a value that is no text.
func loadFrom(fsys fs.FS, dir string) (map[string]string, error) {
	files, err := fs.Glob(fsys, path.Join(dir, "*.json"))
	if err != nil {
		return nil, err
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("no words in %s", dir)
	}
	texts := wordFile{}
	for _, name := range files {
		b, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil, err
		}
		if err := texts.add(b); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	pages, err := fs.Glob(fsys, path.Join(dir, "pages", "*.md"))
	if err != nil {
		return nil, err
	}
	for _, name := range pages {
		b, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil, err
		}
		texts["page."+strings.TrimSuffix(path.Base(name), ".md")] = string(b)
	}
	return texts, nil
}

// wordFile is what word files hold.
type wordFile map[string]string

// add reads one file token by token, because json.Unmarshal would swallow a
// duplicate key.
func (w wordFile) add(b []byte) error {
	dec := json.NewDecoder(bytes.NewReader(b))
	if open, err := dec.Token(); err != nil {
		return err
	} else if open != json.Delim('{') {
		return errors.New("not an object")
	}
	if err := w.object(dec, ""); err != nil {
		return err
	}
	if _, err := dec.Token(); err != io.EOF {
		return errors.New("text after the closing brace")
	}
	return nil
}

// object reads the rest of an object whose opening brace has been read.
func (w wordFile) object(dec *json.Decoder, prefix string) error {
	for {
		k, err := dec.Token()
		if err != nil {
			return err
		}
		if k == json.Delim('}') {
			return nil
		}
		key := prefix + k.(string) // the decoder gives nothing else before a colon
		v, err := dec.Token()
		if err != nil {
			return err
		}
		switch v := v.(type) {
		case string:
			if _, twice := w[key]; twice {
				return fmt.Errorf("key %q appears twice", key)
			}
			w[key] = v
		case json.Delim:
			if v != '{' {
				return fmt.Errorf("%q is a list", key)
			}
			if err := w.object(dec, key+"."); err != nil {
				return err
			}
		default:
			return fmt.Errorf("%q is neither a text nor an object", key)
		}
	}
}
