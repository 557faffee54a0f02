package app

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// themeKey is where the choice of colours is kept; the boot script reads it too,
// so that a dark page does not start with a white flash.
const themeKey = "twoneedles.theme"

// nextTheme is the order of the button: the device's own, light, dark.
var nextTheme = map[string]string{"system": "light", "light": "dark", "dark": "system"}

// themeButton switches between the device's colours, light and dark.
type themeButton struct {
	app.Compo
	Lang string

	in    *rooms
	theme string
}

func (b *themeButton) OnMount(app.Context) {
	text, _, _ := b.in.page.Device().Get(themeKey)
	b.set(strings.Trim(text, `"`)) // earlier versions kept it in quotes
}

func (b *themeButton) set(t string) {
	if nextTheme[t] == "" {
		t = "system" // anything else in the store is not ours to trust
	}
	b.theme = t
	root := app.Window().Get("document").Get("documentElement")
	if t == "system" {
		root.Call("removeAttribute", "data-theme")
		return
	}
	root.Call("setAttribute", "data-theme", t)
}

func (b *themeButton) next(app.Context, app.Event) {
	b.set(nextTheme[b.current()])
	// A full store costs the memory of the choice, not the choice.
	if b.theme == "system" {
		_ = b.in.page.Device().Remove(themeKey)
		return
	}
	_ = b.in.page.Device().Set(themeKey, b.theme)
}

func (b *themeButton) current() string {
	if b.theme == "" {
		return "system"
	}
	return b.theme
}

func (b *themeButton) Render() app.UI {
	say := b.in.page.Words.T("shell.colours." + b.current())
	return app.Button().ID("theme").Type("button").Class("btn quiet icon").Aria("label", say).Title(say).
		OnClick(b.next).Body(app.Raw(themeIcons[b.current()]))
}

var themeIcons = map[string]string{
	"system": `<svg viewBox="0 0 24 24" aria-hidden="true"><circle cx="12" cy="12" r="9" fill="none" stroke="currentColor" stroke-width="2"/><path d="M12 3a9 9 0 0 1 0 18z" fill="currentColor"/></svg>`,
	"light":  `<svg viewBox="0 0 24 24" aria-hidden="true"><circle cx="12" cy="12" r="5" fill="none" stroke="currentColor" stroke-width="2"/><path d="M12 1v3M12 20v3M1 12h3M20 12h3M4.2 4.2l2.1 2.1M17.7 17.7l2.1 2.1M4.2 19.8l2.1-2.1M17.7 6.3l2.1-2.1" stroke="currentColor" stroke-width="2" stroke-linecap="round"/></svg>`,
	"dark":   `<svg viewBox="0 0 24 24" aria-hidden="true"><path d="M20 14.5A8.5 8.5 0 0 1 9.500 4a8.500 8.500 0 1 0 10.500 10.500z" fill="currentColor"/></svg>`,
}
