//go:build !js

package browsertest

import (
	"fmt"
	"testing"
)

// A long day at one page holds no more at its end than after its first minutes: keys
// typed, places changed. MEMORY_KEYS makes the day longer; DEVELOPERS.md has the figures of
// 2000.
//
// The bounds are generous, since a browser frees when it likes. A page kept at each change
// of place, a listener at every other key or 20 KB at each is over them.
func TestMemoryIsFlat(t *testing.T) {
	OnlyIn(t, "memory is measured in its own protocol", "chromium")
	keys := number(t, "MEMORY_KEYS", 200)
	page := Launch(t).Open(Serve(t, Site(t), "/").URL)
	page.SetScreen(Phone)
	page.WaitRunning()
	page.read("30", "200", "90")
	page.waitAnswer()

	// The least of what was held, of the program's memory, which never shrinks, the last:
	// elements that are gone are let go when the program collects its garbage, every fifty
	// keys or so, and there may be fifty pages of them a moment before. Looked at as often
	// as it collects, it may be that moment each time.
	day := func(from, keys int) Memory {
		const atOnce = 10
		var least Memory
		for at := from; at < from+keys; at += atOnce {
			page.Run(fmt.Sprintf(typeAndGo, at, min(at+atOnce, from+keys)))
			page.waitAnswer()
			m := page.Memory()
			if at == from {
				least = m
			}
			least = Memory{min(least.Script, m.Script), m.Program, min(least.Nodes, m.Nodes), min(least.Listeners, m.Listeners)}
		}
		return least
	}
	first := day(0, keys/2)
	last := day(keys/2, keys/2)
	t.Logf("after %d keys: %v", keys/2, first)
	t.Logf("after %d keys: %v", keys, last)
	for _, k := range []struct {
		what              string
		first, last, more float64
	}{
		{"MiB of scripts", first.Script, last.Script, 3},
		{"MiB of the program", first.Program, last.Program, 8}, // it grows in steps of a whole collection
		{"nodes", first.Nodes, last.Nodes, 6000},               // ten pages
		{"listeners", first.Listeners, last.Listeners, 60},
	} {
		if k.first <= 0 {
			t.Errorf("%s were not measured", k.what)
		}
		if k.last > k.first+k.more {
			t.Errorf("%s: %.1f after %d keys, %.1f after %d; %.0f more are allowed", k.what, k.first, keys/2, k.last, keys, k.more)
		}
	}
}

// typeAndGo types a number into one of three fields, and after every fourth goes to
// another place and back, waiting each time until it is drawn.
const typeAndGo = `(async () => {
	const drawn = () => new Promise(done => requestAnimationFrame(() => setTimeout(done, 0)));
	const there = async (selector) => {
		for (let n = 0; n < 500; n++) {
			const e = document.querySelector(selector);
			if (e) return e;
			await drawn();
		}
		throw new Error(selector + " did not come");
	};
	const places = ["job", "practice", "explore", "learn"];
	for (let n = %d; n < %d; n++) {
		const field = await there(["#low", "#high", "#vent"][n %% 3]);
		field.value = String([20, 150, 40][n %% 3] + n %% 17);
		field.dispatchEvent(new Event("input", {bubbles: true}));
		await drawn();
		if (n %% 4 == 3) {
			(await there('nav a[href$="/' + places[(n >> 2) %% places.length] + '"]')).click();
			for (let n = 0; n < 500 && document.querySelector("#low"); n++) await drawn();
			(await there('nav a[href$="./"], nav a[href$="/readings"]')).click();
			await there("#low");
		}
	}
})()`
