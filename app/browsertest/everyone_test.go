//go:build !js

package browsertest

import (
	"context"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"twoneedles/app/site"
)

// room is a place as somebody comes to stand in it.
type room struct {
	name, address string
	ready         func(*Page)
}

// rooms are all places, those that change with what is in them more than once.
func rooms(t *testing.T) []room {
	link := "#" + fullestJob().Link()
	return []room{
		{"readings-empty", "", nil},
		{"readings", "#example", (*Page).waitAnswer},
		{"job-empty", "job", nil},
		{"job", "job" + link, nil},
		{"jobs", "jobs" + link, nil},
		{"tell-empty", "tell", nil},
		{"tell", "job" + link, func(p *Page) { p.Click("#nav-tell"); p.WaitPlace("tell") }},
		{"tell-guest", "tell" + link, nil},
		{"practice", "practice", nil},
		{"practice-swing", swinging(t), nil},
		{"practice-case", classOf, func(p *Page) { p.Click("#buy-vent") }},
		{"practice-marked", classOf, func(p *Page) {
			p.choose("#choice", "undercharge")
			p.Click("#confidence-3")
			p.Click("#commit")
			p.Wait("the plan", `document.querySelector("#plan[data-done=true]")`)
		}},
		{"explore", "explore", func(p *Page) { p.Wait("the first state", `document.querySelector("#read-vent")`) }},
		{"learn", "learn", nil},
		{"sources", "sources", nil},
		{"saturation", "saturation", nil},
		{"keys", "sources", func(p *Page) { p.Click("#keys-open"); p.Wait("the list", `document.querySelector("dialog[open]")`) }},
		{"readings-refused", "", func(p *Page) {
			p.Run(`document.getElementById("start-empty")?.click()`) // after other rooms
			p.WaitText("#answer-say", "Type both needles")
			p.read("x", "200", "32")
			p.WaitText("#low-note", "cannot be read")
		}},
		{"readings-rest", "", func(p *Page) {
			p.Run(`document.getElementById("start-empty")?.click()`) // after other rooms
			p.WaitText("#answer-say", "Type both needles")
			p.read("85", "85", "85")
			p.waitAnswer()
			p.Click("#ask-engine-off")
			p.WaitText("#next", "The engine runs now")
		}},
	}
}

// Every place with every fold open, in one browser: one check for each of those who
// come with another eye, hand, screen or ear. -run TestEveryone/job$/axe is one of them.
func TestEveryone(t *testing.T) {
	checks := []struct {
		name  string
		check func(*testing.T, *Page) []string
	}{
		{"axe", keepsAxesRules},
		{"zoom", fitsAnyZoom},
		{"forced", isSeenInForcedColours},
		{"still", isStill},
		{"touch", isLargeEnoughToTouch},
		{"order", readsInTheEyesOrder},
		{"names", hasNames},
	}
	OnlyIn(t, "forced colours and the tree for a screen reader are asked for in its own protocol", "chromium")
	server := Serve(t, Site(t), "/")
	browser := Launch(t)
	for _, r := range rooms(t) {
		t.Run(r.name, func(t *testing.T) {
			page := browser.Open(server.URL + r.address)
			defer page.Close()
			page.SetScreen(Phone)
			page.WaitRunning()
			if r.ready != nil {
				r.ready(page)
			}
			page.unfold()
			page.Run(inReach)
			for _, c := range checks {
				t.Run(c.name, func(t *testing.T) {
					page.t = t
					page.SetLook(Look{Screen: Phone})
					for _, found := range c.check(t, page) {
						t.Error(found)
					}
				})
			}
		})
	}
}

// inReach are all who can have the focus now: before a dialog only what is in it.
const inReach = `window.inReach = () => {
	const within = document.querySelector("dialog[open]") || document;
	return [...within.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex]:not([tabindex='-1'])")]
		.filter(e => e.checkVisibility({visibilityProperty: true}) && !e.disabled && !e.closest(".sr"));
}`

// setMedia makes a feature of the device be so, and every other one as it is.
func (p *Page) setMedia(name, value string) {
	p.t.Helper()
	p.call(name+": "+value, func(ctx context.Context) error {
		_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: name, Value: value}},
		})
		return err
	})
	if !Eval[bool](p, fmt.Sprintf(`matchMedia("(%s: %s)").matches`, name, value)) {
		p.t.Fatalf("the browser does not do %s: %s", name, value)
	}
}

// unfold opens every fold, those within folds too, and what unfolds by a button.
func (p *Page) unfold() {
	p.t.Helper()
	p.Run(`(async () => {
		for (let round = 0; round < 6; round++) {
			const shut = [...document.querySelectorAll("details:not([open]) > summary, #main [aria-expanded=false]")].filter(e => e.checkVisibility());
			if (!shut.length) return;
			for (const e of shut) if (e.isConnected) e.click();
			await new Promise(done => setTimeout(done, 120));
		}
	})()`)
}

// selectors puts reasoned exceptions together; ":not(*)" is none.
func selectors(reasons map[string]string) string {
	return strings.Join(append(slices.Sorted(maps.Keys(reasons)), ":not(*)"), ", ")
}

// at says where each was found.
func at(where string, found []string) []string {
	for i := range found {
		found[i] = where + ": " + found[i]
	}
	return found
}

// What these checks are for they find: each in a page with one mistake.
func TestEveryoneCanFail(t *testing.T) {
	OnlyIn(t, "see TestEveryone", "chromium")
	page := kit(t, Launch(t), `<!doctype html><html lang="en"><title>Kit</title><body style="background: Canvas"><main id="main"><h1>Kit</h1>
<style>.flip { display: flex; flex-direction: row-reverse; width: 9rem } #bare { outline: none } .moves { transition: opacity 1s } .bar { position: fixed; inset: 0 0 auto; height: 9rem; background: white }</style>
<p class="flip"><b>One</b><i>Two</i></p><button id="bare" style="width: 20px">Go</button><img src="data:image/gif;base64,R0lGODlhAQABAAAAACw=">
<div class="moves">x</div><button aria-label="" class="empty"></button><div class="bar"></div><div style="width: 400px">wide</div>
<svg class="chart" viewBox="0 0 9 9" style="width: 9px"><path d="M0 0h9" style="fill: none; stroke: Canvas"/></svg>
<span><button aria-pressed="true">a</button><button aria-pressed="false">b</button></span></main></body>`)
	page.Run(inReach)
	for name, c := range map[string]struct {
		check func(*testing.T, *Page) []string
		finds string
	}{
		"axe": {keepsAxesRules, "image-alt"}, "zoom": {fitsAnyZoom, "too wide"}, "focus": {fitsAnyZoom, "not to be seen"},
		"picture": {isSeenInForcedColours, "no colour of its own"}, "pressed": {isSeenInForcedColours, "as if it were not"}, "rim": {isSeenInForcedColours, "no rim"},
		"still": {isStill, "moves"}, "touch": {isLargeEnoughToTouch, "20×"}, "order": {readsInTheEyesOrder, "stands before"}, "names": {hasNames, "without a name"},
	} {
		page.SetLook(Look{Screen: Phone})
		if found := strings.Join(c.check(t, page), "\n"); !strings.Contains(found, c.finds) {
			t.Errorf("%s: the mistake is not found: %s", name, found)
		}
	}
}

// allowed are violations of axe's rules that stand, by rule and a part of the element,
// each with its reason.
var allowed = map[string]string{}

// No rule of axe-core is broken, be it of WCAG or best practice, in either scheme, on any
// width. Axe is no part of the site and comes with `make axe`.
func keepsAxesRules(t *testing.T, page *Page) (found []string) {
	root, err := site.Root()
	if err != nil {
		t.Fatal(err)
	}
	axe, err := os.ReadFile(filepath.Join(root, ".cache", "axe", "axe.min.js"))
	if err != nil {
		t.Fatalf("this test needs axe-core: run `make axe` (%v)", err)
	}
	page.Run(string(axe) + "; void 0")
	rules := "undefined" // all
	for _, width := range []int64{390, 320, 1280} {
		for _, dark := range []bool{false, true} {
			page.SetLook(Look{Screen: Screen{width, 844, width < 1000}, Dark: dark})
			found = append(found, at(fmt.Sprintf("%d wide, dark %v", width, dark), page.violations(rules))...)
			rules = `["color-contrast", "link-in-text-block", "target-size", "scrollable-region-focusable"]` // those that a look changes
		}
	}
	return found
}

// violations are those that axe, which the page holds by now, finds in it.
func (p *Page) violations(rules string) (found []string) {
	p.t.Helper()
	for _, v := range Eval[[]string](p, fmt.Sprintf(axeRun, rules)) {
		excused := false
		for what := range allowed {
			rule, element, _ := strings.Cut(what, " ")
			excused = excused || strings.HasPrefix(v, rule+" ") && strings.Contains(v, element)
		}
		if !excused {
			found = append(found, v)
		}
	}
	return found
}

// The test site offers two languages of nobody (see site.go), whose codes no list knows.
// It is looked at from the top: what has been scrolled half under the bar that stays is not
// too small for a finger.
const axeRun = `scrollTo({top: 0, behavior: "instant"}), axe.run({exclude: ["option[lang^=qa]"]}, {resultTypes: ["violations"], runOnly: %s}).then(r => r.violations.flatMap(v =>
	v.nodes.map(n => v.id + " (" + v.impact + ") " + n.target.join(" ") + ": " + n.html.slice(0, 160) + ": " + n.failureSummary.replace(/\s+/g, " "))))`

// Nothing hangs over the side, and what has the focus is not hidden below what stands
// still, on the narrowest phone and at 200 and 400 % zoom: a laptop of 1280×1024 has
// 640×512 and 320×256 pixels then.
func fitsAnyZoom(t *testing.T, page *Page) (found []string) {
	for _, screen := range []Screen{{320, 640, true}, {640, 512, false}, {320, 256, false}} {
		where := fmt.Sprintf("%d×%d", screen.Width, screen.Height)
		page.SetScreen(screen)
		page.settle()
		if wide := page.sideways(); wide > 0 {
			found = append(found, at(fmt.Sprintf("%s: the page is %d px too wide", where, wide), Eval[[]string](page, beyond))...)
		}
		found = append(found, at(where, Eval[[]string](page, covered))...)
	}
	return found
}

// settle waits until nothing on the page has changed for a while: what is worked out for a
// fold that was opened moves what stands below it.
func (p *Page) settle() {
	p.t.Helper()
	p.Run(`new Promise(done => {
		const start = performance.now();
		let last = start;
		const watch = new MutationObserver(() => { last = performance.now(); });
		watch.observe(document.body, {subtree: true, childList: true, attributes: true, characterData: true});
		const timer = setInterval(() => {
			const now = performance.now();
			if (now - last < 400 && now - start < 10000) return;
			clearInterval(timer); watch.disconnect(); done();
		}, 50);
	})`)
}

// beyond are the elements that hang over the side, the innermost first.
const beyond = `[...document.querySelectorAll("body *")].reverse().filter(e => e.checkVisibility() && !e.closest(".scroll") && e.getBoundingClientRect().right > document.documentElement.clientWidth + 1)
	.slice(0, 5).map(e => e.outerHTML.slice(0, 160))`

// covered gives everything the focus in turn and says what then lies outside the screen
// or below something else: three points of its first line are looked at.
const covered = `(() => {
	const found = [];
	for (const e of inReach()) {
		e.focus();
		const r = e.getClientRects()[0];
		const y = Math.max(r.y, r.height > innerHeight / 2 ? 60 : 0) + Math.min(r.height, 40) / 2; // what is higher than the screen begins above it
		const seen = [.1, .5, .9].some(part => { const at = document.elementFromPoint(r.x + r.width * part, y); return at && (e.contains(at) || at.contains(e)); });
		if (!seen) found.push("with the focus not to be seen: " + e.outerHTML.slice(0, 120) + " at " + [r.x, r.y, r.width, r.height].map(Math.round) + " below " + (document.elementFromPoint(r.x + r.width / 2, y) || {outerHTML: "nothing"}).outerHTML.slice(0, 80));
	}
	scrollTo(0, 0);
	return found;
})()`

// Where the device chooses the colours, every line, band and mark of a picture differs
// from its ground, what is chosen differs from what is not, and the focus has a rim.
func isSeenInForcedColours(t *testing.T, page *Page) (found []string) {
	page.setMedia("forced-colors", "active")
	page.Run(`inReach()[0].focus()`)
	page.Keys(kb.Tab) // what comes next is by keyboard
	return Eval[[]string](page, forced)
}

const forced = `(() => {
	const found = [], look = (e, part) => getComputedStyle(e, part), clear = (c) => /^rgba.*, 0\)$/.test(c); // be it black or white otherwise
	const ground = (e) => { for (; e; e = e.parentElement) { const c = look(e).backgroundColor; if (!clear(c)) return c; } return look(document.documentElement).backgroundColor; };
	const probe = document.body.appendChild(document.createElement("i")); // says the colours of the device in numbers
	probe.style.forcedColorAdjust = "none";
	const solid = (c) => { probe.style.color = c; return look(probe).color; };
	for (const e of document.querySelectorAll(".chart :is(path, circle, rect, line), .ranks svg :is(path, rect)")) {
		const s = look(e), paper = ground(e.closest("svg"));
		const shows = (c) => c !== "none" && !clear(solid(c)) && solid(c) !== paper;
		if (!shows(s.fill) && !(shows(s.stroke) && parseFloat(s.strokeWidth) > 0) && !e.matches(".paper")) found.push("no colour of its own: " + e.outerHTML.slice(0, 120) + " fill " + s.fill + " stroke " + s.stroke + " on " + paper);
	}
	probe.remove();
	const sign = (e) => { const s = look(e); return [s.backgroundColor, s.borderTopWidth, s.borderTopStyle, s.borderTopColor, s.fontWeight, s.textDecorationThickness, look(e, "::before").content].join(); };
	for (const on of document.querySelectorAll("#main [aria-pressed=true]")) {
		if (!on.checkVisibility()) continue;
		const off = [...on.parentElement.querySelectorAll("[aria-pressed=false]")].find(e => e.className === on.className);
		if (off && sign(on) === sign(off)) found.push("pressed looks as if it were not: " + on.outerHTML.slice(0, 120));
	}
	const rim = (e) => { for (let n = 0; e && n < 4; n++, e = e.parentElement) { const s = look(e); if (s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2 && !clear(s.outlineColor)) return true; } return false; };
	for (const e of inReach()) {
		e.focus({preventScroll: true});
		if (document.activeElement === e && !rim(e)) found.push("the focus has no rim: " + e.outerHTML.slice(0, 120));
	}
	return found;
})()`

// Who asks for less motion gets none.
func isStill(t *testing.T, page *Page) (found []string) {
	page.setMedia("prefers-reduced-motion", "reduce")
	return Eval[[]string](page, `(() => {
		const main = document.getElementById("main"), found = [];
		main.toggleAttribute("data-busy", true); main.toggleAttribute("data-planning", true);
		for (const e of document.querySelectorAll("*")) for (const part of [null, "::before", "::after"]) {
			const s = getComputedStyle(e, part);
			if (s.animationName !== "none" || s.transitionDuration.split(", ").some(d => d !== "0s") && s.transitionProperty !== "none" || s.scrollBehavior !== "auto")
				found.push("moves: " + e.outerHTML.slice(0, 120));
		}
		main.toggleAttribute("data-busy", false); main.toggleAttribute("data-planning", false);
		return found;
	})()`)
}

// smallOnPurpose may be less than a fingertip wide or high, by selector, with the reason.
var smallOnPurpose = map[string]string{}

// What a finger has to hit is 44 pixels wide and high: its own box, that of the label that
// stands for it, or that of the frame around a field. Links in running text are as high as
// their line.
func isLargeEnoughToTouch(t *testing.T, page *Page) (found []string) {
	return Eval[[]string](page, fmt.Sprintf(`(() => {
		const found = [], least = 43.5, but = %q;
		const inText = (e) => e.tagName === "A" && [...e.parentElement.childNodes].some(n => n.nodeType === 3 && n.data.trim().length > 2);
		for (const e of inReach()) {
			if (e.matches(".skip, [tabindex]:not(a, button, input)") || inText(e) || e.matches(but)) continue;
			const boxes = [e, ...(e.labels || []), e.closest(".entry"), e.closest("label")].filter(Boolean).map(b => b.getBoundingClientRect());
			if (!boxes.some(b => b.width >= least && b.height >= least))
				found.push(boxes.map(b => Math.round(b.width) + "×" + Math.round(b.height)).join(", ") + ": " + e.outerHTML.slice(0, 140));
		}
		return found;
	})()`, selectors(smallOnPurpose)))
}

// besideOnPurpose are parts that stand before an earlier one, with the reason.
var besideOnPurpose = map[string]string{
	".bench > .folded": "on a laptop what is folded stands below the needles and the answer beside both; the answer is heard first, as on a phone",
	".drill > .after":  "on a laptop the mark stands beside the case, and what was measured below the case",
	".rig-dials":       "on a phone the needles stay above the dials, so they come first; on a laptop the hand turns left of what moves",
}

// A screen reader and the Tab key go through the page as the eye does: of two parts with
// the same parent, the later one stands neither above the earlier one nor before it in its
// line. The navigation of a phone stands still at the foot, which is no place in the text.
func readsInTheEyesOrder(t *testing.T, page *Page) (found []string) {
	for _, screen := range []Screen{Phone, Laptop} {
		page.SetScreen(screen)
		found = append(found, at(fmt.Sprintf("%d wide", screen.Width), Eval[[]string](page, fmt.Sprintf(`(() => {
			const found = [], but = %q, of = (e) => e.tagName.toLowerCase() + (e.id ? "#" + e.id : "") + (e.className ? "." + e.className : "") + " “" + e.innerText?.slice(0, 30) + "”";
			if (document.querySelector("[tabindex]:not([tabindex='0'], [tabindex='-1'])")) found.push("somebody jumps the queue of the Tab key");
			const within = (e) => [...e.children].flatMap(c => getComputedStyle(c).display === "contents" ? within(c) : c);
			for (const parent of document.querySelectorAll("body, body *:not(svg, svg *)")) {
				const parts = within(parent).filter(e => e.checkVisibility({visibilityProperty: true}) && !["absolute", "fixed", "sticky"].includes(getComputedStyle(e).position) && getComputedStyle(e).display !== "inline")
					.map(e => [e, e.getBoundingClientRect()]).filter(([e, r]) => r.width > 1 && r.height > 1);
				parts.forEach(([b, rb], i) => b.matches(but) || parts.slice(0, i).forEach(([a, ra]) => {
					const beside = rb.right <= ra.left + 1 || ra.right <= rb.left + 1, level = rb.top < ra.bottom - 1 && ra.top < rb.bottom - 1;
					if (!beside && rb.bottom <= ra.top + 1) found.push(of(b) + " stands above " + of(a));
					if (level && rb.right <= ra.left + 1) found.push(of(b) + " stands before " + of(a));
				}));
			}
			return found;
		})()`, selectors(besideOnPurpose))))...)
	}
	return found
}

// scripted are the roles of what only a link to it gives the focus: it says what is in it.
var scripted = map[string]bool{`"main"`: true, `"listitem"`: true}

// Whatever can have the focus has a name for a screen reader.
func hasNames(t *testing.T, page *Page) (found []string) {
	page.call("the accessibility tree", func(ctx context.Context) error {
		tree, err := chromedp.Call(ctx, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
		if err != nil {
			return err
		}
		seen := 0
		for _, node := range tree.Nodes {
			for _, p := range node.Properties {
				if p.Name != accessibility.PropertyNameFocusable || string(p.Value.Value) != "true" || node.Ignored || scripted[string(node.Role.Value)] {
					continue
				}
				seen++
				if node.Name == nil || strings.Trim(string(node.Name.Value), `" `) == "" {
					found = append(found, fmt.Sprintf("without a name: a %s, within %s", node.Role.Value, node.ParentID))
				}
			}
		}
		if seen == 0 {
			found = append(found, "nothing on the page can have the focus")
		}
		return nil
	})
	return found
}
