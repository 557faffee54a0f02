package present

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"twoneedles/refrig/car"
	"twoneedles/refrig/catalogue"
	"twoneedles/refrig/unit"
)

// Words holds every text of one language. It is safe for concurrent use.
type Words struct {
	lang  string
	texts map[string]string
}

// NewWords returns the words of one language from its texts by their keys.
func NewWords(lang string, texts map[string]string) *Words {
	return &Words{lang: lang, texts: texts}
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
func (w *Words) Keys() []string { return slices.Sorted(maps.Keys(w.texts)) }

// Text returns the text of key with each {name} replaced by args[name], so
// that another language can put them in another order. A missing key shows as
// ⟨key⟩ and a missing argument as ⟨name⟩: visible, never silent.
//
// A key with the forms key.one and key.other is a plural; args["n"] chooses, by the
// rules of plural.go.
func (w *Words) Text(key string, args map[string]any) string {
	text, ok := w.texts[key]
	if !ok {
		text, ok = w.texts[key+"."+w.pluralForm(args["n"])]
	}
	if !ok {
		text, ok = w.texts[key+".other"]
	}
	if !ok {
		return "⟨" + key + "⟩"
	}
	return w.fill(text, args)
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

func (w *Words) fill(text string, args map[string]any) string {
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
		b.WriteString(w.argText(text[i+1:i+j], args))
		text = text[i+j+1:]
	}
	b.WriteString(text)
	return b.String()
}

func (w *Words) argText(name string, args map[string]any) string {
	switch v := args[name].(type) {
	case nil:
		return "⟨" + name + "⟩"
	case string:
		return v
	case float64:
		return w.Point(unit.Digits(v, 3))
	case int:
		return strconv.Itoa(v)
	default:
		return fmt.Sprint(v)
	}
}

// Point puts the language's own decimal sign into a number that has the point of a
// computer.
func (w *Words) Point(number string) string {
	return strings.Replace(number, ".", w.T("number.point"), 1)
}

// Day writes a date as the language does; digits only.
func (w *Words) Day(t time.Time) string {
	return w.T("date.day", "y", t.Format("2006"), "m", t.Format("01"), "d", t.Format("02"))
}

// Page is the catalogue's page on a condition.
func (w *Words) Page(id car.ConditionID) (catalogue.CataloguePage, error) {
	return catalogue.Parse(id, w.texts["page."+string(id)])
}
