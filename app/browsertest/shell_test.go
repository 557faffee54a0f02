//go:build !js

package browsertest

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/chromedp/cdproto/input"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"twoneedles/app/site"
)

func TestMain(m *testing.M) { os.Exit(Main(m)) }

// prefixes under which everything must work.
var prefixes = []string{"/", "/deep/er/"}

// The budget is the project's own: 2.6 MB for a release from a host that compresses nothing,
// everything included that the first visit fetches in the background.
func TestFirstVisitIsSmallAndOnce(t *testing.T) {
	const budget = 3.15e6 // as packed here, quickly; a release (site build -tight) is 0.3 MB smaller
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.WaitRunning()
	page.WaitOffline()
	sent, asked := server.Sent(), server.Asked()
	t.Logf("first visit: %d bytes in %d requests: %s", sent, len(asked), strings.Join(asked, " "))
	if sent > budget {
		t.Errorf("the first visit took %d bytes, budget %.0f", sent, budget)
	}
	if n := count(asked, "app.wasm.br"); n != 1 {
		t.Errorf("the program was fetched %d times, want once", n)
	}
}

func TestWorksWithoutNetwork(t *testing.T) {
	for _, prefix := range prefixes {
		t.Run(prefix, func(t *testing.T) {
			server := Serve(t, Site(t), prefix)
			browser := Launch(t)
			page := browser.Open(server.URL)
			page.WaitRunning()
			page.WaitOffline()
			server.Stop()

			page.Reload()
			page.WaitRunning()
			page.Close()
			page = browser.Relaunch().Open(server.URL + "job?from=somewhere#kept")
			page.WaitRunning()
			if got, want := Eval[string](page, "location.href"), server.URL+"job?from=somewhere#kept"; got != want {
				t.Errorf("the deep link became %s, want %s", got, want)
			}
			for _, place := range append([]string{"", "index.html", "job/"}, site.Places...) {
				page.Go(server.URL + place)
				page.WaitRunning()
				want := prefix + strings.TrimSuffix(strings.TrimSuffix(place, "index.html"), "/")
				page.Wait("the address to be "+want, `location.pathname === "`+want+`"`)
				page.WaitPlace(cmp.Or(strings.Trim(strings.TrimSuffix(place, "index.html"), "/"), "readings"))
				if icon := Eval[int](page, `fetch("icons/mark.svg").then(r => r.status)`); icon != 200 {
					t.Errorf("the icon of /%s is not stored: status %d", place, icon)
				}
			}
		})
	}
}

// Hosts that know no routes serve job/index.html, or 404.html for what they do
// not have at all; both must come up on a first visit.
func TestDeepLinkOnFirstVisit(t *testing.T) {
	for _, prefix := range prefixes {
		for path, place := range map[string]string{"job?x=1#y": "job", "no-such-place": "readings"} {
			t.Run(prefix+path, func(t *testing.T) {
				server := Serve(t, Site(t), prefix)
				page := Launch(t).Open(server.URL + path)
				page.WaitRunning()
				page.WaitPlace(place)
				if place == "readings" {
					page.WaitText("#banner", "no page at this address")
				} else if said := page.Text("#banner"); said != "" {
					t.Errorf("it says %q", said)
				}
				page.WaitOffline()
				if got := Eval[string](page, "location.href"); got != server.URL+path {
					t.Errorf("the address became %s, want %s", got, server.URL+path)
				}
				if n := count(server.Asked(), "manifest.webmanifest"); n == 0 {
					t.Error("the manifest was never asked for")
				}
			})
		}
	}
}

// Keys alone go to places and do what else the list says, but never in a field, and not
// for who switched them off; the list has a button too.
func TestKeys(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.SetScreen(Laptop)
	page.WaitRunning()
	away := func() { page.Run("document.activeElement.blur()") }
	focused := func(id string) {
		t.Helper()
		page.Wait("the focus in "+id, fmt.Sprintf("document.activeElement.id === %q", id))
	}
	page.Run("window.stayed = true") // until the page is loaded anew
	page.stroke("3")
	page.WaitPlace("tell")
	page.stroke("1")
	page.WaitPlace("readings")
	focused("title")
	page.stroke("f")
	focused("low")
	page.Keys("38")
	page.WaitValue("#low", "38")
	page.Keys("n") // in a field a letter is a letter
	page.WaitValue("#low", "38n")
	away()
	page.stroke("n")
	page.WaitText("#banner", "New job started")
	page.WaitValue("#low", "")
	focused("low")
	away()
	page.stroke("j")
	page.WaitPlace("jobs")
	if !Eval[bool](page, "window.stayed === true") {
		t.Error("a key loads the page anew")
	}
	page.stroke("?")
	page.WaitText("dialog[open]", "First field of the place")
	for _, wide := range []int64{1280, 390, 320} {
		page.SetScreen(Screen{wide, 640, false})
		page.Wait("every key whole, within the list", `(d => [...d.querySelectorAll("kbd")].every(k => (r => r.right <= d.getBoundingClientRect().right - 8 && r.height < 40)(k.getBoundingClientRect())))(document.querySelector("dialog[open]"))`)
	}
	page.SetScreen(Laptop)
	page.offerInstall()
	page.Wait("the offer to install, below the list of keys, which stays", `document.querySelector("#install") && document.querySelector("dialog[open]")`)
	page.stroke("2") // before the list nothing else acts
	away()           // as a tap on it does
	page.stroke("2")
	page.Keys(kb.Escape)
	page.WaitGone("dialog")
	page.WaitPlace("jobs")
	page.Click("#keys-open")
	page.Click("#keys-letters")
	page.Click("#keys-close")
	page.WaitGone("dialog")
	page.stroke("2")
	page.Reload()
	page.WaitRunning()
	page.stroke("2")
	page.Click("#keys-open")
	page.WaitPlace("jobs")
	page.Click("#keys-letters")
	page.Click("#keys-close")
	page.stroke("2")
	page.WaitPlace("job")
}

// stroke presses one key as a hand does: what the page takes of it writes nothing.
func (p *Page) stroke(key string) {
	p.t.Helper()
	if Engine() != "chromium" { // WebDriver's keys are such
		p.Keys(key)
		return
	}
	p.call("pressing "+key, func(ctx context.Context) error {
		_, err := chromedp.Call(ctx, input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: input.DispatchKeyEventTypeKeyDown, Key: key, Text: key})
		return err
	})
}

// offerInstall offers to put the page among the apps, as a browser does when it likes.
func (p *Page) offerInstall() {
	p.t.Helper()
	p.Run(`(() => { const e = new Event("beforeinstallprompt", {cancelable: true}); e.prompt = () => { window.asked = (window.asked || 0) + 1; };
		dispatchEvent(e); if (!e.defaultPrevented) throw new Error("the browser asks by itself"); })()`)
}

// noOffer keeps Chromium from offering by itself, when it likes.
const noOffer = `addEventListener("beforeinstallprompt", (e) => { if (e.isTrusted) e.stopImmediatePropagation(); }, {capture: true})`

// Where the browser would put the page among the apps, the foot offers it; a no is kept.
func TestInstallIsOfferedOnce(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.SetScreen(Phone)
	page.WaitRunning()
	page.Run(noOffer) // here only the test offers
	page.offerInstall()
	page.Click("#install-yes")
	page.Wait("the browser to ask", "window.asked === 1")
	page.WaitGone("#install")
	page.offerInstall()
	page.Click("#install-no")
	page.WaitGone("#install")
	page.Reload()
	page.WaitRunning()
	page.offerInstall()
	page.WaitNoText(".foot", "Install")
	page.stroke("3") // drawn again
	page.WaitPlace("tell")
	page.WaitGone("#install")
}

func TestUpdateWaitsForAYes(t *testing.T) {
	_, next := Versions(t)
	server := Serve(t, Site(t), "/")
	browser := Launch(t)
	page := browser.Open(server.URL)
	page.WaitRunning()
	page.WaitOffline()
	page.Reload() // now from the store
	page.WaitRunning()

	offerNext(t, server, page)
	server.Stop()

	// Neither loading again nor restarting is a yes.
	page.Reload()
	page.WaitRunning()
	wantEdition(t, page, "first")
	page = browser.Relaunch().Open(server.URL)
	page.WaitRunning()
	waitUpdate(page, next)
	wantEdition(t, page, "first")

	other := browser.Open(server.URL + "job")
	other.WaitRunning()
	page.takeUpdate()              // works without network: all is here
	wantEdition(t, other, "first") // an open tab runs on
	page = browser.Relaunch().Open(server.URL)
	page.WaitRunning()
	wantEdition(t, page, "next")
}

// A host in the middle of being filled, a connection that breaks, a stale copy
// between us and the host: the old version stays whole.
func TestHalfAnUpdateChangesNothing(t *testing.T) {
	first, next := Versions(t)
	for _, c := range []struct {
		name, file string
		fault      Fault
	}{
		{"a small file is missing", "style.css", Missing},
		{"a small file is of another version", "style.css", Wrong},
		{"the program breaks off", "app.wasm.br", Cut},
	} {
		t.Run(c.name, func(t *testing.T) {
			server := Serve(t, Site(t), "/deep/er/")
			browser := Launch(t)
			page := browser.Open(server.URL)
			page.WaitRunning()
			page.WaitOffline()

			server.Use(NextSite(t))
			server.BreakFile(c.file, c.fault)
			page.Run(`navigator.serviceWorker.getRegistration().then(r => r.update()).then(r => new Promise(done => {
				const worker = r.installing;
				if (!worker || worker.state === "redundant") return done();
				worker.onstatechange = () => worker.state === "redundant" && done();
			}))`)
			if asked := server.Asked(); count(asked, c.file) < 2 {
				t.Fatalf("the update never came to %s: %v", c.file, asked)
			}
			server.Stop()
			page.Reload()
			page.WaitRunning()
			wantEdition(t, page, "first")
			page = browser.Relaunch().Open(server.URL + "tell")
			page.WaitRunning()
			page.WaitOffline()
			wantEdition(t, page, "first")
			if got := Eval[string](page, "twoneedles.version+twoneedles.update"); got != first {
				t.Errorf("version and update are %q, want %q and none", got, first)
			}

			// The next attempt goes on where this one stopped.
			server.Break(nil)
			server.Start()
			lookForUpdate(page, next)
			if asked := server.Asked(); c.file != "app.wasm.br" && count(asked, "app.wasm.br") > 0 {
				t.Error("the program was fetched again although it was stored already")
			}
		})
	}
}

// Hosts that give each project a folder give them one origin, and with it one store.
// The site at the host's root even stands in the way of the ones below.
func TestSitesOnOneHostLeaveEachOtherAlone(t *testing.T) {
	server := Serve(t, Site(t), "/")
	server.Beside("/deep/er/", Site(t))
	browser := Launch(t)
	root := browser.Open(server.URL)
	root.WaitRunning()
	root.WaitOffline()
	deep := browser.Open(server.URL + "deep/er/job")
	deep.WaitRunning()
	deep.WaitOffline()
	if base := Eval[string](deep, "twoneedles.base"); base != "/deep/er/" {
		t.Errorf("the site below is at %s", base)
	}

	root.Reload()
	root.WaitRunning()
	offerNext(t, server, root)
	root.takeUpdate()
	server.Stop()
	deep.Reload()
	deep.WaitRunning()
	wantEdition(t, deep, "first")
	root.Reload()
	root.WaitRunning()
	wantEdition(t, root, "next")
}

// The Sources place says which version runs, so that a person can report it.
func TestVersionIsShown(t *testing.T) {
	build, _ := Versions(t)
	page := Launch(t).Open(Serve(t, Site(t), "/").URL + "sources")
	page.WaitRunning()
	page.WaitText("#version", "build "+build)
	if text := page.Text("#version"); !regexp.MustCompile(`^Version \d+(\.\d+)*, build [0-9a-f]{12}$`).MatchString(text) {
		t.Errorf("the version is %q", text)
	}
}

func TestDeadProgramSaysSoAndKeepsTheJob(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.WaitRunning()
	page.WaitOffline()
	page.ExpectTrouble()
	page.Run(`localStorage.setItem("twoneedles.job", JSON.stringify({low: "typed by hand"}))`)
	page.Run("goappNav()") // go-app reads an argument that is not there
	page.WaitText("#shell-failed", "The program stopped")
	page.Wait("what is stored to be offered", `!document.querySelector("#shell-copy").hidden`) // it is read first
	if detail := page.Value("#shell-detail"); !strings.Contains(detail, "typed by hand") || !strings.Contains(detail, "panic") {
		t.Errorf("the failure page keeps %q, want the stored job and the panic", detail)
	}
	page.SetScreen(Phone)
	page.Screenshot("failed")

	page.ClickAway("#shell-reload")
	page.WaitRunning()
	if job := Eval[string](page, `localStorage.getItem("twoneedles.job") || ""`); !strings.Contains(job, "typed by hand") {
		t.Errorf("after loading again the stored job is %q", job)
	}
	page.Run("goappNav()")
	page.WaitText("#shell-failed", "The program stopped")
	page.ClickAway("#shell-aside")
	page.WaitRunning()
	if aside := Eval[string](page, `localStorage.getItem("aside.twoneedles.job") || ""`); !strings.Contains(aside, "typed by hand") {
		t.Errorf("the job set aside is %q", aside)
	}
}

// So it does when the program was stopped by what it only read.
func TestProgramStoppedByAReading(t *testing.T) {
	page := Launch(t).Open(Serve(t, Site(t), "/").URL)
	page.WaitRunning()
	page.stop()
	if detail := page.Value("#shell-detail"); !strings.Contains(detail, "not to be read") {
		t.Errorf("the failure page keeps %q", detail)
	}
}

func TestProgramThatDoesNotArrive(t *testing.T) {
	for name, fault := range map[string]Fault{"missing": Missing, "cut": Cut, "damaged": Wrong} {
		t.Run(name, func(t *testing.T) {
			server := Serve(t, Site(t), "/")
			server.BreakFile("app.wasm.br", fault)
			page := Launch(t).Open(server.URL) // the browser keeps a damaged copy as if it were right
			page.WaitText("#shell-failed", "The program did not arrive")
			server.Break(nil)
			page.ClickAway("#shell-reload")
			page.WaitRunning()
			page.WaitOffline()
		})
	}
}

// What a browser or a host in between has kept may be damaged, and is asked for once more:
// the program for the page, the licences for the store.
func TestOneBadCopy(t *testing.T) {
	for name, fault := range map[string]Fault{"cut": Cut, "damaged": Wrong, "declared to be gzip": Misnamed} {
		t.Run(name, func(t *testing.T) {
			server := Serve(t, Site(t), "/")
			server.Break(firstOnly(fault, 1, "app.wasm.br", "licences.txt.gz"))
			page := Launch(t).Open(server.URL)
			page.ExpectTrouble() // Firefox tells what could not be unpacked
			page.WaitRunning()
			page.WaitOffline()
		})
	}
}

// Where the host was ill while the worker stored what it needs, the worker tries once more.
func TestStoringIsTriedAgain(t *testing.T) {
	server := Serve(t, Site(t), "/")
	server.Break(firstOnly(Missing, 2, "licences.txt.gz")) // the worker asks twice
	page := Launch(t).Open(server.URL)
	page.WaitRunning()
	page.Wait("the first attempt to fail", `twoneedles.offline === "failed"`)
	page.WaitOffline()
}

// firstOnly spoils the first requests for each of the files.
func firstOnly(fault Fault, n int, files ...string) func(path string) Fault {
	var mu sync.Mutex
	asked := map[string]int{}
	return func(path string) Fault {
		mu.Lock()
		defer mu.Unlock()
		asked[path]++
		if slices.Contains(files, path) && asked[path] <= n {
			return fault
		}
		return None
	}
}

// A page that failed was left for one that runs; loading that again does not bring it back.
// Chromium keeps it, where it comes from the store, as it keeps pages to go back to.
func TestPageThatFailedStaysAway(t *testing.T) {
	page := Launch(t).Open(Serve(t, Site(t), "/").URL)
	page.WaitRunning()
	page.WaitOffline()
	page.stop()
	page.ClickAway("#shell-reload")
	page.WaitRunning()
	page.Reload()
	page.WaitRunning()
}

// stop lets the program die of what only a browser can throw at it.
func (p *Page) stop() {
	p.t.Helper()
	p.ExpectTrouble()
	p.Run(`setTimeout(() => { // Firefox's driver reads it too, afterwards
		Object.defineProperty(document, "visibilityState", {configurable: true, get() { throw new Error("not to be read"); }});
		document.dispatchEvent(new Event("visibilitychange", {bubbles: true}));
		delete document.visibilityState;
	})`)
	p.WaitText("#shell-failed", "The program stopped")
}

// A page stays open for days: the first visit hears of what comes after it, too.
func TestFirstVisitHearsOfUpdates(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.WaitRunning()
	page.WaitOffline()
	offerNext(t, server, page)
	page.takeUpdate()
}

// A page that came from the host past an older version in the store is not told of that
// as of an update.
func TestOlderVersionIsNoUpdate(t *testing.T) {
	OnlyIn(t, "a load past the store is asked for through its protocol", "chromium")
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.WaitRunning()
	page.WaitOffline()
	server.Use(NextSite(t))
	release := server.Hold("sw.js")
	defer release()
	page.call("loading past the store", func(ctx context.Context) error {
		past := true
		_, err := chromedp.Call(ctx, cdppage.Reload, cdppage.ReloadParams{IgnoreCache: &past})
		return err
	})
	page.Wait("the next edition", nextEdition)
	page.WaitRunning()
	page.WaitOffline() // by the word of the older version's worker
	if update := Eval[string](page, "twoneedles.update"); update != "" {
		t.Errorf("version %s is offered", update)
	}
}

// A slow connection: the page says what it is and how far the program has come.
func TestLoadingState(t *testing.T) {
	server := Serve(t, Site(t), "/")
	server.BreakFile("app.wasm.br", Stall)
	page := Launch(t).Open(server.URL + "job")
	page.SetScreen(Phone)
	page.WaitText("#shell-loading h1", "Two Needles")
	page.Wait("half of the progress", `[...document.querySelectorAll(".shell-progress")].every(bar => Math.abs(bar.value - 0.5) < 0.05)`)
	for _, dark := range []bool{false, true} {
		page.SetDark(dark)
		page.Screenshot(map[bool]string{false: "loading-light", true: "loading-dark"}[dark])
	}
}

// Every module that the program itself says it is made of is named among the
// licences, and they can be read from the page, without network too.
func TestLicencesGoAlong(t *testing.T) {
	site := os.DirFS(Site(t))
	licences, err := fs.ReadFile(site, "licences.txt")
	if err != nil {
		t.Fatal(err)
	}
	modules := regexp.MustCompile(`\ndep\t([^\t\n]+)\t(v[^\t\n]+)`).FindAllSubmatch(program(t, site), -1)
	if len(modules) < 6 {
		t.Fatalf("the program names only %d modules", len(modules))
	}
	for _, m := range modules {
		if section := fmt.Sprintf("\n%s %s\n=", m[1], m[2]); !strings.Contains(string(licences), section) {
			t.Errorf("%s %s is in the program and not in licences.txt", m[1], m[2])
		}
	}

	server := Serve(t, Site(t), "/deep/er/")
	browser := Launch(t)
	page := browser.Open(server.URL + "sources")
	page.WaitRunning()
	page.WaitOffline()
	link := Eval[string](page, `document.getElementById("licences").href`)
	server.Stop()
	page.Close()
	browser.Open(link).WaitText("body", "The FreeType Project LICENSE")
}

// program unpacks the program of an assembled site.
func program(t *testing.T, site fs.FS) []byte {
	t.Helper()
	packed, err := site.Open("app.wasm.br")
	if err != nil {
		t.Fatal(err)
	}
	defer packed.Close()
	plain, err := io.ReadAll(brotli.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	return plain
}

// Hosts have habits. What can be read all the same must be; what cannot says so, and
// comes up once the host is mended. That a host packs nothing is what [Serve] does.
func TestHostsWithHabits(t *testing.T) {
	always := func(fault Fault) func(string) Fault { return func(string) Fault { return fault } }
	packed := func(fault Fault) func(string) Fault {
		return func(path string) Fault {
			if strings.HasSuffix(path, ".br") || strings.HasSuffix(path, ".gz") {
				return fault
			}
			return None
		}
	}
	for _, c := range []struct {
		name  string
		habit func(path string) Fault
		says  string // where it cannot come up
	}{
		{"declares .br and .gz to be encodings", packed(Encoded), ""},
		{"declares .br to be gzip", packed(Misnamed), "The program did not arrive"},
		{"packs whatever it sends", always(Squeezed), ""},
		{"knows no types for what is packed", packed(Untyped), ""},
		{"lets everything be kept for a day", always(Stale), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			server := Serve(t, Site(t), "/")
			server.Break(c.habit)
			page := Launch(t).Open(server.URL)
			if c.says != "" && Engine() != "webkit" { // which looks at the bytes instead
				page.WaitText("#shell-failed", c.says)
				server.Break(nil)
				page.ClickAway("#shell-reload")
			}
			page.WaitRunning()
			page.WaitOffline()

			page.Reload() // now from the store
			page.WaitRunning()
			offerNext(t, server, page)
			server.Stop()
			page.Reload()
			page.WaitRunning()
			wantEdition(t, page, "first")
		})
	}
}

func TestContentSecurityPolicyHolds(t *testing.T) {
	server := Serve(t, Site(t), "/")
	browser := Launch(t)
	page := browser.Open(server.URL)
	page.WaitRunning()
	page.ExpectTrouble()
	page.Run(`window.refused = [], addEventListener("securitypolicyviolation", e => refused.push(e.effectiveDirective))`)
	page.Run(`fetch("https://elsewhere.invalid/").catch(() => {})`)
	page.Run(`new Image().src = "https://elsewhere.invalid/x.png"`)
	page.Run(`document.head.append(document.createRange().createContextualFragment("<script>window.intruder = 1</script>"))`)
	page.Run(`(() => { const s = document.createElement("style"); s.textContent = "body { display: none }"; document.head.append(s); })()`)
	for _, directive := range []string{"connect-src", "img-src", "script-src-elem", "style-src-elem"} {
		page.Wait("a refusal by "+directive, `refused.includes("`+directive+`")`)
	}
	if Eval[bool](page, `window.intruder === 1 || getComputedStyle(document.body).display === "none"`) {
		t.Error("an inline script or style was let in")
	}
	if requests := browser.Elsewhere(); requests != nil {
		t.Errorf("requests left for %v", requests)
	}
	if Eval[bool](page, `!window.trustedTypes`) {
		return // an engine without Trusted Types
	}
	for what, do := range map[string]string{
		"a text made a script":         `document.createElement("script").text = "1"`,
		"another host's script":        `document.createElement("script").src = "https://elsewhere.invalid/x.js"`,
		"a second maker of such texts": `trustedTypes.createPolicy("other", {})`,
	} {
		if Eval[bool](page, `(() => { try { `+do+`; return true; } catch (e) { return false; } })()`) {
			t.Errorf("%s was let in", what)
		}
	}
}

// offerNext puts the next site in the place of the one that is served, and waits until the
// page offers it.
func offerNext(t *testing.T, server *Server, page *Page) {
	t.Helper()
	_, next := Versions(t)
	server.Use(NextSite(t))
	lookForUpdate(page, next)
}

// lookForUpdate asks for the update until it is offered. One check is not enough: where the
// browser is looking by itself, as it does after each navigation, it takes both for one, and
// may have had the old answer already.
func lookForUpdate(page *Page, version string) {
	page.t.Helper()
	page.wait("the update to be offered", `twoneedles.update === "`+version+`" ||
		!(performance.now() - window.lookedAt < 1000) && (window.lookedAt = performance.now(), twoneedles.checkForUpdate(), false)`, page.shellState)
}

// takeUpdate says yes to the version that is offered and waits until it runs.
func (p *Page) takeUpdate() {
	p.t.Helper()
	p.Run("twoneedles.applyUpdate()")
	p.Wait("the next edition", nextEdition)
	p.WaitRunning()
	if update := Eval[string](p, "twoneedles.update"); update != "" {
		p.t.Errorf("after the update, update is %q", update)
	}
}

// nextEdition asks whether the page is one of [NextSite].
const nextEdition = `document.querySelector("meta[name=edition]")`

func waitUpdate(page *Page, version string) {
	page.t.Helper()
	page.Wait("the update to be offered", `window.twoneedles && twoneedles.update === "`+version+`"`)
}

// wantEdition looks at the page and at its scripts: they must be of one version.
func wantEdition(t *testing.T, page *Page, want string) {
	t.Helper()
	first, next := Versions(t)
	version := map[string]string{"first": first, "next": next}[want]
	if got := Eval[string](page, `twoneedles.version`); got != version {
		t.Errorf("the scripts are of version %s, want %s, the %s", got, version, want)
	}
	if got := Eval[string](page, `(document.querySelector("meta[name=edition]") || {content: "first"}).content`); got != want {
		t.Errorf("the page is of the %s edition, want the %s", got, want)
	}
}

func count(list []string, s string) (n int) {
	for _, v := range list {
		if v == s {
			n++
		}
	}
	return n
}
