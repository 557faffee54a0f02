package page

import (
	"errors"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/present"
)

// The words of a language come through the boot script, which fetches and keeps them:
// see static/boot.js. Outside a browser they are the files themselves.

// languageKey is where the choice is kept; the boot script reads it, so that the page
// starts in that language.
const languageKey = "twoneedles.language"

// Language is one that the page can speak.
type Language struct{ Code, Name string }

// ShellWords are the words that the page starts with.
func ShellWords() *present.Words {
	if app.IsServer {
		return present.English()
	}
	return flatWords(ShellField("language"), ShellField("texts"))
}

// flatWords reads what the boot script hands over: key, text, key, text.
func flatWords(lang, flat string) *present.Words {
	texts := make(map[string]string, 2500)
	for flat != "" {
		var key, text string
		key, flat, _ = strings.Cut(flat, "\x00")
		text, flat, _ = strings.Cut(flat, "\x00")
		texts[key] = text
	}
	return present.NewWords(lang, texts)
}

// Languages lists the languages to choose from.
func Languages() []Language {
	var list []Language
	if app.IsServer {
		for _, code := range present.Languages() {
			if w, err := present.Load(code); err == nil {
				list = append(list, Language{code, w.T("language.name")})
			}
		}
		return list
	}
	all := app.Window().Get("twoneedles").Get("languages")
	for i := range all.Length() {
		list = append(list, Language{all.Index(i).Get("code").String(), all.Index(i).Get("name").String()})
	}
	return list
}

// wordsOf calls then on the event goroutine with the words of a language once they are
// here, or with an error if they are not to be had.
func (s *Page) wordsOf(code string, then func(*present.Words, error)) {
	if app.IsServer {
		then(present.Load(code))
		return
	}
	deliver := func(w *present.Words, err error) { s.Ctx.Dispatch(func(app.Context) { then(w, err) }) }
	browser.Await(app.Window().Get("twoneedles").Call("fetchWords", code),
		func(flat app.Value) { deliver(flatWords(code, flat.String()), nil) },
		func(app.Value) { deliver(nil, errors.New("page: no words in "+code)) })
}

// Lang is the language that is spoken.
func (s *Page) Lang() string { return s.Words.Lang() }

// Speak changes the language of the page, from the next drawing on; nothing that was
// typed or opened changes. Where its words are not to be had, that is said.
func (s *Page) Speak(code string) {
	s.wordsOf(code, func(w *present.Words, err error) {
		if err != nil {
			s.notHere(code)
			s.Then(func() { browser.SetValue("language", s.Lang()) })
			return
		}
		// A full store costs the memory of the choice, not the choice.
		_ = s.device.Set(languageKey, code)
		s.UseWords(w)
	})
}

// UseWords lets the page speak these words.
func (s *Page) UseWords(w *present.Words) {
	s.Words = w
	s.Job, s.example, s.tried = s.titled(s.Job), s.titled(s.example), s.titled(s.tried)
	s.Say("") // it was said in the other language
	s.UpdateWaits()
	s.SetTitle(s.place)
	if !app.IsServer {
		app.Window().Get("twoneedles").Call("setLanguage", w.Lang())
	}
	s.recompute() // a failure is kept in words
}

// notHere says that a language could not be fetched.
func (s *Page) notHere(code string) {
	for _, l := range Languages() {
		if l.Code == code {
			s.Say(s.Words.T("shell.language.not_here", "language", l.Name))
		}
	}
}

// missedLanguage says at a start that the page speaks another language than the
// chosen one, for want of its words.
func (s *Page) missedLanguage() {
	if wanted := ShellField("wanted"); wanted != "" && wanted != s.Lang() {
		s.notHere(wanted)
	}
}

// SetTitle tells the document the place that is shown.
func (s *Page) SetTitle(place string) {
	s.place = place
	app.Window().Get("document").Set("title", s.Words.T("shell.title", "place", s.Words.T("shell.place."+place)))
}

// LanguageMenu is a choice of languages. Each stands in it in its own words, so that
// who cannot read the page finds his.
func LanguageMenu(id, label, now string, choose func(code string)) app.UI {
	list := Languages()
	if len(list) < 2 {
		return nil
	}
	var options []app.UI
	for _, l := range list {
		options = append(options, app.Option().Attr("value", l.Code).Attr("lang", l.Code).Selected(l.Code == now).Text(l.Name))
	}
	return app.Div().Class("field language").Body(
		app.Label().For(id).Text(label),
		app.Select().ID(id).Body(options...).OnChange(func(ctx app.Context, _ app.Event) {
			choose(list[ctx.JSSrc().Get("selectedIndex").Int()].Code)
		}, app.EventScope(id)))
}

// SheetWords are the words of the customer's sheet: of the language that was chosen for
// it, as soon as they are here, else those of the page.
func (s *Page) SheetWords() *present.Words {
	code := s.Job.TellIn
	if code == "" || code == s.Lang() {
		return s.Words
	}
	if s.sheetIn != code {
		s.sheetIn, s.sheetWords = code, nil
		s.wordsOf(code, func(w *present.Words, err error) {
			switch {
			case s.sheetIn != code: // another was chosen meanwhile
			case err != nil:
				s.notHere(code) // and asked for again when it is chosen again
			default:
				s.sheetWords = w
			}
		})
	}
	if s.sheetWords == nil {
		return s.Words
	}
	return s.sheetWords
}

// TellIn chooses the language of the customer's sheet.
func (s *Page) TellIn(code string) {
	s.Job.TellIn, s.sheetIn = code, ""
	if code == s.Lang() {
		s.Job.TellIn = "" // the page's own, whichever that will be
	}
	s.Edited()
}

// In calls f, which draws, while the page speaks w.
func (s *Page) In(w *present.Words, f func() app.UI) app.UI {
	was := s.Words
	s.Words = w
	defer func() { s.Words = was }()
	return f()
}
