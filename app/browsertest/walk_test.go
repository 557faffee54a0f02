//go:build !js

package browsertest

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// act is one thing that somebody did: an element by its path, and what was typed or
// chosen there.
type act struct{ Path, Value string }

func (a act) String() string { return a.Path + " ← " + strconv.Quote(a.Value) }

// walked is what a stretch of a walk came to.
type walked struct {
	Acts  []act
	Wrong string // what no page may show; "" if nothing
}

// TestRandomUser does what nobody would plan: it types, chooses, presses, folds and
// changes places at random, and after each step looks for what no page may show; after
// each stretch it loads the page again and wants every field as it was left.
//
// A walk that fails prints its seed and the shortest list of steps found that fails
// too. WALK_STEPS and WALK_SEED make it longer or another one: make walk.
func TestRandomUser(t *testing.T) {
	steps, seed := number(t, "WALK_STEPS", 120), number(t, "WALK_SEED", 1)
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.SetScreen(Phone)
	page.WaitRunning()
	page.WaitOffline()
	var trail []act
	for done := 0; done < steps; done += stretch {
		got := page.walk(fmt.Sprintf("%d, %d, null", seed+done, min(stretch, steps-done)))
		trail = append(trail, got.Acts...)
		if got.Wrong == "" {
			got.Wrong = page.keeps()
		}
		if got.Wrong != "" {
			t.Errorf("seed %d, after %d steps: %s; the last ten were %v", seed, len(trail), got.Wrong, trail[max(0, len(trail)-10):])
			t.Fatal(page.shrink(server.URL, trail)) // where it cannot be followed, at least the above is said
		}
	}
	t.Logf("seed %d: %d steps", seed, len(trail))
}

// stretch is how many steps are taken in one go.
const stretch = 40

func number(t *testing.T, name string, otherwise int) int {
	text := os.Getenv(name)
	if text == "" {
		return otherwise
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return n
}

// walk runs the script; args are its seed, its number of steps and, to do again what
// was done, a list of acts.
func (p *Page) walk(args string) walked {
	p.t.Helper()
	var got walked
	text := Eval[string](p, "("+walkScript+")("+args+")")
	if err := json.Unmarshal([]byte(text), &got); err != nil {
		p.t.Fatal(err)
	}
	if trouble := p.Trouble(); got.Wrong == "" && len(trouble) > 0 {
		got.Wrong = strings.Join(trouble, "; ")
	}
	return got
}

// keeps loads the page again and says which fields are not as they were.
func (p *Page) keeps() string {
	p.t.Helper()
	const fields = `JSON.stringify(Object.fromEntries([...document.querySelectorAll("#main input[id]:not([type=file]):not([type=search]), #main select[id]")]
		.filter(e => e.checkVisibility()).map(e => [e.id, e.type === "checkbox" || e.type === "radio" ? String(e.checked) : e.value])))`
	read := func() (m map[string]string) {
		if err := json.Unmarshal([]byte(Eval[string](p, fields)), &m); err != nil {
			p.t.Fatal(err)
		}
		return m
	}
	before := read()
	p.Reload()
	p.WaitRunning()
	var wrong string
	for end := time.Now().Add(5 * time.Second); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		wrong = ""
		after := read()
		for id, value := range before {
			if got, there := after[id]; there && got != value { // what a fold hides again is no loss
				wrong = fmt.Sprintf("#%s held %q, and after loading again %q", id, value, got)
			}
		}
		if wrong == "" {
			return ""
		}
	}
	return wrong
}

// shrink looks for a shorter list of acts that fails too: it leaves out halves, then
// quarters and so on, and gives up after some tries.
func (p *Page) shrink(url string, trail []act) string {
	p.forget()
	fails := func(acts []act) bool {
		p.Go(url + "licences.txt") // of our origin, without our program
		p.Run(`(localStorage.clear(), new Promise(done => indexedDB.deleteDatabase("twoneedles").onsuccess = done))`)
		p.Go(url)
		p.WaitRunning()
		wrong := ""
		for part := range slices.Chunk(acts, stretch) { // a driver waits for no longer one
			if wrong == "" {
				list, _ := json.Marshal(part)
				wrong = p.walk(fmt.Sprintf("0, %d, %s", len(part), list)).Wrong
			}
		}
		if wrong == "" {
			wrong = p.keeps()
		}
		p.forget()
		return wrong != ""
	}
	const tries = 40
	n := 1
	if !fails(trail) {
		return fmt.Sprintf("The same %d steps from an empty page do not fail", len(trail))
	}
	for size := (len(trail) + 1) / 2; size >= 1; size /= 2 {
		for at := 0; at < len(trail) && n < tries; n++ {
			shorter := append(append([]act{}, trail[:at]...), trail[min(at+size, len(trail)):]...)
			if fails(shorter) {
				trail = shorter
			} else {
				at += size
			}
		}
	}
	return fmt.Sprintf("%d steps fail too: %v", len(trail), trail)
}

// A page with one mistake, which needs two steps in their order: the walk must find it,
// and find that two steps do.
func TestRandomUserCanFail(t *testing.T) {
	page := kit(t, Launch(t), `<!doctype html><title>Kit</title><body><main id="main"><input id="field"><button>One</button><button>Two</button>
<button onclick="if (field.value === '0') said.textContent = 'NaN psi'">Three</button><p id="said"></p></main><section id="shell-failed" hidden></section>
<script>field.value = localStorage.field || ""; field.oninput = () => { localStorage.field = field.value; };</script></body>`)
	url := Eval[string](page, "location.href")
	got := page.walk("1, 400, null")
	if !strings.Contains(got.Wrong, "NaN") {
		t.Fatalf("the mistake was not found in %d steps: %q", len(got.Acts), got.Wrong)
	}
	if said := page.shrink(url, got.Acts); !strings.HasPrefix(said, "2 steps fail too") {
		t.Errorf("of %d steps: %s", len(got.Acts), said)
	}
}

// walkScript does n steps, either given ones or by chance, and returns what it did and
// what was wrong after the last. It keeps away from what leaves the page: files,
// printing, other hosts.
const walkScript = `async (seed, n, given) => {
	window.print = () => {}; window.confirm = () => true; window.alert = () => {};
	const chance = () => { // mulberry32, a small generator in the public domain
		seed = seed + 0x6D2B79F5 | 0;
		let t = Math.imul(seed ^ seed >>> 15, 1 | seed);
		t = t + Math.imul(t ^ t >>> 7, 61 | t) ^ t;
		return ((t ^ t >>> 14) >>> 0) / 4294967296;
	};
	const any = (list) => list[Math.floor(chance() * list.length)];
	const typed = ["", "38", "245", "95", "30", "200", "22-45", "-5", "12 in", "1.9 bar", "60", "0", "0.3", "2,5", "about", "1e9", "-", "99999", "35 C", "<b>x</b>", ">150"];
	const path = (e) => {
		if (e.id) return "#" + CSS.escape(e.id);
		const at = [...e.parentElement.children].filter(c => c.tagName === e.tagName).indexOf(e) + 1;
		return (e === document.body ? "" : path(e.parentElement) + " > ") + e.tagName.toLowerCase() + ":nth-of-type(" + at + ")";
	};
	const usable = (e) => e.checkVisibility({visibilityProperty: true}) && !e.disabled && e.type !== "file" && !e.closest("#shell-failed") &&
		(e.tagName !== "A" || e.origin === location.origin && !e.download && !e.target && /^(|[a-z]+)$/.test(e.pathname.slice(1)));
	const rest = (ms) => new Promise(done => setTimeout(done, ms));
	const wrong = () => {
		if (!document.querySelector("#shell-failed[hidden]")) return "the program stopped: " + (document.getElementById("shell-detail")?.value || "").slice(-600);
		const says = document.body.innerText;
		const bad = says.match(/.{0,40}(\bNaN\b|\bInf\b|⟨|\bundefined\b|%!).{0,40}/);
		if (bad) return "the page says " + bad[0];
		const ids = [...document.querySelectorAll("[id]")].map(e => e.id);
		const twice = ids.find((id, i) => ids.indexOf(id) !== i);
		if (twice) return "two elements have the id " + twice;
		return "";
	};
	const done = [];
	for (let i = 0; i < n; i++) {
		let e, value = "";
		if (given) {
			e = document.querySelector(given[i].Path);
			value = given[i].Value;
			if (!e || !usable(e)) continue;
		} else {
			const all = [...document.querySelectorAll("#main button, #main input, #main select, #main summary, #main textarea, nav a, #main a[href]")].filter(usable);
			const fields = all.filter(e => e.matches("input:not([type=checkbox]):not([type=radio]), textarea"));
			e = any(fields.length && chance() < 0.4 ? fields : all); // there are many more buttons
			if (!e) continue;
			if (fields.includes(e)) value = any(typed);
			if (e.tagName === "SELECT") value = any([...e.options].filter(o => !o.disabled)).value;
		}
		done.push({Path: path(e), Value: value});
		e.focus();
		if (e.matches("input:not([type=checkbox]):not([type=radio]), textarea, select")) {
			e.value = value;
			e.dispatchEvent(new Event("input", {bubbles: true}));
			e.dispatchEvent(new Event("change", {bubbles: true}));
		} else e.click();
		await rest(30);
		const found = wrong();
		if (found) return JSON.stringify({Acts: done, Wrong: found});
	}
	await rest(400); // what comes in a second piece, and what is saved after a rest
	return JSON.stringify({Acts: done, Wrong: wrong()});
}`
