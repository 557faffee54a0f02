//go:build !js

package browsertest

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// What a key changes is drawn with the answer where the screen shows it; what it does not
// show follows with the plan, once. In the end all of it is of the same reading.
func TestWhatTheScreenDoesNotShowFollows(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.WaitRunning()
	for _, screen := range []Screen{Phone, Laptop} {
		page.SetScreen(screen)
		page.read("30", "200", "90")
		page.waitAnswer()
		shown := Eval[bool](page, `document.getElementById("picture").getBoundingClientRect().top < innerHeight`)
		if shown != (screen == Laptop) {
			t.Fatalf("%v shows the picture: %v; this test wants a phone that does not and a laptop that does", screen, shown)
		}
		page.Run(`(() => {
			window.watch?.disconnect();
			window.seen = [];
			const within = (r, id) => document.getElementById(id).contains(r.target);
			window.watch = new MutationObserver(all => seen.push(["answer", "odds", "plane-frame"].filter(id => all.some(r => within(r, id))).join("+")));
			watch.observe(document.getElementById("main"), {childList: true, subtree: true, characterData: true});
		})()`)
		page.Focus("#low")
		page.Keys("2") // typed over 30: another answer on the way to 22
		page.waitAnswer()
		page.Keys("2")
		page.waitAnswer()
		seen := slices.DeleteFunc(Eval[[]string](page, "seen"), func(s string) bool { return s == "" })
		together := strings.Contains(seen[0], "answer") && strings.Contains(seen[0], "plane-frame")
		alone := seen[0] == "answer"
		if shown && !together || !shown && !alone {
			t.Errorf("%v: the parts changed in the order %q", screen, seen)
		}
		if times := strings.Count(strings.Join(seen, " "), "plane-frame"); times != 2 {
			t.Errorf("%v: two keys drew the picture %d times: %q", screen, times, seen)
		}
		page.WaitText("#plane-frame", "22")
	}
}

// While a dial is turned, Explore draws what the screen shows; the rest of it comes when the
// dial rests.
func TestPicturesOffTheScreenWaitForTheDial(t *testing.T) {
	page := Launch(t).Open(Serve(t, Site(t), "/").URL + "explore")
	page.WaitRunning()
	for i, screen := range []Screen{Phone, Laptop} {
		page.SetScreen(screen)
		page.Wait("the pictures", `document.querySelector("#rig-plane-figure svg") && document.querySelector("#rig-cycle-figure svg")`)
		// What had changed when the needles had, and what in the end.
		got := Eval[[]string](page, fmt.Sprintf(`new Promise(done => {
			const ids = ["rig-needles", "rig-plane-figure", "rig-cycle-figure"], drawn = () => ids.map(id => document.getElementById(id).querySelector("svg").outerHTML);
			const before = drawn(), changed = () => drawn().map((svg, i) => svg !== before[i] ? ids[i] : "").join(" ").trim();
			let first = "";
			const watch = new MutationObserver(() => { first ||= changed(); });
			watch.observe(document.querySelector(".rig"), {childList: true, subtree: true});
			const dial = document.getElementById("dial-charge");
			dial.value = %d;
			dial.dispatchEvent(new Event("input", {bubbles: true}));
			const rested = setInterval(() => { if (changed().split(" ").length === 3) { clearInterval(rested); done([first, changed()]); } }, 50);
			setTimeout(() => { clearInterval(rested); done([first, changed()]); }, 10000);
		})`, 55-10*i))
		const all = "rig-needles rig-plane-figure rig-cycle-figure"
		if want := []string{"rig-needles", all}[i]; got[0] != want || got[1] != all {
			t.Errorf("%v: first %q changed, want %q; in the end %q", screen, got[0], want, got[1])
		}
	}
}
