package app

import "github.com/maxence-charriere/go-app/v10/pkg/app"

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
func reveal(id string) {
	if el := app.Window().GetElementByID(id); el.Truthy() {
		el.Call("scrollIntoView", map[string]any{"block": "center"})
		el.Call("focus", map[string]any{"preventScroll": true})
	}
}

// setBusy lets what is out of date fade while a new answer is on its way. The
// mark is on an element that go-app never draws again, and costs no drawing.
func setBusy(busy bool) {
	if el := app.Window().GetElementByID("main"); el.Truthy() {
		el.Call("toggleAttribute", "data-busy", busy)
	}
}
