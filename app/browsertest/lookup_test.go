//go:build !js

package browsertest

import (
	"strings"
	"testing"
)

// The look-up is one tap from Readings and fits a phone: both numbers, the slider and
// the refrigerants are in view without scrolling, and each is wide enough for a thumb.
func TestLookUpFitsOneHand(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.SetLook(Looks[0])
	page.WaitRunning()
	page.Type("#low", "28")
	page.WaitText("#low-saturation", "32 °F")
	page.Click("#to-saturation")
	page.WaitPlace("saturation")
	page.WaitValue("#saturation-pressure", "28")
	page.WaitValue("#saturation-temperature", "32")
	for _, id := range []string{"saturation-R134a", "saturation-pressure", "saturation-temperature", "saturation-colder", "saturation-slider", "saturation-warmer", "saturation-at", "unit-C"} {
		box := Eval[[]float64](page, `(r => [r.top, r.bottom, r.height])(document.getElementById("`+id+`").getBoundingClientRect())`)
		nav := Eval[float64](page, `document.querySelector(".places").getBoundingClientRect().top`)
		if box[0] < 0 || box[1] > nav {
			t.Errorf("#%s is out of view: %v, navigation at %v", id, box, nav)
		}
		if id != "saturation-at" && box[2] < 44 {
			t.Errorf("#%s is %v px high", id, box[2])
		}
	}
	page.Click("#saturation-warmer")
	page.WaitValue("#saturation-temperature", "33")
	page.Type("#saturation-pressure", "180")
	page.WaitValue("#saturation-temperature", "123") // R-134a, testdata/eos/sat_R134a.csv: 1342 kPa at 50.7 °C
	page.Click("#unit-C")
	page.WaitValue("#saturation-temperature", "50.5") // to half a degree
	for _, look := range Looks {
		page.SetLook(look)
		page.Screenshot("saturation-" + look.Name)
	}
	page.SetScreen(Screen{320, 640, true})
	page.Wait("no part over the side", "document.documentElement.scrollWidth <= 320")
}

// The place to learn: the patterns come, the address of the sources leads to them, and
// the navigation is whole on the narrowest screen.
func TestLearnShowsThePatterns(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL + "learn")
	page.SetLook(Looks[0])
	page.WaitRunning()
	page.WaitPlace("learn")
	page.WaitText("#patterns-card", "outside")
	for _, look := range Looks {
		page.SetLook(look)
		page.Screenshot("learn-patterns-" + look.Name)
	}
	page.WaitText("#loop-card", "Dashed")
	page.Run(`document.querySelector("#loop-card").scrollIntoView()`)
	for _, look := range Looks[:2] {
		page.SetLook(look)
		page.Screenshot("learn-loop-" + look.Name)
	}
	page.SetScreen(Screen{320, 640, true})
	page.Wait("the whole navigation at 320 px", `(n => n.scrollWidth <= n.clientWidth)(document.querySelector(".places"))`)
	page.Wait("every place a thumb wide", `[...document.querySelectorAll(".places a")].every(a => (r => r.width >= 44 && r.height >= 44 && r.left >= 0 && r.right <= 320)(a.getBoundingClientRect()))`)
	page.Wait("no part over the side", "document.documentElement.scrollWidth <= 320")
	page.Screenshot("learn-320")
	page.Go(server.URL + "sources")
	page.WaitRunning()
	page.WaitPlace("sources")
	page.Wait("the sources in view", `document.getElementById("sources").getBoundingClientRect().top < innerHeight`)
}

// The loop unfolds under the picture of the needles, follows the next number, and fits
// the narrowest screen.
func TestLoopUnfolds(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.SetLook(Looks[0])
	page.WaitRunning()
	page.read("30", "200", "90")
	page.waitAnswer()
	page.Click("#loop > summary")
	page.Wait("the loop", `document.querySelector("#loop-frame svg")`)
	before := Eval[string](page, `document.querySelector("#loop-picture-d").textContent`)
	page.Type("#high", "360")
	page.waitAnswer()
	page.Wait("the loop of the new number", `(s => s.includes("360 psi") && !s.includes("⟨"))(document.querySelector("#loop-picture-d").textContent)`)
	if strings.Contains(before, "360 psi") {
		t.Errorf("before it was typed the loop said %q", before)
	}
	for _, look := range Looks {
		page.SetLook(look)
		page.Run(`document.querySelector("#loop").scrollIntoView()`)
		page.Screenshot("loop-" + look.Name)
	}
	page.SetScreen(Screen{320, 640, true})
	page.Wait("no part over the side", "document.documentElement.scrollWidth <= 320")
	page.Wait("the loop as wide as its card", `document.querySelector("#loop-frame").getBoundingClientRect().width > 250`)
}
