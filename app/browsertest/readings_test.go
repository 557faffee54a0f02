//go:build !js

package browsertest

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// bench puts three readings on a phone’s empty bench, in psi and °F, one after the
// other without a pause: on its way to 330 the high side passes 3, below the low side,
// and the question about it that comes and goes must not take the next field away.
func (p *Page) bench(low, high, ambient string) {
	p.t.Helper()
	p.SetScreen(Phone)
	p.WaitRunning()
	p.WaitText("#answer-say", "Type both needles")
	setUnit(p, "psi", "F")
	p.read(low, high, ambient)
	p.waitAnswer()
}

// read types the three numbers of a visit.
func (p *Page) read(low, high, ambient string) {
	p.t.Helper()
	p.Type("#low", low)
	p.Type("#high", high)
	p.Type("#ambient", ambient)
}

// waitAnswer waits until the answer is that of what is typed now.
func (p *Page) waitAnswer() {
	p.t.Helper()
	p.Wait("an answer", `document.querySelector("#verdict") && !document.querySelector("#main[data-busy], #main[data-planning]")`)
}

// leader is the likeliest condition.
func (p *Page) leader() string {
	p.t.Helper()
	p.waitAnswer()
	return Eval[string](p, `document.querySelector("#ranking > li").dataset.condition`)
}

// Two needles and the weather on a phone: an answer, its picture and what to
// measure, in any unit, steady or swinging.
func TestReadingsOnAPhone(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.SetScreen(Phone)
	page.WaitRunning()
	// A first visit is empty and shows an example after one tap. What is invented goes
	// as soon as a number is typed over: a tap selects it.
	page.Click("#example")
	page.WaitText("#about", "invented car")
	page.waitAnswer()
	page.Click("#low")
	page.Keys("45")
	page.WaitText("#about", "invented numbers are gone")
	page.WaitValue("#low", "45")
	page.WaitValue("#high", "")
	page.WaitValue("#ambient", "")
	page.Click("#undo")
	page.waitAnswer()
	page.Click("#start-empty")
	page.Wait("the focus to go to the low side", `document.activeElement.id === "low"`)

	page.bench("38", "330", "90")
	first := page.leader()
	for _, id := range []string{"technician-sentence", "ranking", "why", "next-ask", "low-band", "high-band"} {
		if strings.TrimSpace(page.Text("#"+id)) == "" {
			t.Errorf("#%s is empty", id)
		}
	}
	page.Wait("the pressure plane", `document.querySelector("#plane-frame svg")`)

	// A reading does not change with its unit, nor its answer; what was typed
	// comes back to the letter.
	page.Click("#unit-bar")
	page.Click("#unit-C")
	page.waitAnswer()
	page.WaitValue("#low", "2.62")
	page.WaitValue("#high", "22.75") // 330 psi are 22.753 bar, and a gauge in bar is typed to hundredths
	page.WaitValue("#ambient", "32") // 90 °F are 32.2 °C, and weather is typed in whole degrees
	if got := page.leader(); got != first {
		t.Errorf("in bar and °C it is %s, before it was %s", got, first)
	}
	page.Click("#unit-psi")
	page.Click("#unit-F")
	page.WaitValue("#low", "38")
	page.WaitValue("#high", "330")
	page.WaitValue("#ambient", "90")

	// A needle that swings: the number typed first is one end of it.
	page.Click("#low-swings")
	page.Wait("two ends", `document.activeElement.id === "low-lo"`)
	page.WaitValue("#low-lo", "38")
	page.Type("#low-lo", "22")
	page.Type("#low-hi", "44")
	page.waitAnswer()
	page.WaitText(`#why [data-quantity="low"]`, "22–44 psi")
	page.Click("#low-swings")
	page.WaitText(`#why [data-quantity="low"]`, "38 psi")

	// The point comes from where it was: at first it was much higher up.
	page.Type("#high", "230")
	page.waitAnswer()
	page.Wait("the point to glide", `(frame => getComputedStyle(frame.querySelector(".glide")).animationName === "glide" &&
		parseFloat(frame.style.getPropertyValue("--glide-y")))(document.getElementById("plane-frame"))`)

	// The answer and the next step stay in view in a few words, which lead to the step.
	page.Type("#high", "150")
	page.Type("#low", "6")
	page.waitAnswer()
	inView := `(r => r.top >= 0 && r.bottom <= innerHeight)(document.getElementById("glance").getBoundingClientRect())`
	page.WaitText("#glance", strings.TrimSpace(page.Text("#next-ask")))
	page.Run("scrollTo(0, 2000)")
	page.Wait("the bar in view", inView)
	page.Click("#glance")
	page.Wait("the next step at the top", `Math.abs(document.getElementById("next").getBoundingClientRect().top) < 150 && document.activeElement.id === "next"`)

	// What it asks for is typed there, and what it changes is said there.
	ask := Eval[string](page, `document.querySelector("#next input").id`)
	page.Type("#"+ask, "85")
	page.WaitText("#change", "With 85 °F: ")
	page.Wait("the change in view", `(r => r.top >= 56 && r.bottom <= innerHeight)(document.getElementById("change").getBoundingClientRect())`)
	page.Wait("the field to keep the focus", fmt.Sprintf(`document.activeElement.id === %q`, ask))
	page.Keys(kb.Enter)
	page.Wait("another step", fmt.Sprintf(`!document.getElementById(%q) && document.getElementById("next-ask")`, ask))
	page.WaitGone("#change")

	// Nothing goes beyond the edge of the phone.
	wantNoSideways(t, page, "readings")
	page.FullScreenshot("readings-phone")
}

// What cannot be read, or can hardly be meant: said beside the field, never erased,
// and what was probably meant is one tap away.
func TestBadReadingsStayAndAreExplained(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.bench("38", "330", "90")
	for text, want := range map[string]string{
		"abc": "cannot be read as a number", "9e99": "is too much", "in 40": "below a perfect vacuum", "-99": "below a perfect vacuum",
	} {
		page.Type("#low", "38") // what was said of the text before goes
		page.WaitGone("#low-note")
		page.WaitNoText("#answer-say", "cannot be used yet")
		page.Type("#low", text)
		page.WaitText("#low-note", want)
		page.WaitText("#answer-say", "cannot be used yet")
		page.WaitValue("#low", text)
		page.WaitValue("#high", "330")
	}
	page.Type("#low", "330")
	page.Type("#high", "38")
	page.WaitText("#low-note", "swapped hoses")
	page.Click(`#low-note [data-suggest="swap_sides"]`)
	page.Wait("the sides swapped", `document.querySelector("#low").value === "38" && document.querySelector("#high").value === "330"`)

	// Another unit was meant.
	setUnit(page, "C")
	page.WaitValue("#ambient", "32") // 90 °F are 32.2 °C, and weather is typed in whole degrees
	page.Type("#ambient", "95")
	page.WaitText("#ambient-note", "95 °F")
	page.WaitValue("#ambient", "95")
	page.Click("#ambient-note [data-suggest]")
	page.Wait("the suggestion in the field", `document.querySelector("#ambient").value.includes("F")`)
	setUnit(page, "bar")
	page.WaitValue("#low", "2.62")
	page.Type("#high", "210")
	page.WaitText("#high-note", "210 psi")
	page.WaitValue("#high", "210")
	page.Click("#high-note [data-suggest]")
	page.Wait("the suggestion in the field", `document.querySelector("#high").value.includes("psi")`)
	page.waitAnswer()

	// An optional reading that makes no sense costs only itself.
	page.reach("vent", "warm")
	page.WaitText("#vent-note", "cannot be read")
	page.waitAnswer()
	page.WaitValue("#vent", "warm")
}

// Without network: reloaded, by a deep link, and after the phone was switched off;
// what was typed is there every time.
func TestReadingsSurvive(t *testing.T) {
	server := Serve(t, Site(t), "/deep/er/")
	browser := Launch(t)
	page := browser.Open(server.URL)
	page.bench("21", "168", "95")
	page.reach("vent", "66")
	page.WaitKept("the readings to be kept", `"168"`, `"66"`)
	leader := page.leader()
	page.WaitOffline()
	server.Stop()

	again := func(what string) {
		t.Helper()
		page.SetScreen(Phone)
		page.WaitRunning()
		page.waitAnswer()
		page.Run(`document.querySelector("#more").open = true`)
		page.Wait("the further measurements", `document.querySelector("#vent")`)
		for id, text := range map[string]string{"#low": "21", "#high": "168", "#ambient": "95", "#vent": "66"} {
			page.WaitValue(id, text)
		}
		if got := page.leader(); got != leader {
			t.Errorf("%s: %s leads, before it was %s", what, got, leader)
		}
	}
	page.Reload()
	again("reloaded")
	page.Go(server.URL + "?from=a+note#there")
	again("deep link")
	if got := Eval[string](page, "location.search + location.hash"); got != "?from=a+note#there" {
		t.Errorf("the address lost its end: %q", got)
	}
	page.Close()
	page = browser.Relaunch().Open(server.URL)
	again("switched off and on")

	page.Click("#examples")
	page.Click(`[data-example="coupe_restriction"]`)
	page.WaitText("#about", "coupé")
	page.Wait("the example’s readings", `document.querySelector("#low").value === "6"`)
	page.Click("#undo")
	page.Wait("what was there before", `document.querySelector("#low").value === "21"`)
}

// The reading is moved over the picture by keys, and by a tap.
func TestPlaneIsMovedByKeysAndTaps(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.bench("30", "200", "90")
	page.Run(`document.querySelector("#plane-frame").focus()`)
	page.Keys(kb.ArrowRight + kb.ArrowRight + kb.ArrowLeft + kb.ArrowUp)
	page.Wait("one step each", `document.querySelector("#low").value === "31" && document.querySelector("#high").value === "205"`)
	page.ShiftKeys(kb.ArrowDown)
	page.Wait("a large step", `document.querySelector("#high").value === "180"`)
	page.waitAnswer()
	if id := Eval[string](page, "document.activeElement.id"); id != "plane-frame" {
		t.Errorf("the focus went to %q", id)
	}
	page.WaitText(`#why [data-quantity="high"]`, "180 psi")
	page.Click("#plane-frame svg")
	page.Wait("the reading to follow the tap", `document.querySelector("#high").value !== "180"`)
	page.waitAnswer()
}

// A link carries the readings to another device and leaves nothing in its address.
func TestSharedReadings(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.bench("38", "330", "90")
	page.reach("vent", "61")
	page.waitAnswer()
	leader := page.leader()
	page.Run(`Object.defineProperty(navigator, "clipboard", {value: {writeText: t => (window.copied = t, Promise.resolve())}})`)
	page.Run(`document.querySelector("#keep").open = true`)
	page.Click("#share")
	page.WaitText("#share-said", "Link copied")
	link := Eval[string](page, "window.copied")
	if !strings.HasPrefix(link, server.URL+"#j1.") {
		t.Fatalf("the link is %.80s", link)
	}
	other := Launch(t).Open(link)
	other.SetScreen(Phone)
	other.WaitRunning()
	other.WaitText("#banner", "Opened from a link")
	other.waitAnswer()
	other.Run(`document.querySelector("#more").open = true`)
	other.Wait("the further measurements", `document.querySelector("#vent")`)
	for id, text := range map[string]string{"#low": "38", "#high": "330", "#ambient": "90", "#vent": "61"} {
		other.WaitValue(id, text)
	}
	if got := other.leader(); got != leader {
		t.Errorf("there %s leads, here %s", got, leader)
	}
	if hash := Eval[string](other, "location.hash"); hash != "" {
		t.Errorf("the job stays in the address: %s", hash)
	}
}

// The maker's own figures, typed in, take the place of the healthy band: in the
// words beside the needles, in the answer and in the pictures.
func TestOwnServiceFigures(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.bench("62", "360", "90")
	page.WaitText("#high-band", "above")
	if page.leader() == "healthy" {
		t.Error("without figures of its own this car is not healthy")
	}
	page.Run(`document.querySelector("#car").open = true`)
	page.Type("#service_low", "45")
	page.WaitText("#service_low-note", "range")
	page.Type("#service_low", "57-67")
	page.Type("#service_high", "345-375")
	page.WaitText("#low-band", "as healthy 57")
	page.WaitText("#high-band", "as healthy 345")
	page.WaitText(`#why [data-quantity="low"]`, "62 psi, within the healthy 57–67")
	page.waitAnswer()
	if got := page.leader(); got != "healthy" {
		t.Errorf("inside its own figures the car is %s", got)
	}
	page.Run(`document.querySelector("#plane-text").open = true`)
	page.WaitText("#plane-summary", "360 psi")
	page.WaitText("#plane-summary", "are both where healthy cars stand")
	page.Run(`document.querySelector("#weather").open = true`)
	page.Wait("the picture across the weather", `document.querySelector("#weather-frame svg")`)
	page.WaitText("#weather-frame", "maker")
}

// A condition's page opens in its row, goes along when the order changes, and its
// sources lead to their entries.
func TestConditionPagesOpen(t *testing.T) {
	server := Serve(t, Site(t), "/deep/er/")
	page := Launch(t).Open(server.URL)
	page.bench("38", "330", "90")
	first := page.leader()
	if n := Eval[int](page, `document.querySelectorAll(".catalogue").length`); n != 0 {
		t.Errorf("%d pages are there before one was opened", n)
	}
	page.Click("#open-" + first)
	page.WaitText("#page-"+first, "Before you act")
	page.Type("#high", "160") // something else leads now
	page.waitAnswer()
	page.Wait("another leader", fmt.Sprintf(`document.querySelector("#ranking > li").dataset.condition !== %q`, first))
	page.Wait("the page to stay with its condition", fmt.Sprintf(`document.querySelector("#page-%s").closest("li").dataset.condition === %q &&
		document.querySelectorAll(".catalogue").length === 1`, first, first))
	page.Type("#high", "330")
	page.waitAnswer()
	page.Wait("it to lead again", fmt.Sprintf(`document.querySelector("#ranking > li").dataset.condition === %q`, first))
	page.Click("#page-" + first + " .cite")
	page.WaitText("h1", "Sources")
	page.Wait("the entry of the source", `document.activeElement.id.startsWith("ref-") && scrollY > 0`)
	page.Click("#nav-learn")
	page.Wait("the conditions", `document.querySelector("#open-weak_compressor")`)
	page.Run(`document.querySelector("#open-weak_compressor").click()`)
	page.WaitText("#page-weak_compressor", "Check next")
}

// On the phones that most have, the question about the engine and both ways beside it
// stand in one row: what wraps pushes the needles down by a finger's height.
func TestOneRowAboveTheNeedles(t *testing.T) {
	OnlyIn(t, "beside the narrow page of another's window stands a scroll bar that no phone has", "chromium")
	page := Launch(t).Open(Serve(t, Site(t), "/").URL)
	page.WaitRunning()
	page.read("38", "330", "90")
	for _, width := range []int64{360, 375, 390, 412} {
		page.SetScreen(Screen{width, 760, true})
		page.Wait(fmt.Sprintf("one row, %d wide", width), `new Set(["engine-on", "engine-off", "examples", "start-empty"].map(id => Math.round(document.getElementById(id).getBoundingClientRect().top))).size === 1`)
	}
}

// The field of the next step goes to the top of a phone's screen, where its keypad leaves
// room; a hand that has gone on by then is not called back.
func TestTheKeypadLeavesRoom(t *testing.T) {
	page := Launch(t).Open(Serve(t, Site(t), "/").URL + "#example")
	page.SetScreen(Phone)
	page.WaitRunning()
	page.waitAnswer()
	const asked = ".asked input"
	page.Focus(asked)
	page.Wait("the step in the upper quarter of the screen", `document.querySelector(".asked").getBoundingClientRect().top < innerHeight / 4`)
	after := Eval[[]float64](page, `(async () => {
		document.querySelector("`+asked+`").blur();
		document.querySelector("`+asked+`").focus();
		document.getElementById("low").focus();
		await new Promise(next => requestAnimationFrame(() => requestAnimationFrame(next))); // some scroll to the focus with the next picture
		const there = scrollY;
		await new Promise(next => setTimeout(next, 800)); // the keypad takes 300
		return [there, scrollY];
	})()`)
	if after[0] != after[1] {
		t.Errorf("the page went from %v to %v though the hand was in another field", after[0], after[1])
	}
}
