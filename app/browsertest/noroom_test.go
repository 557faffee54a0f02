//go:build !js

package browsertest

import (
	"context"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"
)

// setRoom says how many bytes the browser has for the database of the site; negative is
// as many as ever.
func (p *Page) setRoom(bytes float64) {
	p.t.Helper()
	origin := Eval[string](p, "origin")
	p.call("setting the room", func(ctx context.Context) error {
		room := storage.OverrideQuotaForOriginParams{Origin: origin}
		if bytes >= 0 {
			room.QuotaSize = &bytes
		}
		_, err := chromedp.Call(ctx, storage.OverrideQuotaForOrigin, room)
		return err
	})
}

// fillSmall fills the small store to its last character.
const fillSmall = `for (let size = 1 << 23, n = 0; size; size >>= 1)
	for (;;) try { localStorage.setItem("someone.elses" + n, "x".repeat(size)); n++ } catch { break }`

const emptySmall = `Object.keys(localStorage).filter(key => key.startsWith("someone.elses")).forEach(key => localStorage.removeItem(key))`

// Without room what is typed stays on the page, the page says what happened and hands out
// a file; with room again it is kept. The browser's own refusals, not ours.
func TestNoRoom(t *testing.T) {
	OnlyIn(t, "the room of a site is set in its own protocol", "chromium")
	server := Serve(t, Site(t), "/")
	browser := Launch(t)
	room := browser.Open(server.URL + "licences.txt") // what is set holds as long as the tab is there
	room.setRoom(1)
	p := browser.Open(server.URL)
	p.WaitRunning()
	p.Type("#low", "27")
	p.WaitText("#banner", "keeps no more jobs")
	p.Wait("a file of everything to be offered", `!!document.querySelector("#banner-backup")`)
	p.Type("#high", "211")
	p.Close() // the spare place has it, and it is said again
	p = browser.Open(server.URL)
	p.holds("27")
	p.WaitText("#banner", "keeps no more jobs")
	p.Run(fillSmall)
	p.Type("#low", "26")
	p.WaitText("#banner", "no room left")
	p.WaitText("#banner", "save the job as a file")
	p.Run(keepFile)
	p.Click("#banner-export")
	p.Wait("a file", "window.taken")
	if file := Eval[string](p, "window.taken.text()"); !strings.Contains(file, `"26"`) {
		t.Errorf("the file holds %.300s", file)
	}
	p.Type("#low", "25")
	p.Click("#nav-job")
	p.WaitText("#unsaved", "not kept on this device")
	p.Type("#job-title", "Blue van (invented)")
	p.Click("#nav-readings")
	p.WaitPlace("readings")
	p.holds("25")

	room.setRoom(-1)
	p.Type("#high", "212")
	p.WaitKept("all of it", `"25"`, `"212"`, "Blue van")
	p.Wait("no word of it any more", `document.querySelector("#banner").textContent === ""`)
	p.Click("#nav-job")
	p.WaitPlace("job")
	p.WaitGone("#unsaved")
	p.Run(emptySmall)
	p.Close()
	p = browser.Open(server.URL)
	p.WaitRunning()
	p.WaitValue("#low", "25")
	p.WaitValue("#high", "212")
}

// What is cleared under the page stays on the screen and is kept again; other jobs are
// named, and kept again when somebody says so.
func TestClearedUnderThePage(t *testing.T) {
	OnlyIn(t, "clearing by the browser is asked for in its own protocol", "chromium")
	server, browser, p := started(t)
	p.WaitKept("the job", `"211"`)
	byBrowser := func() {
		origin := Eval[string](p, "origin")
		p.call("clearing the site's data", func(ctx context.Context) error {
			_, err := chromedp.Call(ctx, storage.ClearDataForOrigin, storage.ClearDataForOriginParams{Origin: origin, StorageTypes: "indexeddb,local_storage"})
			return err
		})
	}
	byScript := func() {
		p.Run(`localStorage.clear(); new Promise(done => { const r = indexedDB.deleteDatabase("twoneedles"); r.onsuccess = r.onerror = done; })`)
	}
	silently := func() { // the page is not told
		p.Run(`localStorage.clear(); new Promise(done => { const r = indexedDB.open("twoneedles"); r.onsuccess = () => {
			const tx = r.result.transaction("jobs", "readwrite"); tx.objectStore("jobs").clear(); tx.oncomplete = () => { r.result.close(); done(); }; }; })`)
	}

	byScript() // there is one job: kept again at once, and nothing is lost
	p.WaitKept("the job again", `"31"`, `"211"`)
	if n := Eval[int](p, `document.querySelectorAll("#dismiss").length`); n != 0 {
		t.Errorf("nothing was lost, and it says %s", p.Text("#banner"))
	}
	byBrowser()
	p.WaitKept("the job again", `"31"`, `"211"`)

	p.Click("#start-empty")
	p.WaitValue("#low", "")
	p.Type("#low", "44")
	p.Type("#high", "230")
	p.WaitKept("a second job", `"44"`, `"230"`)
	for _, c := range []struct {
		how   string
		clear func()
	}{{"by a script", byScript}, {"by the browser", byBrowser}, {"silently", silently}} {
		c.clear()
		if c.how == "silently" {
			p.Type("#low", "45")
		}
		p.WaitText("#banner", "deleted while it was open")
		p.WaitText("#banner", "Others (1)")
		p.WaitKept(c.how+": the job on screen", `"230"`)
		if kept := Eval[string](p, "twoneedles.store.all().then(all => all.texts.join())"); strings.Contains(kept, `"211"`) {
			t.Errorf("%s: what somebody deleted is kept again unasked", c.how)
		}
		p.Click("#banner-keep")
		p.WaitGone("#dismiss")
		p.WaitKept(c.how+": the other", `"31"`, `"211"`)
	}
	p.Close()
	p = browser.Open(server.URL)
	p.WaitRunning()
	p.WaitValue("#low", "45")
	if list := p.jobs(); !strings.Contains(list, "31 and 211") || !strings.Contains(list, "45 and 230") {
		t.Errorf("the list says %s", list)
	}
}
