package app

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// What go-app leaves to the page: language, title, focus, scroll, fading. Outside a
// browser all of it does nothing.

// setPage tells the document its language and its title.
func setPage(lang, title string) {
	doc := app.Window().Get("document")
	doc.Get("documentElement").Set("lang", lang)
	doc.Set("title", title)
}

// enterPlace puts the focus on the heading of a new place, so that a screen
// reader says where one is, and the scroll to the top, except when going back:
// then the browser restores it.
func enterPlace(back bool) {
	focus("title")
	if !back {
		app.Window().Call("scrollTo", 0, 0)
	}
}

// focus moves the focus to the element without scrolling.
func focus(id string) {
	if el := app.Window().GetElementByID(id); el.Truthy() {
		el.Call("focus", map[string]any{"preventScroll": true})
	}
}

// setValue writes text into an input. go-app only removes the attribute when a
// value becomes empty, which leaves what was typed on screen.
func setValue(id, text string) {
	if el := app.Window().GetElementByID(id); el.Truthy() && el.Get("value").String() != text {
		el.Set("value", text)
	}
}

// reveal scrolls the element to the middle of the screen and focuses it.
func reveal(id string) { show(id, "center") }

// showTop scrolls the element to the top of the screen and focuses it.
func showTop(id string) { show(id, "start") }

func show(id, block string) {
	if el := app.Window().GetElementByID(id); el.Truthy() {
		el.Call("scrollIntoView", map[string]any{"block": block})
		focus(id)
	}
}

// setGlide says how far what has moved in a new picture has come: see Figure.Moved
// and chart.css. The picture is replaced as a whole, so no transition could do it.
func setGlide(id string, moved [2]float64) {
	picture := app.Window().GetElementByID(id)
	if !picture.Truthy() {
		return
	}
	style := picture.Get("style")
	for i, name := range []string{"--glide-x", "--glide-y"} {
		style.Call("setProperty", name, strconv.FormatFloat(moved[i], 'f', 2, 64)+"px")
	}
}

// Marks of main for what is out of date and fades: the answer while a new one is
// on its way, and the next measurement.
const (
	busy     = "data-busy"
	planning = "data-planning"
)

// setMark sets or takes a mark. main is an element that go-app never draws again,
// so a mark costs no drawing.
func setMark(name string, on bool) {
	if el := app.Window().GetElementByID("main"); el.Truthy() {
		el.Call("toggleAttribute", name, on)
	}
}
