//go:build !js

package browsertest

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// started is a first visit with two needles typed.
func started(t *testing.T) (*Server, *Browser, *Page) {
	t.Helper()
	server := Serve(t, Site(t), "/")
	browser := Launch(t)
	p := browser.Open(server.URL)
	p.WaitRunning()
	p.WaitOffline()
	p.Type("#low", "31")
	p.Type("#high", "211")
	return server, browser, p
}

// holds waits until a page that was opened anew shows what was typed.
func (p *Page) holds(low string) {
	p.t.Helper()
	p.WaitRunning()
	p.WaitValue("#low", low)
	p.WaitValue("#high", "211")
}

// before runs a script in every document of the tab from now on, ahead of its own.
func (p *Page) before(script string) {
	p.t.Helper()
	p.call("adding a script", func(ctx context.Context) error {
		_, err := chromedp.Call(ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
		return err
	})
}

// crash ends the tab's process.
func (p *Page) crash() {
	p.call("crashing", func(ctx context.Context) error {
		ctx, done := context.WithTimeout(ctx, time.Second)
		defer done()
		_, _ = chromedp.Call(ctx, page.Crash, cdp.Empty{}) // a dead tab does not answer
		return nil
	})
}

// jobs are the needles of the jobs in the list.
func (p *Page) jobs() string {
	p.t.Helper()
	p.Click("#to-jobs")
	p.WaitPlace("jobs")
	return Eval[string](p, `[...document.querySelectorAll("#jobs li")].map(e => e.innerText).join("\n")`)
}

// A tab that is killed right after a key has the key; so has a browser that is killed.
func TestKilledRightAfterAKey(t *testing.T) {
	OnlyIn(t, "a tab is killed in its own protocol", "chromium")
	server, browser, p := started(t)
	p.Focus("#low")
	p.Keys("27")
	p.crash()
	p = browser.Open(server.URL)
	p.holds("27")

	p.Type("#low", "24")
	p.WaitKept("the key", `"24"`) // some milliseconds; the browser writes the note to disk much later
	browser.Kill()
	p = browser.Relaunch().Open(server.URL)
	p.holds("24")
	p.Wait("no note to stay", "!Object.keys(localStorage).some(key => key.startsWith('twoneedles.typed.'))")
}

// A window shows what another types, and where neither heard of the other both are kept.
func TestTwoWindowsLoseNothing(t *testing.T) {
	server, browser, a := started(t)
	a.WaitKept("the job", `"31"`, `"211"`)
	b := browser.Open(server.URL)
	b.holds("31")
	loseNothing(t, a, b)
}

// loseNothing types into two windows that show the same job.
func loseNothing(t *testing.T, a, b *Page) {
	t.Helper()
	a.Type("#low", "33")
	b.WaitValue("#low", "33")
	b.Type("#low", "34")
	a.WaitValue("#low", "34")

	b.Run("twoneedles.store.listen(() => {})") // hears nothing
	a.Type("#low", "41")
	a.WaitKept("what a typed", `"41"`)
	b.Type("#low", "51")
	b.WaitText("#banner", "changed in another window")
	b.WaitKept("what b typed", `"51"`)
	b.WaitValue("#low", "51")
	a.WaitValue("#low", "41")
	if list := a.jobs(); !strings.Contains(list, "41") || !strings.Contains(list, "51") {
		t.Errorf("the list says %s", list)
	}
}

// So it is while one window is of an older version of the page than the other.
func TestTwoVersionsLoseNothing(t *testing.T) {
	server, browser, old := started(t)
	old.WaitOffline()
	old.Reload() // from the store
	old.holds("31")
	old.WaitKept("the job", `"31"`, `"211"`)
	offerNext(t, server, old)
	next := browser.Open(server.URL)
	next.holds("31")
	next.takeUpdate()
	next.holds("31")
	wantEdition(t, next, "next")
	wantEdition(t, old, "first")
	loseNothing(t, next, old)
}

// A database that does not open hides jobs: that is said, and what is typed meanwhile
// joins them.
func TestDatabaseShut(t *testing.T) {
	OnlyIn(t, "a script ahead of the page's own is asked for in its own protocol", "chromium")
	server, browser, p := started(t)
	p.WaitKept("the job", `"211"`)
	p.Close()
	p = browser.Open(server.URL + "licences.txt")
	p.before(`IDBFactory.prototype.open = () => { throw new DOMException("broken", "UnknownError"); };`)
	p.Go(server.URL)
	p.WaitRunning()
	p.WaitText("#banner", "cannot be reached")
	p.Type("#low", "19")
	p.Type("#high", "190")
	p.Close()
	p = browser.Open(server.URL)
	p.WaitRunning()
	p.WaitValue("#low", "19")
	if list := p.jobs(); !strings.Contains(list, "31") || !strings.Contains(list, "19") {
		t.Errorf("the list says %s", list)
	}
}

// Whatever stands in both stores, the page runs and keeps what is typed.
func TestStoresFullOfRubbish(t *testing.T) {
	server, browser, p := started(t)
	p.WaitKept("the job", `"211"`)
	p.Run(`(async () => {
		const rubbish = [null, 7, "{", "e1\t\t\t", {text: 7}, {text: "{}", by: 3, seq: "x"}, [1], new Date(), new Blob(["x"]), "x".repeat(1 << 20)];
		const db = await new Promise(done => { const r = indexedDB.open("twoneedles"); r.onsuccess = () => done(r.result); });
		const tx = db.transaction("jobs", "readwrite");
		rubbish.forEach((it, i) => { tx.objectStore("jobs").put(it, "twoneedles.job.r" + i); tx.objectStore("jobs").put(it, i); });
		await new Promise(done => tx.oncomplete = done);
		db.close();
		for (const key of ["job.x", "job.", "typed.", "typed.a.b", "typed.a.twoneedles.job.y", "database", "theme", "explore", "practice", "current.x"])
			localStorage.setItem("twoneedles." + key, '\u0000{"\ud800');
	})()`)
	p.Close()
	p = browser.Open(server.URL)
	p.holds("31")
	p.Type("#low", "28")
	p.WaitKept("the job", `"28"`)
	if list := p.jobs(); !strings.Contains(list, "28") || !strings.Contains(list, "cannot be read") {
		t.Errorf("the list says %.500s", list)
	}
	p.Close()
	browser.Open(server.URL).holds("28")
}

// A job that cannot be read, damaged or of a newer version, is named, handed out as it is
// and left where it is.
func TestUnreadableJobs(t *testing.T) {
	server, browser, p := started(t)
	p.WaitKept("the job", `"211"`)
	const rubbish = "\u0000\u0001half of {\"a\": job\nand more"
	texts := func() string {
		p.t.Helper()
		return Eval[string](p, `twoneedles.store.all().then(({keys, texts}) => JSON.stringify(keys.map((key, i) => [key, texts[i]]).filter(([key]) => key === window.damaged || key.endsWith(".newer")).sort()))`)
	}
	const damage = `twoneedles.store.all().then(({keys, texts, revs}) => {
		window.damaged = "twoneedles.job." + texts[keys.indexOf("twoneedles.current")];
		const [line, job] = texts[keys.indexOf(damaged)].split("\n"), by = {base: "*", tab: "elsewhere"};
		return twoneedles.store.change([{...by, key: damaged, text: %q, seq: 1},
			{...by, key: "twoneedles.job.newer", text: line + "\n" + JSON.stringify({...JSON.parse(job), version: 99, more: "of it"}), seq: 2}]);
	})`
	p.Run(fmt.Sprintf(damage, rubbish))
	before, damaged := texts(), Eval[string](p, "window.damaged")
	p.Close()
	p = browser.Open(server.URL)
	p.WaitRunning()
	p.WaitText("#banner", "open last cannot be read")
	p.WaitValue("#low", "")
	p.Type("#low", "28")
	p.WaitKept("another job", `"28"`)
	p.Click("#dismiss")
	p.Run(keepFile)
	p.jobs()
	p.WaitText("#jobs", "cannot be read")
	p.Click(fmt.Sprintf(`#jobs [data-job=%q] [data-do=raw]`, strings.TrimPrefix(damaged, "twoneedles.job.")))
	p.Wait("a file", "window.taken")
	if file := Eval[string](p, "window.taken.text()"); file != rubbish {
		t.Errorf("the file holds %q", file)
	}
	p.Run("window.taken = null")
	p.Click(`#jobs [data-job=newer] [data-do=open]`)
	p.WaitText("#jobs-said", "newer version")
	p.Click("#jobs-said + [data-do=raw]")
	p.Wait("a file", "window.taken")
	if more := Eval[string](p, "window.taken.text().then(text => JSON.parse(text).more)"); more != "of it" {
		t.Errorf("the file of the newer job holds %q", more)
	}
	p.Run(fmt.Sprintf("window.damaged = %q", damaged))
	if after := texts(); after != before || !strings.Contains(after, "of it") {
		t.Errorf("kept are now %s, before %s", after, before)
	}
}

// A database that a newer version of the page laid out is left as it is, and that is said.
func TestDatabaseOfANewerVersion(t *testing.T) {
	server, browser, p := started(t)
	p.WaitKept("the job", `"211"`)
	p.Run(`new Promise(done => { const r = indexedDB.open("twoneedles", 2); r.onsuccess = () => { r.result.close(); done(); }; })`)
	p.Type("#low", "29") // the newer version came while this one was open
	p.WaitText("#banner", "newer version")
	p.Close()
	p = browser.Open(server.URL)
	p.WaitRunning()
	p.WaitText("#banner", "newer version")
	p.Type("#low", "18")
	p.Close()
	p = browser.Open(server.URL)
	p.WaitRunning()
	p.WaitValue("#low", "18")
	kept := Eval[string](p, `new Promise(done => { const r = indexedDB.open("twoneedles"); r.onsuccess = () => {
		r.result.transaction("jobs").objectStore("jobs").getAll().onsuccess = (e) => { r.result.close(); done(JSON.stringify(e.target.result)); }; }; })`)
	if !strings.Contains(kept, `211`) || strings.Contains(kept, "18") && strings.Contains(kept, `\"18\"`) {
		t.Errorf("the newer database holds %s", kept)
	}
}

// A clock years off, either way, loses and overwrites nothing.
func TestClockYearsOff(t *testing.T) {
	OnlyIn(t, "a script ahead of the page's own is asked for in its own protocol", "chromium")
	server, browser, p := started(t)
	p.WaitKept("the job", `"211"`)
	for _, years := range []int{-27, 60} {
		p.Close()
		p = browser.Open(server.URL + "licences.txt")
		p.before(fmt.Sprintf(`{ const off = %d * 31557600e3, Own = Date, now = Own.now;
			Date = class extends Own { constructor(...a) { a.length ? super(...a) : super(now() + off); } static now() { return now() + off; } }; }`, years))
		p.Go(server.URL)
		p.holds("31")
		p.Click("#start-empty")
		p.WaitValue("#low", "")
		p.Type("#low", fmt.Sprint(100+years))
		p.WaitKept("a job of another time", fmt.Sprintf(`"%d"`, 100+years))
		list := p.jobs()
		if !strings.Contains(list, "31") || !strings.Contains(list, fmt.Sprint(100+years)) {
			t.Errorf("%d years off the list says %s", years, list)
		}
		p.Click(`#jobs li:not([aria-current]) [data-do=open]`)
		p.WaitPlace("job")
		p.Click("#nav-readings")
		p.WaitPlace("readings")
		if p.Value("#low") != "31" { // the one of the clock before
			p.Click("#to-jobs")
			p.WaitPlace("jobs")
			p.Type("#search", "")
			p.Click(`#jobs li:last-child [data-do=open]`)
			p.WaitPlace("job")
			p.Click("#nav-readings")
			p.WaitPlace("readings")
		}
	}
	p.Close()
	p = browser.Open(server.URL)
	p.WaitRunning()
	for _, low := range []string{"31", "73", "160"} {
		if list := p.jobs(); !strings.Contains(list, low) {
			t.Errorf("with the clock right again the list lacks %s: %s", low, list)
		}
	}
}
