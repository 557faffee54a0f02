//go:build !js

package browsertest

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"
)

// Page is a tab.
type Page struct {
	t   testing.TB
	tab tab

	screen   Screen        // zero until one is set
	patience time.Duration // of a wait: Patience, less where a test waits for a failure
	watching bool          // starts are measured

	trouble  []string
	expected bool
}

// Open opens a new tab on the address and returns when the document has loaded,
// which is before the program runs: wait for a text.
func (b *Browser) Open(url string) *Page {
	b.t.Helper()
	tab, err := b.running.open()
	if err != nil {
		b.t.Fatalf("opening a tab: %v", err)
	}
	p := &Page{t: b.t, tab: tab, patience: Patience}
	b.t.Cleanup(func() {
		complain := b.t.Errorf
		if _, measuring := b.t.(*testing.B); measuring {
			complain = b.t.Logf // a failed benchmark would keep its numbers to itself
		}
		for _, trouble := range p.lastTrouble() {
			complain("trouble in the page: %s", trouble)
		}
	})
	p.Go(url)
	return p
}

// Close closes the tab.
func (p *Page) Close() { p.tab.close() }

// Go navigates to the address.
func (p *Page) Go(url string) { p.t.Helper(); p.did("going to "+url, p.tab.navigate(url)) }

// Reload loads the page again.
func (p *Page) Reload() { p.t.Helper(); p.did("reloading", p.tab.reload()) }

// Back goes back in the history.
func (p *Page) Back() { p.t.Helper(); p.Run("history.back()") }

// Click waits until the element can be hit, clicks it, or taps it when the screen is
// one for touch (a mouse event either way), and fails unless the click came to it.
func (p *Page) Click(selector string) {
	p.t.Helper()
	at := p.aim(selector)
	p.did("clicking "+selector, p.tab.click(at))
	if to := Eval[string](p, `String(window.clicked)`); to != "hit" {
		p.t.Fatalf("the click on %s came to %s; is it disabled, or did it move away?", selector, to)
	}
}

// ClickAway clicks what loads the page anew and waits for the new one.
func (p *Page) ClickAway(selector string) {
	p.t.Helper()
	at := p.aim(selector)
	p.Run("window.left = true")
	p.did("clicking "+selector, p.tab.clickAway(at))
	p.Wait("a new page after "+selector, "!window.left && document.body")
}

// aim brings the element into view, waits until it stands still and nothing covers
// it, and returns the middle of its first box. window.clicked will say where the
// next click comes to.
func (p *Page) aim(selector string) (at [2]float64) {
	p.t.Helper()
	var state string
	p.until(func() bool {
		aimed, err := ask[struct {
			State string     `json:"state"`
			At    [2]float64 `json:"at"`
		}](p, fmt.Sprintf(aimAt, selector))
		if state, at = aimed.State, aimed.At; err != nil {
			state = err.Error()
		}
		return state == ""
	}, func() string { return fmt.Sprintf("%s to be hit by a click; it is %s", selector, state) })
	return at
}

// aimAt compares two places, a frame apart; a page behind another has no frames.
const aimAt = `(async (e) => {
	if (!e) return {state: "not there"};
	if (!e.checkVisibility({visibilityProperty: true})) return {state: "hidden"};
	const middle = () => { const r = e.getClientRects()[0]; return r ? [r.x + r.width / 2, r.y + r.height / 2] : [NaN, NaN]; };
	const hit = (at) => e.contains(document.elementFromPoint(...at));
	e.scrollIntoView({block: "nearest", inline: "nearest", behavior: "instant"});
	if (!hit(middle())) e.scrollIntoView({block: "center", inline: "nearest", behavior: "instant"});
	const before = middle();
	await new Promise(next => { requestAnimationFrame(() => requestAnimationFrame(next)); setTimeout(next, 200); });
	const at = middle();
	if (!e.isConnected || at[0] !== before[0] || at[1] !== before[1]) return {state: "moving"};
	if (!hit(at)) return {state: "covered by " + (document.elementFromPoint(...at) || {outerHTML: "nothing"}).outerHTML.slice(0, 200)};
	window.clicked = "nothing";
	addEventListener("click", (event) => { window.clicked = e.contains(event.target) ? "hit" : event.target.outerHTML.slice(0, 200); }, {capture: true, once: true});
	return {state: "", at};
})(document.querySelector(%q))`

// Focus puts the focus into a field and selects what is in it.
func (p *Page) Focus(selector string) {
	p.t.Helper()
	p.Wait("the focus in "+selector, fmt.Sprintf(`(e => { if (!e) return false; e.focus(); e.select(); return document.activeElement === e; })(document.querySelector(%q))`, selector))
}

// Type puts the text into a field in the place of what is there, key by key, and
// waits until the field holds it.
func (p *Page) Type(selector, text string) {
	p.t.Helper()
	p.Focus(selector)
	if text == "" {
		p.Keys("\b")
	} else {
		p.Keys(text)
	}
	p.WaitValue(selector, text)
}

// Keys presses keys wherever the focus is; package kb of chromedp has those that
// write nothing, such as kb.Tab and kb.ArrowUp.
func (p *Page) Keys(keys string) {
	p.t.Helper()
	p.did(fmt.Sprintf("pressing %q", keys), p.tab.keys(keys, false))
}

// ShiftKeys presses keys while Shift is held.
func (p *Page) ShiftKeys(keys string) {
	p.t.Helper()
	p.did(fmt.Sprintf("pressing Shift and %q", keys), p.tab.keys(keys, true))
}

// Text returns the visible text of the first element, and fails the test where
// there is none to be seen. What content-visibility leaves out while it is far from
// the screen counts as visible: it is there once one scrolls to it.
func (p *Page) Text(selector string) string {
	p.t.Helper()
	text, seen, err := p.see(selector)
	if err != nil {
		p.t.Fatalf("reading %s: %v", selector, err)
	}
	if !seen {
		p.t.Fatalf("%s is not to be seen; the page says %s%s", selector, p.all(), p.troubleSoFar())
	}
	return text
}

// see returns the visible text of the first element, and whether the element is to
// be seen at all. innerText alone would not do: of an element that is hidden it is
// everything that stands in it.
func (p *Page) see(selector string) (text string, seen bool, err error) {
	got, err := ask[struct {
		Text string `json:"text"`
		Seen bool   `json:"seen"`
	}](p, fmt.Sprintf(seeText, selector))
	return strings.TrimSpace(got.Text), got.Seen, err
}

const seeText = `(e => {
	const shown = {visibilityProperty: true}, laidOut = {contentVisibilityAuto: true};
	if (!e || !e.checkVisibility(shown)) return {text: "", seen: false};
	let text = "", whole = true;
	const walk = document.createTreeWalker(e, NodeFilter.SHOW_TEXT);
	while (walk.nextNode()) {
		const parent = walk.currentNode.parentElement;
		if (!parent.checkVisibility(shown)) continue;
		text += walk.currentNode.data;
		whole &&= parent.checkVisibility(laidOut);
	}
	return {text: whole ? e.innerText : text, seen: true}; // what is not laid out has no innerText
})(document.querySelector(%q))`

// all is what the page says, for a failure.
func (p *Page) all() string { text, _, _ := p.see("body"); return text }

// Value returns what is in a field.
func (p *Page) Value(selector string) string {
	p.t.Helper()
	return Eval[string](p, fmt.Sprintf(`document.querySelector(%q).value`, selector))
}

// WaitValue waits until the field holds the text: what the page writes into it
// comes a moment after what was pressed.
func (p *Page) WaitValue(selector, text string) {
	p.t.Helper()
	var got string
	var err error
	p.until(func() bool {
		got, err = ask[string](p, fmt.Sprintf(`document.querySelector(%q).value`, selector))
		return err == nil && got == text
	}, func() string {
		if err != nil {
			return fmt.Sprintf("%s to hold %q; asking fails: %v", selector, text, err)
		}
		return fmt.Sprintf("%s to hold %q; it holds %q", selector, text, got)
	})
}

// WaitText waits until the first element is to be seen and its visible text
// contains the text.
func (p *Page) WaitText(selector, text string) {
	p.t.Helper()
	p.waitText(selector, "to say", text, true)
}

// WaitNoText waits until the first element is to be seen and its visible text does
// not contain the text.
func (p *Page) WaitNoText(selector, text string) {
	p.t.Helper()
	p.waitText(selector, "not to say", text, false)
}

func (p *Page) waitText(selector, how, text string, want bool) {
	p.t.Helper()
	var says string
	var seen bool
	var err error
	p.until(func() bool {
		says, seen, err = p.see(selector)
		return seen && strings.Contains(says, text) == want
	}, func() string {
		switch {
		case err != nil:
			return fmt.Sprintf("%s %s %q; asking fails: %v", selector, how, text, err)
		case !seen:
			return fmt.Sprintf("%s %s %q; it is not to be seen, and the page says %s", selector, how, text, p.all())
		}
		return fmt.Sprintf("%s %s %q; it says %q", selector, how, text, says)
	})
}

// WaitGone waits until no element of the selector is to be seen, on a page where
// the program runs.
func (p *Page) WaitGone(selector string) {
	p.t.Helper()
	p.Wait(selector+" to be gone", fmt.Sprintf(`document.querySelector("#main > *") && ![...document.querySelectorAll(%q)].some(e => e.checkVisibility())`, selector))
}

// Wait waits until the JavaScript expression is true; what names it in a failure.
func (p *Page) Wait(what, expression string) {
	p.t.Helper()
	p.wait(what, expression, func() string { return "the page says " + p.all() })
}

// wait says in a failure what seen tells then.
func (p *Page) wait(what, expression string, seen func() string) {
	p.t.Helper()
	var trouble error // of the last try
	p.until(func() bool {
		ok, err := ask[bool](p, "!!("+expression+")")
		trouble = err
		return err == nil && ok
	}, func() string {
		if trouble != nil {
			return what + "; asking fails: " + trouble.Error()
		}
		return what + "; " + seen()
	})
}

// WaitKept waits until the database holds a job with all parts in it; what names it in a
// failure.
func (p *Page) WaitKept(what string, parts ...string) {
	p.t.Helper()
	var texts []string
	var err error
	p.until(func() bool {
		texts, err = ask[[]string](p, "twoneedles.store.all().then(all => all.texts)")
		return err == nil && slices.ContainsFunc(texts, func(text string) bool {
			return !slices.ContainsFunc(parts, func(part string) bool { return !strings.Contains(text, part) })
		})
	}, func() string { return fmt.Sprintf("%s with %q; kept are %q (%v)", what, parts, texts, err) })
}

// WaitRunning waits until the program has put a place on the screen.
func (p *Page) WaitRunning() {
	p.t.Helper()
	const now = `document.querySelector("#shell-failed:not([hidden])") ? "failed" :
		document.getElementById("shell-failed") && !document.querySelector("#shell-loading, #shell-early") && document.querySelector("#main > *") ? "running" : ""`
	var state string
	p.until(func() bool {
		state, _ = ask[string](p, now) // of a page that is being left there is none
		return state != ""
	}, func() string { return "the program to run; the page says " + p.all() })
	if state != "running" {
		p.t.Fatalf("the program does not run: %s\n%s%s", p.all(), Eval[string](p, `document.getElementById("shell-detail")?.value || ""`), p.troubleSoFar())
	}
}

// WaitPlace waits until the place is the one on the screen, by its id: "readings",
// "job".
func (p *Page) WaitPlace(id string) {
	p.t.Helper()
	p.Wait("the place "+id, fmt.Sprintf(`document.querySelector(".shell[data-place=%[1]s] #main #title") && (!document.querySelector("#nav-%[1]s") || document.querySelector("#nav-%[1]s[aria-current=page]"))`, id))
}

// WaitOffline waits until the site is stored and works without network.
func (p *Page) WaitOffline() {
	p.t.Helper()
	p.wait("the site to be stored", `window.twoneedles && twoneedles.offline === "ready"`, p.shellState)
}

// shellState is what the shell and its workers say of themselves, for a failure.
func (p *Page) shellState() string {
	const state = `(async () => {
		const is = (worker) => worker ? worker.state : "none", serviceWorker = navigator.serviceWorker;
		const soon = (promise) => Promise.race([promise, new Promise(done => setTimeout(done, 3000, "not back"))]);
		const r = await soon(serviceWorker.getRegistration(twoneedles.base));
		return JSON.stringify({version: twoneedles.version, update: twoneedles.update, offline: twoneedles.offline, language: twoneedles.language,
			controller: is(serviceWorker.controller), registered: !!r, installing: is(r?.installing), waiting: is(r?.waiting), active: is(r?.active),
			asking: r?.update && await soon(r.update().then(() => "fine", String)),
			stores: await soon(caches.keys().then(names => Promise.all(names.map(async name => [name, (await (await caches.open(name)).keys()).length]))))});
	})()`
	said, err := ask[string](p, state)
	if err != nil {
		said = err.Error()
	}
	return said + p.troubleSoFar()
}

// Eval evaluates a JavaScript expression, a promise included.
func Eval[T any](p *Page, expression string) T {
	p.t.Helper()
	v, err := ask[T](p, expression)
	if err != nil {
		p.t.Fatalf("evaluating %s: %v", expression, err)
	}
	return v
}

// ask is [Eval] for who tries again: a page that is just loading cannot be asked.
func ask[T any](p *Page, expression string) (T, error) {
	var v T
	value, err := p.tab.eval(expression)
	if err != nil {
		return v, err
	}
	if len(value) == 0 || string(value) == "null" {
		return v, errNothing
	}
	return v, json.Unmarshal(value, &v)
}

var errNothing = errors.New("it is null or undefined")

// Run runs JavaScript and forgets the result.
func (p *Page) Run(script string) {
	p.t.Helper()
	if _, err := p.tab.eval(script); err != nil {
		p.t.Fatalf("running %s: %v", script, err)
	}
}

// did fails the test if what was done could not be.
func (p *Page) did(what string, err error) {
	p.t.Helper()
	if err != nil {
		p.t.Fatalf("%s: %v", what, err)
	}
}

func (p *Page) until(done func() bool, what func() string) {
	p.t.Helper()
	for end := time.Now().Add(p.patience); !done(); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			p.t.Fatalf("waited %v for %s%s", p.patience, what(), p.troubleSoFar())
		}
	}
}

// ExpectTrouble says that this page is meant to get into trouble.
func (p *Page) ExpectTrouble() { p.expected = true }

// Trouble returns the uncaught exceptions, console errors and violations of the
// content security policy so far, each once, unless they are expected.
func (p *Page) Trouble() []string {
	trouble := p.gather()
	if p.expected {
		return nil
	}
	return trouble
}

// gather adds what the browser has heard to what was heard before.
func (p *Page) gather() []string {
	for _, trouble := range p.tab.heard() {
		if !slices.Contains(p.trouble, trouble) {
			p.trouble = append(p.trouble, trouble)
		}
	}
	return slices.Clone(p.trouble)
}

// forget forgets all trouble so far.
func (p *Page) forget() { p.gather(); p.trouble = nil }

// lastTrouble is [Page.Trouble] after what the page has sent is heard.
func (p *Page) lastTrouble() []string {
	// A page that is closed, or busy for ever, has nothing more to send.
	_, _ = p.tab.eval("true")
	return p.Trouble()
}

func (p *Page) troubleSoFar() string {
	trouble := p.gather()
	if len(trouble) == 0 {
		return ""
	}
	return "\ntrouble so far:\n" + strings.Join(trouble, "\n")
}
