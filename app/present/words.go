package present

import (
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"sort"
	"strconv"
	"strings"
	"sync"

	"twoneedles/refrig/unit"
)

//go:embed words
var wordFiles embed.FS

// Words holds every text of one language. It is safe for concurrent use.
type Words struct {
	lang  string
	texts map[string]string
}

// English returns the English words. The files are embedded and tested, so a
// failure to read them is a fault of the build and panics.
var English = sync.OnceValue(func() *Words {
	w, err := Load("en")
	if err != nil {
		panic("present: " + err.Error())
	}
	return w
})

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

// Load reads every words/<lang>/*.json. Objects may nest; {"a": {"b": "text"}}
// and {"a.b": "text"} are the same key a.b. A key that appears twice, in one
// file or in two, is an error that names it, as is a value that is no text.
func Load(lang string) (*Words, error) { return loadFrom(wordFiles, "words/"+lang, lang) }

func loadFrom(fsys fs.FS, dir, lang string) (*Words, error) {
	files, err := fs.Glob(fsys, path.Join(dir, "*.json"))
	if err != nil {
		return nil, err
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("no words for language %q", lang)
	}
	w := &Words{lang: lang, texts: map[string]string{}}
	for _, name := range files {
		b, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil, err
		}
		if err := w.add(b); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	return w, nil
}

// add reads one file token by token, because json.Unmarshal would swallow a
// duplicate key.
func (w *Words) add(b []byte) error {
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
func (w *Words) object(dec *json.Decoder, prefix string) error {
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
			if _, twice := w.texts[key]; twice {
				return fmt.Errorf("key %q appears twice", key)
			}
			w.texts[key] = v
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

// Lang returns the language code, the name of its folder.
func (w *Words) Lang() string { return w.lang }

// Has tells whether there is a text for key, counting plural forms.
func (w *Words) Has(key string) bool {
	_, ok := w.texts[key]
	if !ok {
		_, ok = w.texts[key+".other"]
	}
	return ok
}

// Keys returns every key in alphabetical order.
func (w *Words) Keys() []string {
	keys := make([]string, 0, len(w.texts))
	for k := range w.texts {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

// Text returns the text of key with each {name} replaced by args[name], so
// that another language can put them in another order. A missing key shows as
// ⟨key⟩ and a missing argument as ⟨name⟩: visible, never silent.
//
// A key with the forms key.one and key.other is a plural; args["n"] chooses.
func (w *Words) Text(key string, args map[string]any) string {
	text, ok := w.texts[key]
	if !ok {
		text, ok = w.texts[key+"."+pluralForm(w.lang, args["n"])]
	}
	if !ok {
		text, ok = w.texts[key+".other"]
	}
	if !ok {
		return "⟨" + key + "⟩"
	}
	return fill(text, args)
}

// T is [Words.Text] with the arguments as pairs: T("key", "name", value, …).
// An odd number of them, or a name that is no string, panics.
func (w *Words) T(key string, pairs ...any) string {
	if len(pairs)%2 != 0 {
		panic("present: T(" + key + "): arguments come in pairs")
	}
	args := make(map[string]any, len(pairs)/2)
	for i := 0; i < len(pairs); i += 2 {
		args[pairs[i].(string)] = pairs[i+1]
	}
	return w.Text(key, args)
}

// pluralForm chooses the plural form of n. English and its neighbours know two;
// a language with more gets its case here and its forms in its files.
func pluralForm(_ string, n any) string {
	switch n {
	case 1, 1.0, "1":
		return "one"
	}
	return "other"
}

func fill(text string, args map[string]any) string {
	if !strings.ContainsRune(text, '{') {
		return text
	}
	var b strings.Builder
	for {
		i := strings.IndexByte(text, '{')
		if i < 0 {
			break
		}
		j := strings.IndexByte(text[i:], '}')
		if j < 0 {
			break
		}
		b.WriteString(text[:i])
		b.WriteString(argText(text[i+1:i+j], args))
		text = text[i+j+1:]
	}
	b.WriteString(text)
	return b.String()
}

func argText(name string, args map[string]any) string {
	switch v := args[name].(type) {
	case nil:
		return "⟨" + name + "⟩"
	case string:
		return v
	case float64:
		return unit.Digits(v, 3)
	case int:
		return strconv.Itoa(v)
	default:
		return fmt.Sprint(v)
	}
}
