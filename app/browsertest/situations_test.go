//go:build !js

package browsertest

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// hand types as one does on a phone, and counts what it costs.
type hand struct {
	*Page
	taps, digits int
}

func (h *hand) tap(selector string) { h.t.Helper(); h.Click(selector); h.taps++ }

// key types a number into the field that has the focus.
func (h *hand) key(text string) {
	h.t.Helper()
	h.Keys(text)
	h.digits += len(strings.NewReplacer(" ", "", ",", "", ".", "").Replace(text))
}

// next is the key of the keypad that goes to the next number.
func (h *hand) next() { h.t.Helper(); h.Keys(kb.Enter) }

// situation is one that a technician stands before, as he types it.
type situation struct {
	name               string
	low, high, ambient string
	before             func(*hand) // what is tapped before the numbers
	metric             bool
	// expect is the condition that a trained person thinks of first, as the situation is
	// called; it must be ranked in the open.
	expect    string
	extraTaps int // for a needle that swings or a vacuum
}

func swing(h *hand, side string, lo, hi string) {
	h.tap("#" + side + "-swings")
	h.Wait("two ends", fmt.Sprintf(`document.activeElement.id === "%s-lo"`, side))
	h.key(lo)
	h.next()
	h.key(hi)
}

// situations are invented; pressures in psi and temperatures in °F, or in bar and °C.
var situations = []situation{
	{name: "a healthy car", low: "38", high: "245", ambient: "95", expect: "healthy"},
	{name: "half of the charge", low: "15", high: "125", ambient: "90", expect: "undercharge"},
	{name: "too much refrigerant", low: "52", high: "330", ambient: "88", expect: "overcharge"},
	{name: "a blockage", low: "6", high: "150", ambient: "90", expect: "restriction"},
	{name: "a weak compressor", low: "68", high: "135", ambient: "90", expect: "weak_compressor"},
	{name: "no air through the condenser", low: "55", high: "375", ambient: "90", expect: "condenser_airflow"},
	{name: "no air through the evaporator", low: "18", high: "165", ambient: "85", expect: "evaporator_airflow"},
	{name: "empty", low: "4", high: "6", ambient: "80", expect: "empty"},
	{name: "a clutch that cycles", ambient: "78", expect: "healthy", extraTaps: 2, before: func(h *hand) {
		swing(h, "low", "18", "46")
		swing(h, "high", "140", "190")
		h.next()
	}},
	{name: "a vacuum", high: "110", ambient: "90", expect: "restriction", extraTaps: 1, before: func(h *hand) {
		h.tap("#low-vacuum")
		h.Wait("the sign of a vacuum", `document.activeElement.id === "low" && document.activeElement.value === "in "`)
		h.Keys(kb.End)
		h.key("12")
		h.next()
	}},
	{name: "R-1234yf", low: "2,0", high: "11", ambient: "30", metric: true, expect: "undercharge"},
	{name: "equal sides", low: "85", high: "85", ambient: "85"},
	{name: "bar and °C", low: "2,1", high: "14", ambient: "30", metric: true, expect: "healthy"},
}

// readsOf are numbers for whatever is asked for next, in psi and °F, and in bar and °C.
var readsOf = map[string][2]string{
	"vent": {"60", "12"}, "suction_line": {"50", "10"}, "liquid_line": {"115", "46"}, "discharge_line": {"175", "80"},
	"resting": {"80", "6"}, "cycling": {"3", "3"}, "high_idle": {"200", "14"}, "low_idle": {"35", "2"},
	"equalise_time": {"20", "20"}, "water_test": {"250", "17"}, "recovered": {"1", "400"},
}

// Every situation on a phone from an empty page: an answer within one tap and seven
// digits, a swing or a vacuum aside, and what the next number changes within one tap and
// its digits, both in view.
func TestSituationsOnAPhone(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.SetScreen(Phone)
	page.WaitRunning()
	page.Wait("the program to be ready", `twoneedles.offline !== ""`)
	// What was asked for when the marks of what is on its way were taken, which is what
	// waitAnswer waits for.
	page.Run(`new MutationObserver(() => {
		const main = document.getElementById("main"), ask = document.getElementById("next-ask");
		if (!main.matches("[data-busy], [data-planning]")) window.askedAtRest = ask && ask.textContent;
	}).observe(document.getElementById("main"), {attributes: true})`)
	for i, s := range situations {
		t.Log(s.name)
		if i > 0 {
			page.Run("scrollTo(0, 0)")
			page.Click("#start-empty")
			page.WaitText("#answer-say", "Type both needles")
		}
		units := map[bool][]string{false: {"psi", "F"}, true: {"bar", "C"}}[s.metric]
		setUnit(page, units...) // once, by whoever uses it
		h := &hand{Page: page}
		if s.before != nil {
			s.before(h)
		} else {
			h.tap("#low")
			h.key(s.low)
			h.next()
		}
		if s.high != "" {
			h.key(s.high)
			h.next()
		}
		h.key(s.ambient)
		page.waitAnswer()
		most := 7
		if s.extraTaps > 0 {
			most = 13 // two ends of two needles
		}
		if h.taps > 1+s.extraTaps || h.digits > most {
			t.Errorf("%s: the answer took %d taps and %d digits", s.name, h.taps, h.digits)
		}
		page.Wait("the answer in view", inView("glance", 0))
		if late := Eval[string](page, `new Promise(done => setTimeout(() => {
			const now = document.getElementById("next-ask").textContent;
			done(now === askedAtRest ? "" : askedAtRest + " became " + now);
		}, 100))`); late != "" {
			t.Errorf("%s: the marks went before the next step was drawn: %s", s.name, late)
		}
		page.Wait("the bar to say the next step", `(ask => ask && (!ask.dataset.quantity || document.querySelector("#glance").textContent.includes(ask.textContent)))(document.querySelector("#next-ask"))`)
		page.Wait("the whole bar", `(b => b.scrollHeight <= b.clientHeight + 1)(document.querySelector("#glance > :first-child"))`)
		if s.name == "equal sides" {
			if strings.Contains(page.Text("#main"), "Compressor does not turn") {
				t.Error("equal sides condemn a compressor before it is known whether it runs")
			}
			h.tap("#ask-engine-on")
			page.waitAnswer()
			s.expect = "not_running"
			page.WaitText("#glance", "clutch")
		}
		ranked := Eval[string](page, `[...document.querySelectorAll("#ranking > li")].map(e => e.dataset.condition).join(" ")`)
		if !strings.Contains(" "+ranked+" ", " "+s.expect+" ") {
			t.Errorf("%s: in the open are %s and not %s", s.name, ranked, s.expect)
		}
		bar, screens := strings.TrimSpace(page.Text("#glance > :first-child")), Eval[float64](page, `(document.getElementById("main").getBoundingClientRect().bottom + scrollY) / 844`) // without the foot
		if screens > 3 {
			t.Errorf("%s: the answer is %.2f screens long", s.name, screens)
		}
		t.Logf("  %d taps, %d digits: %s; %.2f screens", h.taps, h.digits, bar, screens)

		asked := Eval[string](page, `document.querySelector("#next-ask").dataset.quantity || ""`)
		if asked == "" {
			continue // there is something to do
		}
		number := readsOf[asked][map[bool]int{false: 0, true: 1}[s.metric]]
		h = &hand{Page: page}
		h.tap("#again-" + asked)
		h.key(number)
		page.WaitText("#change", "With ")
		page.Wait("what was typed to be answered", fmt.Sprintf(`document.querySelector("#change").textContent.includes(%q)`, number))
		page.waitAnswer()
		page.Wait("what it changed in view", inView("change", 56))
		page.Wait("the answer in view", inView("glance", 0))
		if h.taps != 1 || h.digits > 3 {
			t.Errorf("%s: the second answer took %d taps and %d digits", s.name, h.taps, h.digits)
		}
		t.Logf("  %s %s: %s", asked, number, strings.TrimSpace(page.Text("#change p")))
	}
}

// inView is true while an element is whole on the screen, below what covers its top and
// above the navigation.
func inView(id string, top int) string {
	return fmt.Sprintf(`(r => r.height > 0 && r.top >= %d && r.bottom <= innerHeight - 52)(document.getElementById(%q).getBoundingClientRect())`, top, id)
}
