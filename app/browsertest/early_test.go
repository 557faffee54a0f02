//go:build !js

package browsertest

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// firstFields are those that can be typed in before the program has come.
var firstFields = []string{"low", "high", "ambient", "vent"}

// needles are those that nothing stands above that comes with an answer.
var needles = firstFields[:2]

// tops is where each of the first fields stands, in CSS pixels of the document.
func (p *Page) tops() (at [4]float64) {
	p.t.Helper()
	for i, id := range firstFields {
		at[i] = Eval[float64](p, fmt.Sprintf(`document.getElementById(%q).getBoundingClientRect().top + scrollY`, id))
	}
	return at
}

// wantStill compares where fields stand with where they stood: 2 px are what rounding of
// heights may come to.
func wantStill(t *testing.T, when string, fields []string, before, after [4]float64) {
	t.Helper()
	for i, id := range fields {
		if math.Abs(after[i]-before[i]) > 2 {
			t.Errorf("%s #%s jumps from %.1f to %.1f px", when, id, before[i], after[i])
		}
	}
}

// early waits until the first fields are to be seen, before the program.
func (p *Page) early() {
	p.t.Helper()
	p.WaitText("#shell-early .glance", "The answer comes when the program has arrived")
}

// A first visit on a slow connection: numbers are typed before the program has come, and
// go on to be typed as it comes.
func TestTypedBeforeTheProgram(t *testing.T) {
	server := Serve(t, Site(t), "/deep/er/")
	release := server.Hold("app.wasm.br")
	page := Launch(t).Open(server.URL)
	page.SetScreen(Phone)
	page.early()
	empty := page.tops()
	unit := page.Text("#shell-early .gauge.low .unit")
	page.Screenshot("early-empty")
	page.read("38", "330", "90")
	page.Keys("\r") // puts the keypad away, as in the program
	page.Wait("no focus", `document.activeElement === document.body`)
	page.Focus("#high")
	page.Run(`document.activeElement.setSelectionRange(1, 2)`)
	before := page.tops()
	page.Screenshot("early-typed")
	release()
	page.WaitRunning()
	page.Screenshot("early-handed-over")
	wantStill(t, "as the program comes", needles, before, page.tops())
	if got, want := Eval[string](page, `[document.activeElement.id, document.activeElement.selectionStart, document.activeElement.selectionEnd, !!document.activeElement.closest("#main")].join()`), "high,1,2,true"; got != want {
		t.Errorf("focus and caret are at %s, want %s", got, want)
	}
	page.Keys("4")
	for id, text := range map[string]string{"low": "38", "high": "340", "ambient": "90", "vent": ""} {
		page.WaitValue("#"+id, text)
	}
	if got := page.Text("#main .gauge.low .unit"); got != unit {
		t.Errorf("the unit was %q and is %q", unit, got)
	}
	page.waitAnswer()
	page.WaitKept("the job", `"38"`, `"340"`, `"90"`)
	wantStill(t, "as the answer comes", needles, before, page.tops())
	page.WaitOffline()
	if note := Eval[string](page, `localStorage.getItem("twoneedles.typing") || ""`); note != "" {
		t.Errorf("what the program has is still noted: %s", note)
	}

	// Who typed nothing has the same page too.
	page.Run(`localStorage.clear()`)
	release = server.Hold("app.wasm.br")
	fresh := Launch(t).Open(server.URL)
	fresh.SetScreen(Phone)
	fresh.early()
	wantStill(t, "another time", firstFields, empty, fresh.tops())
	release()
	fresh.WaitRunning()
	wantStill(t, "as the program comes to who typed nothing", firstFields, empty, fresh.tops())
	fresh.WaitOffline()
	fresh.WaitText("#first-offline", "Ready")
	wantStill(t, "as it is stored", firstFields, empty, fresh.tops())
}

// holdProgram lets the program of every page that is opened from now on wait for letGo().
func (p *Page) holdProgram() {
	p.t.Helper()
	p.call("holding the program", func(ctx context.Context) error {
		_, err := chromedp.Call(ctx, cdp.AddScriptToEvaluateOnNewDocument, cdp.AddScriptToEvaluateOnNewDocumentParams{Source: `(() => {
			const start = WebAssembly.instantiateStreaming, held = new Promise(go => { window.letGo = go; });
			WebAssembly.instantiateStreaming = (...args) => held.then(() => start(...args));
		})()`})
		return err
	})
}

// Somebody comes back, without network: what stood there stands there at once, in its
// units; what is typed wins in its field, and everything else is as it was kept.
func TestComesBackBeforeTheProgram(t *testing.T) {
	OnlyIn(t, "the program of a stored page is held up from outside", "chromium")
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.bench("38", "330", "90")
	page.Type("#vent", "58")
	page.Click("#unit-kPa")
	page.Click("#unit-C")
	page.waitAnswer()
	page.WaitValue("#vent", "14.4") // 58 °F
	low, high := page.Value("#low"), page.Value("#high")
	page.WaitKept("the job", high)
	page.WaitOffline()
	server.Stop()
	page.holdProgram()
	page.Reload()
	page.early()
	for id, text := range map[string]string{"low": low, "high": high, "ambient": "32", "vent": "14.4"} {
		page.WaitValue("#"+id, text)
	}
	if units := page.Text("#shell-early .gauge.high .unit") + page.Text("#shell-early .gauge.plain .unit"); units != "kPa°C" {
		t.Errorf("the units are %s", units)
	}
	page.Type("#high", "1600")
	page.Type("#vent", "")
	page.Focus("#high")
	page.Screenshot("early-back")
	before := page.tops()
	page.Run("letGo()")
	page.WaitRunning()
	wantStill(t, "as the program comes", needles, before, page.tops())
	for id, text := range map[string]string{"low": low, "high": "1600", "ambient": "32", "vent": ""} {
		page.WaitValue("#"+id, text)
	}
	page.waitAnswer()
	page.WaitKept("the job", `"1600"`)

	// Over an invented car it begins one's own, even with the invented number.
	page.Click("#start-empty")
	page.Click("#example")
	page.waitAnswer()
	invented := page.Value("#low")
	page.Reload()
	page.early()
	page.WaitText("#shell-early .about", "An invented car")
	page.Type("#low", invented)
	page.WaitValue("#high", "")
	page.Run("letGo()")
	page.WaitRunning()
	page.WaitValue("#low", invented)
	page.WaitValue("#high", "")

	// Where other fields stand, the program comes first.
	page.Click("#low-swings")
	page.WaitValue("#low-lo", invented)
	page.Reload()
	page.WaitText("#shell-loading", "Two pressures")
	page.Run("letGo()")
	page.WaitRunning()
	page.WaitValue("#low-lo", invented)
}

// The program does not come: what was typed stays in sight, over loading again too, and is
// in the job when the program does come.
func TestTypedAndTheProgramDoesNotArrive(t *testing.T) {
	server := Serve(t, Site(t), "/")
	release := server.Hold("app.wasm.br")
	page := Launch(t).Open(server.URL)
	page.SetScreen(Phone)
	page.early()
	page.Type("#low", "38")
	page.Type("#ambient", "90")
	server.BreakFile("app.wasm.br", Missing)
	release()
	page.WaitText("#shell-failed", "The program did not arrive")
	page.WaitText("#shell-early .glance", "The program did not arrive")
	page.WaitText("#shell-failed", "The numbers you typed above stay")
	page.Keys("5") // and goes on being typed
	page.WaitValue("#ambient", "905")
	page.WaitValue("#low", "38")
	page.Screenshot("early-failed")
	page.ClickAway("#shell-reload")
	page.WaitText("#shell-failed", "The program did not arrive")
	page.WaitValue("#low", "38")
	page.WaitValue("#ambient", "905")
	page.Type("#ambient", "90")
	server.Break(nil)
	page.ClickAway("#shell-reload")
	page.WaitRunning()
	page.WaitValue("#low", "38")
	page.WaitValue("#ambient", "90")
	page.WaitKept("the job", `"38"`, `"90"`)
}

// The fields stand at the address of Readings alone, and not where a link brings others.
func TestFirstFieldsStandAtTheirAddress(t *testing.T) {
	server := Serve(t, Site(t), "/deep/er/")
	release := server.Hold("app.wasm.br")
	browser := Launch(t)
	for address, want := range map[string]bool{"": true, "index.html": true, "?from=there": true, "job": false, "saturation/": false, "no-such-place": false, "#example": false} {
		page := browser.Open(server.URL + address)
		page.Wait("one of the two", `document.querySelector("#shell-early")?.checkVisibility() !== document.querySelector("#shell-loading").checkVisibility()`)
		if got := Eval[bool](page, `document.querySelector("#shell-early").checkVisibility()`); got != want {
			t.Errorf("at %q the first fields are there: %v, want %v", address, got, want)
		}
		page.Close()
	}
	release()
}

// The page before the program speaks the language that was chosen, although its words have
// not come, and keeps the rules that every place keeps.
func TestEveryoneBeforeTheProgram(t *testing.T) {
	OnlyIn(t, "see TestEveryone", "chromium")
	server := Serve(t, Site(t), "/")
	server.Hold("app.wasm.br")
	server.Hold("words-es.json.gz")
	page := Launch(t).Open(server.URL)
	page.SetScreen(Phone)
	page.early()
	page.Run(inReach)
	for name, check := range map[string]func(*testing.T, *Page) []string{"axe": keepsAxesRules, "zoom": fitsAnyZoom, "forced": isSeenInForcedColours,
		"touch": isLargeEnoughToTouch, "order": readsInTheEyesOrder, "names": hasNames} {
		page.SetLook(Look{Screen: Phone})
		for _, found := range check(t, page) {
			t.Errorf("%s: %s", name, found)
		}
	}
	for _, look := range Looks {
		page.SetLook(look)
		page.Screenshot("early-" + look.Name)
	}
	page.SetLook(Look{Screen: Phone})
	page.Run(`localStorage.setItem("twoneedles.language", "es")`)
	page.Reload()
	page.WaitText("#shell-early .glance", "Ya puede escribir")
	page.WaitText("#shell-early .gauge.low", "Lado de baja")
	if got := Eval[string](page, `[document.documentElement.lang, document.getElementById("low").ariaLabel].join()`); got != "es,Lado de baja" {
		t.Errorf("the language and the label are %s", got)
	}
	if trouble := strings.Join(page.Trouble(), "\n"); trouble != "" {
		t.Error(trouble)
	}
}
