//go:build !js

package browsertest

import "testing"

// What a browser does not have, as the one inside another app, is hidden, or what it was
// for is done another way and said. An exception would be trouble in the page.
func TestMissingParts(t *testing.T) {
	OnlyIn(t, "scripts ahead of the page's own are asked for in its own protocol", "chromium")
	server, browser := Serve(t, Site(t), "/"), Launch(t)
	const (
		noClipboard = `delete Navigator.prototype.clipboard;`
		noSheet     = `delete Navigator.prototype.share;`
		noPrint     = `window.print = undefined;`
		noNotices   = `delete window.Notification;`
	)
	// handOn hands the readings on and returns what is said of it.
	handOn := func(p *Page) {
		p.Run(`document.querySelector("#keep").open = true`)
		p.Click("#share")
	}
	byHand := func(p *Page) {
		handOn(p)
		p.WaitText("#share-said", "did not allow copying")
		p.Wait("the link, in hand", `document.activeElement.id === "share-link" && document.activeElement.value.includes("#j")`)
	}
	copied := func(p *Page) {
		handOn(p)
		p.WaitText("#share-said", "opied")
		p.Wait("the link to be copied", `window.copied.includes("#j")`)
	}
	holdTest := func(p *Page) {
		p.Click("#nav-job")
		p.WaitPlace("job")
		p.open("evacuate")
		p.Click("#hold-start")
		p.WaitText("#hold-time-now", "Type what the gauge shows")
		p.Type("#hold-pressure-0", "480")
		p.WaitText("#hold-time-now", "Next reading at 2 min")
	}
	noPaper := func(p *Page) {
		p.Run(`document.querySelector("#keep").open = true`)
		p.WaitText("#share", "")
		p.WaitGone("#print")
		p.Click("#nav-tell")
		p.WaitPlace("tell")
		p.WaitText("#tell-share", "")
		p.WaitGone("#tell-print")
	}
	for _, c := range []struct {
		lacks, script string
		then          []func(*Page)
	}{
		{"nothing, but the sheet throws", `Navigator.prototype.share = () => { throw new TypeError("no such sheet"); };
			Object.defineProperty(Navigator.prototype, "clipboard", {value: {writeText: text => (window.copied = text, Promise.resolve())}});`, []func(*Page){copied}},
		{"a clipboard and a sheet", noClipboard + noSheet, []func(*Page){byHand}},
		{"a way to write to the clipboard", noSheet + `Object.defineProperty(Navigator.prototype, "clipboard", {value: {}});`, []func(*Page){byHand}},
		{"leave to write to the clipboard", noSheet + `Object.defineProperty(Navigator.prototype, "clipboard", {value: {writeText: () => Promise.reject(new DOMException("no", "NotAllowedError"))}});`, []func(*Page){byHand}},
		{"notifications", noNotices, []func(*Page){holdTest}},
		{"leave to notify", `Notification.requestPermission = () => Promise.reject(new TypeError("no"));`, []func(*Page){holdTest}},
		{"notifications that promise", `Notification.requestPermission = () => undefined;`, []func(*Page){holdTest}},
		{"paper", noPrint, []func(*Page){noPaper}},
		{"all of them and more", noClipboard + noSheet + noPrint + noNotices + `
			for (const name of ["serviceWorker", "storage", "vibrate", "wakeLock", "connection"]) delete Navigator.prototype[name];
			delete window.caches; delete window.BroadcastChannel; delete window.indexedDB;`, []func(*Page){byHand, holdTest, noPaper}},
	} {
		t.Run(c.lacks, func(t *testing.T) {
			p := browser.Open(server.URL + "licences.txt")
			p.t = t
			defer p.Close()
			p.before(c.script)
			p.Go(server.URL)
			p.WaitRunning()
			if Eval[bool](p, `!!document.querySelector("#start-empty")`) {
				p.Click("#start-empty")
			}
			p.read("31", "211", "90")
			p.waitAnswer()
			for _, then := range c.then {
				p.Click("#nav-readings")
				p.WaitPlace("readings")
				then(p)
			}
			for _, trouble := range p.lastTrouble() {
				t.Errorf("trouble in the page: %s", trouble)
			}
		})
	}
}
