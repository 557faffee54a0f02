//go:build !js

package browsertest

import (
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"runtime"
	"strings"
	"testing"
	"time"
)

// kitPage has what the words of this package could be fooled by. It is no page of
// the project's.
const kitPage = `<!doctype html><html lang="en"><meta name="viewport" content="width=device-width"><title>Kit</title><body>
<main id="main"><h1 id="title" tabindex="-1">Kit</h1>
<p id="shown">Shown <span>in</span> full</p>
<p id="hidden" hidden>Hidden</p>
<p id="unseen" style="visibility: hidden">Unseen</p>
<p id="mixed">Open <span hidden>shut</span></p>
<details><summary>More</summary><p id="folded">Folded</p></details>
<button id="button" onclick="this.textContent = 'Pressed'">Press</button>
<button id="dead" disabled>Dead</button>
<div style="position: relative"><button id="covered">Covered</button><div style="position: absolute; inset: 0">over it</div></div>
<button id="shy" onmousedown="this.hidden = true">Shy</button>
<input id="field"><input id="lost" hidden><input id="stubborn" value="mine" oninput="this.value = 'mine'">
<select id="menu"><option>one<option disabled>two</select>
<div id="far" style="margin-top: 5000px; content-visibility: auto"><p>Far <span hidden>away</span></p></div>
</main><section id="shell-failed" hidden>It failed</section></body></html>`

// Every wait and every word that reads must fail on a page that is not as it should
// be: the right-hand ones here are what the tests of the site rely on.
func TestWaitsCanFail(t *testing.T) {
	page := kit(t, Launch(t), kitPage)
	page.WaitRunning()
	for _, c := range []struct {
		what  string
		fails string // part of the failure; "" where it must pass
		do    func(*Page)
	}{
		{"text that is shown", "", func(p *Page) { p.WaitText("#shown", "Shown in full") }},
		{"another text", `says "Shown in full"`, func(p *Page) { p.WaitText("#shown", "Hidden") }},
		{"text of a hidden element", "not to be seen", func(p *Page) { p.WaitText("#hidden", "Hidden") }},
		{"text of an invisible element", "not to be seen", func(p *Page) { p.WaitText("#unseen", "Unseen") }},
		{"text of a folded element", "not to be seen", func(p *Page) { p.WaitText("#folded", "Folded") }},
		{"text of no element", "not to be seen", func(p *Page) { p.WaitText("#absent", "") }},
		{"hidden part of a text", `says "Open"`, func(p *Page) { p.WaitText("#mixed", "shut") }},
		{"text far below", "", func(p *Page) { p.WaitText("#far", "Far") }},
		{"hidden text far below", `says "Far`, func(p *Page) { p.WaitText("#far", "away") }},
		{"text of everything", "", func(p *Page) {
			p.WaitText("main", "Far")
			p.WaitText("main", "Shown in full")
			p.WaitNoText("main", "away")
		}},
		{"no text", "", func(p *Page) { p.WaitNoText("#mixed", "shut") }},
		{"no text, but it is there", `says "Shown in full"`, func(p *Page) { p.WaitNoText("#shown", "Shown") }},
		{"no text in a hidden element", "not to be seen", func(p *Page) { p.WaitNoText("#hidden", "other") }},
		{"no text in no element", "not to be seen", func(p *Page) { p.WaitNoText("#absent", "other") }},
		{"reading", "", func(p *Page) { p.Text("#shown") }},
		{"reading a hidden element", "not to be seen", func(p *Page) { p.Text("#hidden") }},
		{"reading no element", "not to be seen", func(p *Page) { p.Text("#absent") }},
		{"gone", "", func(p *Page) { p.WaitGone("#hidden"); p.WaitGone("#absent") }},
		{"gone, but it is there", "to be gone", func(p *Page) { p.WaitGone("#shown") }},
		{"the value of no field", "asking fails", func(p *Page) { p.WaitValue("#absent", "") }},
		{"a wait for nonsense", "asking fails", func(p *Page) { p.Wait("nonsense", "no.such.thing") }},
		{"a click", "", func(p *Page) { p.Click("#button"); p.WaitText("#button", "Pressed") }},
		{"a click on nothing", "not there", func(p *Page) { p.Click("#absent") }},
		{"a click on what is hidden", "is hidden", func(p *Page) { p.Click("#hidden") }},
		{"a click on what is covered", "covered by <div", func(p *Page) { p.Click("#covered") }},
		{"a click on what is disabled", "came to nothing", func(p *Page) { p.Click("#dead") }},
		{"a click on what goes away under it", "came to", func(p *Page) { p.Click("#shy") }},
		{"a click that loads nothing", "a new page", func(p *Page) { p.ClickAway("#button") }},
		{"typing", "", func(p *Page) { p.Type("#field", "12"); p.Type("#field", "3"); p.Type("#field", "") }},
		{"typing into no field", "the focus in", func(p *Page) { p.Type("#absent", "1") }},
		{"typing into a hidden field", "the focus in", func(p *Page) { p.Type("#lost", "1") }},
		{"typing into a field that changes it", `holds "mine"`, func(p *Page) { p.Type("#stubborn", "1") }},
		{"choosing", "", func(p *Page) { p.choose("#menu", "one") }},
		{"choosing what is not offered", "the choice three", func(p *Page) { p.choose("#menu", "three") }},
		{"choosing what cannot be chosen", "the choice two", func(p *Page) { p.choose("#menu", "two") }},
		{"another place", "the place job", func(p *Page) { p.WaitPlace("job") }},
		{"the site to be stored", "to be stored", func(p *Page) { p.WaitOffline() }},
	} {
		failure := witness(t, page, c.do)
		switch {
		case c.fails == "" && failure != "":
			t.Errorf("%s: %s", c.what, failure)
		case !strings.Contains(failure, c.fails) || c.fails != "" && failure == "":
			t.Errorf("%s: the failure is %q, want %q in it", c.what, failure, c.fails)
		}
	}
}

func TestWaitRunningCanFail(t *testing.T) {
	browser := Launch(t)
	for what, html := range map[string]string{
		"an empty page":            `<body>`,
		"loading":                  `<body><main id="shell-loading">Loading</main><section id="shell-failed" hidden></section>`,
		"nothing put on screen":    `<body><main id="main"></main><section id="shell-failed" hidden></section>`,
		"failed":                   `<body><section id="shell-failed">It failed</section>`,
		"failed, and a rest of it": `<body><main id="main"><p>Half</p></main><section id="shell-failed">It failed</section>`,
	} {
		page := kit(t, browser, "<!doctype html>"+html)
		if failure := witness(t, page, (*Page).WaitRunning); failure == "" {
			t.Errorf("%s: passes for running", what)
		}
		page.Close()
	}
}

// A phone makes its window as wide as what is in it, so the window cannot say what
// hangs over the side.
func TestSidewaysIsSeen(t *testing.T) {
	browser := Launch(t)
	for _, screen := range []Screen{Phone, Laptop} {
		for width, want := range map[int64]bool{screen.Width: false, screen.Width + 40: true} {
			page := kit(t, browser, fmt.Sprintf(`<!doctype html><meta name="viewport" content="width=device-width, initial-scale=1"><body style="margin: 0"><div style="width: %dpx">wide</div>`, width))
			page.SetScreen(screen)
			if over := page.sideways() > 0; over != want {
				t.Errorf("%d px on a screen of %d: over the side is %v", width, screen.Width, over)
			}
			page.Close()
		}
	}
}

// Trouble that comes with a test's last step is heard before the test ends.
func TestLastTroubleIsHeard(t *testing.T) {
	page := kit(t, Launch(t), `<!doctype html><body>`)
	page.Run(`void setTimeout(() => { throw new Error("late") })`)
	if trouble := page.lastTrouble(); len(trouble) != 1 || !strings.Contains(trouble[0], "late") {
		t.Errorf("heard of %q", trouble)
	}
	page.ExpectTrouble()
}

// kit opens a page of its own. Not from [Serve], whose headers forbid what makes these
// pages short: styles and handlers in the page.
func kit(t *testing.T, browser *Browser, html string) *Page {
	t.Helper()
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		io.WriteString(w, html)
	}))
	t.Cleanup(server.Close)
	return browser.Open(server.URL)
}

// witness does something with the page, lets waits end soon, and returns how it
// failed, "" where it did not.
func witness(t *testing.T, page *Page, do func(*Page)) (failure string) {
	t.Helper()
	w := &listener{TB: t}
	own, patience := page.t, page.patience // a question to the page keeps its full time
	page.t, page.patience = w, 500*time.Millisecond
	done := make(chan struct{})
	go func() { // Fatalf ends a goroutine
		defer close(done)
		do(page)
	}()
	<-done
	page.t, page.patience = own, patience
	return w.failure
}

// listener keeps a failure to itself.
type listener struct {
	testing.TB
	failure string
}

func (l *listener) Helper() {}

func (l *listener) Errorf(format string, args ...any) { l.failure = fmt.Sprintf(format, args...) }

func (l *listener) Fatalf(format string, args ...any) {
	l.failure = fmt.Sprintf(format, args...)
	runtime.Goexit()
}
