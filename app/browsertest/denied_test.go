//go:build !js

package browsertest

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Where the browser keeps nothing, whichever way it says so, the page works as ever, says
// so once, and hands the job over as a file. An exception would be trouble in the page.
func TestNothingMayBeKept(t *testing.T) {
	OnlyIn(t, "scripts ahead of the page's own, and a profile's settings, are its own", "chromium")
	server := Serve(t, Site(t), "/")
	for _, c := range []struct{ how, script string }{
		{"the user's setting", ""},
		{"it throws at the name", `
			for (const name of ["localStorage", "sessionStorage"])
				Object.defineProperty(window, name, {get() { throw new DOMException("Access is denied for this document.", "SecurityError"); }});
			IDBFactory.prototype.open = () => { throw new DOMException("denied", "SecurityError"); };
			window.BroadcastChannel = class { constructor() { throw new DOMException("denied", "SecurityError"); } };`},
		{"it refuses each call", `
			for (const name of ["getItem", "setItem", "removeItem", "key", "clear"])
				Storage.prototype[name] = () => { throw new DOMException("denied", "SecurityError"); };
			IDBFactory.prototype.open = () => {
				const request = {error: new DOMException("A mutation operation was attempted on a database that did not allow mutations.", "InvalidStateError")};
				setTimeout(() => request.onerror());
				return request;
			};`},
	} {
		t.Run(c.how, func(t *testing.T) {
			browser := Launch(t)
			if c.script == "" {
				browser.Close()
				settings := filepath.Join(browser.profile, "Default", "Preferences")
				if err := os.WriteFile(settings, []byte(`{"profile":{"default_content_setting_values":{"cookies":2}}}`), 0o666); err != nil {
					t.Fatal(err)
				}
				browser.start()
			}
			p := browser.Open(server.URL + "licences.txt")
			p.before(c.script)
			p.Go(server.URL)
			p.WaitRunning()
			denied := Eval[string](p, `Promise.resolve().then(() => (localStorage.setItem("x", "x"), "kept"), String).catch(String)`)
			if !strings.Contains(denied, "SecurityError") {
				t.Fatalf("nothing is denied: %s", denied)
			}
			p.read("31", "211", "90")
			p.WaitText("#banner", "keep nothing on this device")
			p.WaitText("#banner", "Private windows and some settings")
			p.Run(keepFile)
			p.Click("#banner-export")
			p.Wait("a file", "window.taken")
			if file := Eval[string](p, "window.taken.text()"); !strings.Contains(file, `"31"`) || !strings.Contains(file, `"90"`) {
				t.Errorf("the file holds %.300s", file)
			}
			p.waitAnswer()
			p.Click("#dismiss")
			p.WaitGone("#dismiss")
			p.Type("#low", "28")
			p.waitAnswer()
			p.Click("#theme")
			p.Click("#nav-job")
			p.WaitText("#unsaved", "not kept on this device")
			p.Type("#job-title", "Blue van (invented)")
			p.Click("#to-jobs")
			p.WaitText("#jobs", "28 and 211 psi")
			p.Click("#jobs-new")
			p.WaitPlace("readings")
			p.WaitValue("#low", "")
			p.Type("#low", "44")
			p.Click("#to-jobs")
			p.WaitText("#jobs-count", "2 jobs") // while the page is open
			p.Click(`#jobs li:not([aria-current]) [data-do=open]`)
			p.WaitValue("#job-title", "Blue van (invented)")
			if n := Eval[int](p, `document.querySelectorAll("#dismiss").length`); n != 0 {
				t.Errorf("it is said again: %s", p.Text("#banner"))
			}
		})
	}
}
