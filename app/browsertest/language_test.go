//go:build !js

package browsertest

import (
	"fmt"
	"testing"

	"twoneedles/app/internal/pseudo"
	"twoneedles/app/site"
)

// speak chooses a language at the foot of the page.
func (p *Page) speak(code string) {
	p.t.Helper()
	p.Wait("the language "+code+" to choose", fmt.Sprintf(`[...document.querySelector("#language").options].some(o => o.value === %q)`, code))
	p.Run(fmt.Sprintf(`(e => { e.value = %q; e.dispatchEvent(new Event("change", {bubbles: true})); })(document.querySelector("#language"))`, code))
}

// A language is chosen while one works: nothing is loaded again and nothing typed is
// lost. It is fetched once, kept, and spoken at the next start and without network; one
// that was never fetched is then said to be missing, and the page goes on.
func TestLanguageIsChosenAndKept(t *testing.T) {
	server := Serve(t, Site(t), "/deep/er/")
	browser := Launch(t)
	page := browser.Open(server.URL)
	page.WaitRunning()
	page.WaitOffline()
	if asked := server.Asked(); count(asked, "words-en.json.gz") != 1 || count(asked, "words-"+pseudo.Long+".json.gz") > 0 {
		t.Errorf("a first visit asks for the words of %v", asked)
	}
	page.bench("33", "208", "90")
	page.Click("#examples")
	page.Run("window.same = true")
	page.speak(pseudo.Long)
	page.WaitText("#nav-job", "Jóób")
	page.WaitText("#answer", "áá")
	page.WaitValue("#low", "33")
	page.Wait("the list of examples to be open still, the page to be the same, and its language to be said",
		`window.same && document.querySelector("#examples").ariaExpanded === "true" && document.documentElement.lang === "`+pseudo.Long+`" && document.title.includes("Rééáádííngs")`)
	if n := count(server.Asked(), "words-"+pseudo.Long+".json.gz"); n != 1 {
		t.Errorf("its words were fetched %d times, want once", n)
	}

	page.Reload() // now from the store, and in the language from the start
	page.WaitRunning()
	page.WaitText("#nav-job", "Jóób")

	// A newer version takes the language along.
	offerNext(t, server, page)
	server.Stop()
	page.takeUpdate()
	page.WaitText("#nav-job", "Jóób")
	page.WaitValue("#low", "33")

	page.speak(pseudo.Mirrored)
	page.WaitText("#banner", "דררקמ")
	page.WaitText("#nav-job", "Jóób")
	page.Wait("the menu to say what is spoken", `document.querySelector("#language").value === "`+pseudo.Long+`"`)
	page.ExpectTrouble() // the network was asked

	server.Start()
	page.speak(pseudo.Mirrored)
	page.Wait("right to left", `document.documentElement.dir === "rtl" && !/[a-z]/i.test(document.querySelector("#nav-job").textContent)`)
	page.speak("en")
	page.WaitText("#nav-job", "Job")
	page.Wait("left to right", `document.documentElement.dir === "ltr"`)
}

// Where the words of the chosen language are lost and there is no network, the page
// starts in English and says why.
func TestLanguageThatIsLost(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.WaitRunning()
	page.WaitOffline()
	server.Stop()
	page.Run(`localStorage.setItem("twoneedles.language", "` + pseudo.Long + `")`)
	page.Reload()
	page.WaitRunning()
	page.WaitText("#banner", "Lóóng is not on this device yet")
	page.WaitText("#nav-job", "Job")
	page.ExpectTrouble()
}

// The real languages have their navigation whole on a usual phone, and every word in its
// box, in the place where the boxes are smallest.
func TestSpokenLanguagesFit(t *testing.T) {
	page := Launch(t).Open(Serve(t, Site(t), "/").URL + "#example")
	page.WaitRunning()
	page.SetLook(Looks[0])
	for _, lang := range Eval[[]string](page, "twoneedles.languages.map(l => l.code)") {
		if lang == pseudo.Long || lang == pseudo.Mirrored {
			continue // see TestLanguagesFitEveryPlace
		}
		page.speak(lang)
		page.Wait(lang+" spoken", `document.documentElement.lang === "`+lang+`"`)
		if px := Eval[float64](page, `(e => e.scrollWidth - e.clientWidth)(document.querySelector(".places"))`); px > 0 {
			t.Errorf("%s: %g px of the navigation are over the side", lang, px)
		}
		out := Eval[string](page, `[...document.querySelectorAll(".gauge, .seg, .glance, .btn")].filter(e => e.scrollWidth > e.clientWidth + 1).map(e => e.textContent).join("; ")`)
		if out != "" {
			t.Errorf("%s: words out of their box: %s", lang, out)
		}
		page.Screenshot("readings-" + lang)
	}
}

// Every place holds words that are 40 % longer on the smallest phone, and turns round
// for a language that is written from right to left.
func TestLanguagesFitEveryPlace(t *testing.T) {
	server := Serve(t, Site(t), "/")
	browser := Launch(t)
	for _, lang := range []string{pseudo.Long, pseudo.Mirrored} {
		page := browser.Open(server.URL)
		page.WaitRunning()
		page.Run(`localStorage.setItem("twoneedles.language", "` + lang + `")`)
		for _, place := range append([]string{""}, site.Places...) {
			address, name := place, place
			if name == "" {
				address, name = "#example", "readings"
			}
			page.Go(server.URL + address)
			page.Reload()
			page.WaitRunning()
			page.WaitPlace(name)
			page.SetScreen(Screen{320, 640, true})
			page.Run(`document.querySelectorAll("details").forEach(d => d.open = true)`)
			if px := page.sideways(); px > 0 {
				t.Errorf("%s in %s: %d px over the side", name, lang, px)
			}
			page.Screenshot(name + "-" + lang)
		}
		page.Close()
	}
}
