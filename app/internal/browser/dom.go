package browser

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// EnterPlace puts the focus on the heading of a new place, so that a screen
// reader says where one is, and the scroll to the top, except when going back:
// then the browser restores it.
func EnterPlace(back bool) {
	Focus("title")
	if !back {
		app.Window().Call("scrollTo", 0, 0)
	}
}

// Focus moves the focus to the element without scrolling.
func Focus(id string) {
	if el := app.Window().GetElementByID(id); el.Truthy() {
		el.Call("focus", map[string]any{"preventScroll": true})
	}
}

// SetValue writes text into an input. go-app only removes the attribute when a
// value becomes empty, which leaves what was typed on screen.
func SetValue(id, text string) {
	if el := app.Window().GetElementByID(id); el.Truthy() && el.Get("value").String() != text {
		el.Set("value", text)
	}
}

// Reveal scrolls the element to the middle of the screen and focuses it.
func Reveal(id string) { show(id, "center") }

// ShowTop scrolls the element to the top of the screen and focuses it.
func ShowTop(id string) { show(id, "start") }

// AboveKeypad scrolls the element to the top of a phone's screen, where the keypad
// leaves room for it and for what follows, if the hand is still in it.
func AboveKeypad(id string) {
	el := app.Window().GetElementByID(id)
	if !el.Truthy() || !el.Call("contains", app.Window().Get("document").Get("activeElement")).Bool() {
		return
	}
	if narrow := app.Window().Call("matchMedia", "(max-width: 62.49rem)"); narrow.Truthy() && narrow.Get("matches").Bool() {
		el.Call("scrollIntoView", map[string]any{"block": "start"})
	}
}

func show(id, block string) {
	if el := app.Window().GetElementByID(id); el.Truthy() {
		el.Call("scrollIntoView", map[string]any{"block": block})
		Focus(id)
	}
}

// OnScreen tells whether the screen shows any of the element. One that is not there, or has
// no size, is nowhere else.
func OnScreen(id string) bool {
	if app.IsServer {
		return true
	}
	e := app.Window().GetElementByID(id)
	if !e.Truthy() {
		return true
	}
	box := e.Call("getBoundingClientRect")
	top, bottom := box.Get("top").Float(), box.Get("bottom").Float()
	return top == bottom || bottom > 0 && top < app.Window().Get("innerHeight").Float()
}

// SetGlide says how far what has moved in a new picture has come: see Figure.Moved
// and chart.css. The picture is replaced as a whole, so no transition could do it.
func SetGlide(id string, moved [2]float64) {
	picture := app.Window().GetElementByID(id)
	if !picture.Truthy() {
		return
	}
	style := picture.Get("style")
	for i, name := range []string{"--glide-x", "--glide-y"} {
		style.Call("setProperty", name, strconv.FormatFloat(moved[i], 'f', 2, 64)+"px")
	}
}

// SetMark sets or takes a mark. main is an element that go-app never draws again,
// so a mark costs no drawing.
func SetMark(name string, on bool) {
	if el := app.Window().GetElementByID("main"); el.Truthy() {
		el.Call("toggleAttribute", name, on)
	}
}
