//go:build !js

package browsertest

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// engine is a kind of browser. Chromium is spoken to in its own protocol, the others
// in WebDriver.
type engine interface {
	// start runs the browser with what it kept in the folder profile; the wall is its
	// proxy to everything but this machine.
	start(t testing.TB, profile string, wall *wall) (running, error)
}

// running is a browser that runs.
type running interface {
	open() (tab, error)
	// close ends the browser in order, so that what it was told to keep is on disk.
	close() error
	// kill ends it as a flat battery does.
	kill() error
}

// tab is what a [Page] needs of its browser. Each method waits for [Patience] at most.
type tab interface {
	navigate(url string) error
	reload() error
	// eval returns the expression's value, a promise's included, as JSON.
	eval(expression string) ([]byte, error)
	click(at [2]float64) error
	// clickAway is a click that may take the page away before it is answered.
	clickAway(at [2]float64) error
	keys(keys string, shift bool) error
	screen(Screen) error
	dark(bool) error
	// medium makes the page look as on "print", or as ever: "".
	medium(string) error
	screenshot(whole bool) ([]byte, error)
	pdf(chromedp.PaperSize) ([]byte, error)
	// heard returns the trouble that the browser told of since the last call.
	heard() []string
	close()
}

// engines are the browsers that the tests run in, by their names in $ENGINE.
var engines = map[string]engine{"chromium": chromium{}, "firefox": firefox{}, "webkit": webkit{}}

// Engine is the name of the browser that this run of tests is for: $ENGINE, or chromium.
func Engine() string {
	if name := os.Getenv("ENGINE"); name != "" {
		return name
	}
	return "chromium"
}

func theEngine(t testing.TB) engine {
	t.Helper()
	e, known := engines[Engine()]
	if !known {
		t.Fatalf("ENGINE=%s: name chromium, firefox or webkit", Engine())
	}
	return e
}

// OnlyIn leaves a test out in the other engines, for a reason that lies in them and not
// in the page.
func OnlyIn(t testing.TB, reason string, names ...string) {
	t.Helper()
	if !slices.Contains(names, Engine()) {
		t.Skipf("only in %s: %s", strings.Join(names, ", "), reason)
	}
}
