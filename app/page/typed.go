package page

import (
	"unicode/utf8"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
)

// FirstFields are those of Readings that the page shows, and takes numbers in, before the
// program has come: static/index.html has them, static/boot.js keeps what is typed.
var FirstFields = []present.FieldID{present.FieldID(car.Low), present.FieldID(car.High), present.Ambient, present.FieldID(car.Vent)}

// takeTyped takes over what was typed into the first fields while the program was on its
// way, then lets its own, drawn with that, take their place. What was typed goes into the
// job that was at hand, as if it were typed now: it wins in its field, and the rest is as
// it was kept; over an invented car it begins one's own. A link is opened after that, so
// that nothing typed before it gets into what it brings.
func (s *Page) takeTyped() {
	shell := app.Window().Get("twoneedles")
	if !shell.Truthy() {
		return
	}
	texts := map[present.FieldID]string{}
	if typed := shell.Call("takeTyped"); typed.Truthy() {
		for _, id := range FirstFields {
			if v := typed.Get(string(id)); v.Type() == app.TypeString && utf8.RuneCountInString(v.String()) <= 2*present.MaxText {
				texts[id] = v.String()
			}
		}
	}
	s.putTyped(texts)
	s.Then(func() {
		if !shell.Call("giveWay").Bool() { // somebody goes on typing
			s.Ctx.Dispatch(func(app.Context) { s.takeTyped() })
		}
	})
}

// putTyped is takeTyped once the texts are here.
func (s *Page) putTyped(texts map[present.FieldID]string) {
	changed := false
	for id, text := range texts {
		changed = changed || s.Typed(TextOf(id)) != text
	}
	if len(texts) == 0 || !changed && s.Job.Example == "" {
		return
	}
	if s.Job.Example != "" { // also where a number is the invented one's
		for id := range texts {
			s.Put(TextOf(id), "")
		}
		s.Edited()
	}
	for id, text := range texts {
		s.Put(TextOf(id), text)
	}
	s.Edited()
	s.SyncInputs()
}
