package browser

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// MayNotify asks the person, once and in answer to a tap, whether the page may call
// them back. Whoever says no has the clock on the page.
func MayNotify() {
	if n := app.Window().Get("Notification"); n.Truthy() && n.Get("permission").String() == "default" {
		Await(Call(n, "requestPermission"), ignored, ignored)
	}
}

// Notify calls back a person who looks elsewhere; a page that is seen says it itself.
// Phones show a notice only through the service worker. One with the same tag takes
// the place of the one before.
func Notify(tag, title, text string) {
	n := app.Window().Get("Notification")
	seen := app.Window().Get("document").Get("visibilityState")
	worker := app.Window().Get("navigator").Get("serviceWorker")
	if !n.Truthy() || !worker.Truthy() || n.Get("permission").String() != "granted" || seen.String() == "visible" {
		return
	}
	worker.Get("ready").Then(func(registration app.Value) {
		Await(Call(registration, "showNotification", title, map[string]any{"body": text, "tag": tag}), ignored, ignored)
	})
}

// ignored is what a person chose, or a browser that changed its mind: the clock goes on.
func ignored(app.Value) {}
