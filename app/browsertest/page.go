package browsertest

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// Page is a tab.
type Page struct {
	t      testing.TB
	ctx    context.Context
	cancel context.CancelFunc

	watching bool // starts are measured

	mu       sync.Mutex
	trouble  []string
	expected bool
}

// Open opens a new tab on the address and returns when the document has loaded,
// which is before the program runs: wait for a text.
func (b *Browser) Open(url string) *Page {
	b.t.Helper()
	p := &Page{t: b.t}
	p.ctx, p.cancel = chromedp.NewContext(b.ctx, chromedp.WithListener(p.hear))
	if err := chromedp.Do(p.ctx); err != nil { // without a time limit: see Browser.start
		b.t.Fatalf("opening a tab: %v", err)
	}
	b.t.Cleanup(func() {
		complain := b.t.Errorf
		if _, measuring := b.t.(*testing.B); measuring {
			complain = b.t.Logf // a failed benchmark would keep its numbers to itself
		}
		for _, trouble := range p.Trouble() {
			complain("trouble in the page: %s", trouble)
		}
	})
	p.Go(url)
	return p
}

// Close closes the tab.
func (p *Page) Close() { p.cancel() }

// Go navigates to the address.
func (p *Page) Go(url string) { p.t.Helper(); p.do("going to "+url, chromedp.Navigate(url)) }

// Reload loads the page again.
func (p *Page) Reload() { p.t.Helper(); p.do("reloading", chromedp.Reload()) }

// Back goes back in the history.
func (p *Page) Back() { p.t.Helper(); p.Run("history.back()") }

// Click waits for the element to be there, brings it into view and clicks its
// middle, or taps it when the screen is one for touch: a mouse event either way.
func (p *Page) Click(selector string) {
	p.t.Helper()
	p.Wait(selector+" to be visible", fmt.Sprintf(`(document.querySelector(%q) || {getClientRects: () => []}).getClientRects().length`, selector))
	middle := Eval[[2]float64](p, fmt.Sprintf(`(() => {
		const e = document.querySelector(%q);
		e.scrollIntoView({block: "nearest", inline: "nearest", behavior: "instant"});
		const r = e.getBoundingClientRect();
		return [r.x + r.width / 2, r.y + r.height / 2];
	})()`, selector))
	// The browser answers when the page has dealt with the click, and never when
	// the click has made the page go away: what follows will show which.
	ctx, done := context.WithTimeout(p.ctx, Patience/6)
	defer done()
	err := chromedp.Do(ctx, chromedp.MouseClickXY(middle[0], middle[1]))
	if err != nil && !errors.Is(err, context.DeadlineExceeded) {
		p.t.Fatalf("clicking %s: %v", selector, err)
	}
}

// Focus puts the focus into a field and selects what is in it.
func (p *Page) Focus(selector string) {
	p.t.Helper()
	p.Wait(selector+" to be there", fmt.Sprintf("document.querySelector(%q)", selector))
	p.Run(fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.focus(); e.select(); })()`, selector))
}

// Type puts the text into a field in the place of what is there, key by key.
func (p *Page) Type(selector, text string) {
	p.t.Helper()
	p.Focus(selector)
	if text == "" {
		text = "\b"
	}
	p.Keys(text)
}

// Keys presses keys wherever the focus is; package kb of chromedp has those that
// write nothing, such as kb.Tab and kb.ArrowUp.
func (p *Page) Keys(keys string) {
	p.t.Helper()
	p.do(fmt.Sprintf("pressing %q", keys), chromedp.KeyEvent(keys))
}

// Text returns the visible text of the first element, or "" where there is none.
// What content-visibility leaves out while it is far from the screen counts as
// visible: it is there once one scrolls to it.
func (p *Page) Text(selector string) string {
	p.t.Helper()
	return Eval[string](p, fmt.Sprintf(`(e => !e ? "" : e.checkVisibility() && !e.checkVisibility({contentVisibilityAuto: true}) ?
		e.textContent : e.innerText)(document.querySelector(%q))`, selector))
}

// Value returns what is in a field.
func (p *Page) Value(selector string) string {
	p.t.Helper()
	return Eval[string](p, fmt.Sprintf(`document.querySelector(%q).value`, selector))
}

// WaitText waits until the visible text of the first element contains the text.
func (p *Page) WaitText(selector, text string) {
	p.t.Helper()
	var seen string
	p.until(func() bool { seen = p.Text(selector); return strings.Contains(seen, text) },
		func() string { return fmt.Sprintf("%s to say %q; it says %q", selector, text, seen) })
}

// WaitNoText waits until the visible text of the first element no longer contains
// the text.
func (p *Page) WaitNoText(selector, text string) {
	p.t.Helper()
	var seen string
	p.until(func() bool { seen = p.Text(selector); return !strings.Contains(seen, text) },
		func() string { return fmt.Sprintf("%s not to say %q; it says %q", selector, text, seen) })
}

// Wait waits until the JavaScript expression is true; what names it in a failure.
func (p *Page) Wait(what, expression string) {
	p.t.Helper()
	var trouble error // of the last try: a page that is just loading cannot be asked
	p.until(func() bool {
		ctx, done := context.WithTimeout(p.ctx, Patience)
		defer done()
		ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("!!("+expression+")", chromedp.EvalAwaitPromise))
		trouble = err
		return err == nil && ok
	}, func() string {
		if trouble != nil {
			return what + "; asking fails: " + trouble.Error()
		}
		return what + "; the page says " + p.Text("body")
	})
}

// ClickAway clicks what loads the page anew and waits for the new one.
func (p *Page) ClickAway(selector string) {
	p.t.Helper()
	p.Run("window.left = true")
	p.Click(selector)
	p.Wait("a new page after "+selector, "!window.left && document.body")
}

// WaitRunning waits until the program has taken over from the loading state.
func (p *Page) WaitRunning() {
	p.t.Helper()
	p.Wait("the program to run", `document.body && document.getElementById("shell-failed") && !document.getElementById("shell-loading")`)
	if Eval[bool](p, `document.getElementById("shell-failed")?.hidden === false`) {
		p.t.Fatalf("the program does not run: %s\n%s%s", p.Text("#shell-failed"), p.Value("#shell-detail"), p.troubleSoFar())
	}
}

// WaitOffline waits until the site is stored and works without network.
func (p *Page) WaitOffline() {
	p.t.Helper()
	p.Wait("the site to be stored", `window.twoneedles && twoneedles.offline === "ready"`)
}

// Path returns the address without host, query and fragment.
func (p *Page) Path() string { p.t.Helper(); return Eval[string](p, "location.pathname") }

// Eval evaluates a JavaScript expression, a promise included.
func Eval[T any](p *Page, expression string) T {
	p.t.Helper()
	ctx, done := context.WithTimeout(p.ctx, Patience)
	defer done()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatalf("evaluating %s: %v", expression, err)
	}
	return v
}

// Run runs JavaScript and forgets the result.
func (p *Page) Run(script string) { p.t.Helper(); Eval[chromedp.Void](p, script) }

// Do runs actions of chromedp that this package has no word for.
func (p *Page) Do(what string, actions ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	p.do(what, actions...)
}

func (p *Page) do(what string, actions ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, done := context.WithTimeout(p.ctx, Patience)
	defer done()
	if err := chromedp.Do(ctx, actions...); err != nil {
		p.t.Fatalf("%s: %v", what, err)
	}
}

func (p *Page) until(done func() bool, what func() string) {
	p.t.Helper()
	for end := time.Now().Add(Patience); !done(); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			p.t.Fatalf("waited %v for %s%s", Patience, what(), p.troubleSoFar())
		}
	}
}

// ExpectTrouble says that this page is meant to get into trouble.
func (p *Page) ExpectTrouble() { p.mu.Lock(); p.expected = true; p.mu.Unlock() }

// Trouble returns the uncaught exceptions, console errors and violations of the
// content security policy so far, each once, unless they are expected.
func (p *Page) Trouble() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.expected {
		return nil
	}
	return slices.Clone(p.trouble)
}

func (p *Page) troubleSoFar() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	if len(p.trouble) == 0 {
		return ""
	}
	return "\ntrouble so far:\n" + strings.Join(p.trouble, "\n")
}

// hear runs in chromedp's reading loop and only writes down.
func (p *Page) hear(event any) {
	var trouble string
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		trouble = "exception: " + e.ExceptionDetails.Text
		if e.ExceptionDetails.Exception != nil {
			trouble += " " + e.ExceptionDetails.Exception.Description
		}
	case *runtime.EventConsoleAPICalled:
		if e.Type != runtime.ConsoleAPICalledTypeError {
			return
		}
		trouble = "console.error:"
		for _, arg := range e.Args {
			trouble += " " + string(arg.Value) + arg.Description
		}
	case *log.EventEntryAdded:
		// A request that fails for want of network is the subject of many tests.
		if e.Entry.Level != log.EntryLevelError || e.Entry.Source == log.EntrySourceNetwork {
			return
		}
		trouble = string(e.Entry.Source) + ": " + e.Entry.Text + " " + e.Entry.URL
	default:
		return
	}
	p.mu.Lock()
	if !slices.Contains(p.trouble, trouble) {
		p.trouble = append(p.trouble, trouble)
	}
	p.mu.Unlock()
}
