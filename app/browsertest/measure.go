//go:build !js

package browsertest

import (
	"context"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// Start is when things happened after a navigation began.
type Start struct {
	Paint   time.Duration // first text of the page
	Fields  time.Duration // the first field of Readings can be typed in
	Running time.Duration // the program has put its page on the screen
}

// MeasureStart goes to the address and returns when things happened.
func (p *Page) MeasureStart(url string) Start {
	p.t.Helper()
	if !p.watching {
		p.call("watching starts", func(ctx context.Context) error {
			_, err := chromedp.Call(ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: watchStart})
			return err
		})
		p.watching = true
	}
	p.Go(url)
	p.WaitRunning()
	p.Wait("the start to be measured", "window.startedAt")
	times := Eval[[3]float64](p, `[performance.getEntriesByName("first-contentful-paint")[0].startTime, window.fieldsAt || startedAt, startedAt]`)
	return Start{millis(times[0]), millis(times[1]), millis(times[2])}
}

// afterPaint calls back when the next frame has been drawn.
const afterPaint = `(then) => requestAnimationFrame(() => {
	const c = new MessageChannel(); c.port1.onmessage = then; c.port2.postMessage(0); })`

const watchStart = `(() => {
	const watch = new MutationObserver(() => {
		if (document.getElementById("low")?.checkVisibility()) (` + afterPaint + `)(() => { window.fieldsAt ||= performance.now(); });
		if (!document.getElementById("shell-failed") || document.querySelector("#shell-loading, #shell-early")) return;
		watch.disconnect();
		(` + afterPaint + `)(() => { window.startedAt = performance.now(); });
	});
	watch.observe(document, {childList: true, subtree: true});
})()`

// Key is what one keystroke took, from the browser's input event to the frame
// that shows the last change it made: to the answer and, where it is on the screen, the
// pressure plane, and to anything in the page: the next measurement and the reasons follow in a second
// piece. Zero means that nothing changed.
type Key struct{ Answer, All time.Duration }

// MeasureKey presses one key in the field that has the focus. A change counts as
// the key's when it comes within half a second of the one before.
func (p *Page) MeasureKey(key string) Key {
	p.t.Helper()
	p.Run(`void (window.measured = new Promise(done => {
		let start = 0, last = 0, answer = 0;
		addEventListener("input", e => { start = last = e.timeStamp; }, {capture: true, once: true});
		const onScreen = id => { const box = document.getElementById(id)?.getBoundingClientRect(); return box && box.bottom > 0 && box.top < innerHeight; };
		const picture = onScreen("picture"); // looked up now: in the midst of a change it would cost a layout
		const within = (r, id) => document.getElementById(id)?.contains(r.target);
		const watch = new MutationObserver(records => {
			const ours = records.some(r => picture && within(r, "plane-frame") ||
				within(r, "answer") && !within(r, "reasons"));
			(` + afterPaint + `)(() => { last = performance.now(); if (ours) answer = last; });
		});
		watch.observe(document.body, {childList: true, subtree: true, attributes: true, characterData: true});
		const timer = setInterval(() => {
			if (!start || performance.now() - last < 500) return;
			clearInterval(timer); watch.disconnect();
			done([answer ? answer - start : 0, last - start]);
		}, 50);
	}))`)
	p.Keys(key)
	ms := Eval[[]float64](p, "window.measured")
	return Key{millis(ms[0]), millis(ms[1])}
}

func millis(ms float64) time.Duration { return time.Duration(ms * float64(time.Millisecond)) }
