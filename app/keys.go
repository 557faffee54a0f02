package app

import (
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/page"
)

// Keys for the hand that is at a keyboard anyway. Whatever a key does can be done
// without it. A letter alone is no shortcut while somebody types, and can be switched off:
// who speaks to the device instead of typing would set them off without wanting to.

// lettersKey is where it is kept that letters alone do nothing.
const lettersKey = "twoneedles.letters"

// inField are the elements that keep what is typed for themselves.
const inField = "input:not([type=checkbox], [type=radio], [type=range]), textarea, select"

// shortcut is what one key does; its words are shell.keys.<id>.
type shortcut struct {
	id, key string
	do      func(*rooms)
}

// letters are the keys that act alone, besides the digits, which go to the places.
var letters = []shortcut{
	{"new", "N", func(in *rooms) {
		in.page.NewJob()
		in.page.Say(in.page.Words.T("job.record.began"))
		in.page.Then(firstField)
	}},
	{"jobs", "J", func(in *rooms) { in.follow("#to-jobs") }},
	{"field", "F", func(*rooms) { firstField() }},
	{"list", "?", func(*rooms) { showKeys() }},
}

// listenKeys lets a letter or a digit act, and Ctrl-Z and Ctrl-Shift-Z (with Cmd on a Mac),
// or Ctrl-Y, step back and forth; in a field none of them, the browser's own undo of the
// text comes first there.
func (in *rooms) listenKeys() {
	app.Window().Call("addEventListener", "keydown", app.FuncOf(func(_ app.Value, args []app.Value) any {
		e := args[0]
		key := strings.ToUpper(e.Get("key").String())
		if len(key) != 1 || e.Get("altKey").Bool() || e.Get("repeat").Bool() {
			return nil
		}
		if on := e.Get("target"); on.Truthy() && on.Get("matches").Truthy() && on.Call("matches", inField).Bool() {
			return nil
		}
		if app.Window().Get("document").Call("querySelector", "dialog[open]").Truthy() { // nothing acts behind it
			return nil
		}
		act := in.keyDoes(key, e.Get("ctrlKey").Bool() || e.Get("metaKey").Bool(), e.Get("shiftKey").Bool())
		if act == nil {
			return nil
		}
		e.Call("preventDefault")
		in.page.Ctx.Dispatch(func(app.Context) { act() })
		return nil
	}))
}

// keyDoes is what a key outside a field does, nil if nothing.
func (in *rooms) keyDoes(key string, ctrl, shift bool) func() {
	switch {
	case ctrl && key == "Z" && !shift:
		return in.page.StepBack
	case ctrl && (key == "Z" || key == "Y"):
		return in.page.StepForward
	case ctrl || in.page.Guest() || !in.lettersAct():
		return nil
	case key >= "1" && key <= "9":
		return func() { in.follow(".places li:nth-child(" + key + ") a") }
	}
	if i := slices.IndexFunc(letters, func(l shortcut) bool { return l.key == key }); i >= 0 {
		return func() { letters[i].do(in) }
	}
	return nil
}

func (in *rooms) lettersAct() bool {
	_, off, _ := in.page.Device().Get(lettersKey)
	return !off
}

// follow goes where the first link of the selector leads, if there is one. A click from
// here would come to go-app once the browser had followed the link by itself, which loads
// the whole page anew.
func (in *rooms) follow(selector string) {
	if el := app.Window().Get("document").Call("querySelector", selector); el.Truthy() {
		in.page.Ctx.Navigate(el.Get("href").String())
	}
}

// firstField puts the hand into the first field of the place.
func firstField() {
	all := app.Window().Get("document").Call("querySelectorAll", "#main input, #main textarea, #main select")
	for i := range all.Get("length").Int() {
		el := all.Index(i)
		if el.Call("matches", ":not([type=checkbox], [type=radio], [type=file], :disabled)").Bool() && el.Call("checkVisibility").Bool() {
			el.Call("focus")
			if el.Get("select").Truthy() {
				el.Call("select")
			}
			return
		}
	}
}

const keysDialog = "keys"

func showKeys() {
	if el := app.Window().GetElementByID(keysDialog); el.Truthy() {
		el.Call("showModal")
	}
}

// keyList is the list of keys, above every place when it is asked for.
type keyList struct {
	app.Compo
	Lang string
	Off  bool // letters alone do nothing

	in *rooms
}

func (k *keyList) Render() app.UI {
	w := k.in.page.Words
	row := func(does string, keys ...string) app.UI {
		return app.Div().Body(app.Dt().Text(does), app.Dd().Body(app.Range(keys).Slice(func(i int) app.UI { return app.Kbd().Text(keys[i]) })))
	}
	ctrl, shift := w.T("shell.keys.ctrl"), w.T("shell.keys.shift")
	rows := []app.UI{row(w.T("shell.keys.places"), "1", "2", "3", "…")}
	for _, l := range letters {
		rows = append(rows, row(w.T("shell.keys."+l.id), l.key))
	}
	rows = append(rows, row(w.T("jobs.bar.step-back"), ctrl, "Z"), row(w.T("jobs.bar.step-forward"), ctrl, shift, "Z"))
	// A tap beside it closes it, where the browser knows that.
	return app.Dialog().ID(keysDialog).Class("card stack").Attr("closedby", "any").Aria("labelledby", "keys-title").Body(
		app.H2().ID("keys-title").Text(w.T("shell.keys.title")),
		app.Dl().Class("keys").Body(rows...),
		app.Label().For("keys-letters").Class("tick").Body(
			app.Input().ID("keys-letters").Type("checkbox").Checked(!k.Off).OnChange(func(ctx app.Context, _ app.Event) {
				k.in.letLettersAct(ctx.JSSrc().Get("checked").Bool())
			}),
			app.Span().Text(w.T("shell.keys.letters"))),
		page.Button("keys-close", "btn main", w.T("shell.keys.close"), func() { app.Window().GetElementByID(keysDialog).Call("close") }),
	)
}

func (in *rooms) letLettersAct(on bool) {
	// A full store costs the memory of the choice: letters go on acting.
	if on {
		_ = in.page.Device().Remove(lettersKey)
	} else {
		_ = in.page.Device().Set(lettersKey, "off")
	}
	in.rev++
}
