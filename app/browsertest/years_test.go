//go:build !js

package browsertest

import (
	"fmt"
	"testing"
)

// setClock moves the clock of the page back by so many days. The program asks the page for
// the time, so it follows at once; reloading sets it right again.
func (p *Page) setClock(daysAgo int) {
	p.t.Helper()
	p.Run(fmt.Sprintf(`(() => {
		const Real = window.RealDate || (window.RealDate = Date), off = %d * 864e5;
		window.Date = class extends Real {
			constructor(...a) { a.length ? super(...a) : super(Real.now() - off); }
			static now() { return Real.now() - off; }
		};
	})()`, daysAgo))
}

// One invented car over three years, on a phone without network: sound, then slowly short
// of refrigerant and repaired, then with a blocked condenser. Each visit is read against
// what the car itself read before.
func TestOneCarOverThreeYears(t *testing.T) {
	server := Serve(t, Site(t), "/")
	page := Launch(t).Open(server.URL)
	page.SetScreen(Phone)
	page.WaitRunning()
	page.WaitOffline()
	server.Stop()

	// Three years ago, in order.
	page.setClock(3 * 365)
	page.Click("#nav-job")
	page.open("record")
	page.Click("#record-new") // a job that begins on that day
	page.Wait("the step that held the button to fold", `document.querySelector("#step-record[aria-expanded=false]")`)
	page.open("record")
	page.Type("#of-car", "Invented wagon, blue")
	page.Click("#nav-readings")
	setUnit(page, "psi", "F")
	page.choose("#refrigerant", "R134a")
	page.choose("#metering", "orifice_tube")
	page.read("33", "215", "86")
	page.WaitText("#answer-say", "healthy")
	page.Click("#nav-job")
	page.open("record")
	page.Click("#sound-before")
	page.Wait("the mark", `document.querySelector("#sound-before").getAttribute("aria-pressed") === "true"`)
	page.Click("#next-visit")

	// A year ago: short of refrigerant, found and repaired.
	page.setClock(365)
	page.WaitPlace("readings")
	page.Click("#nav-job")
	page.open("record")
	page.Click("#next-visit") // begun on its own day
	page.WaitPlace("readings")
	page.WaitText("#earlier-visits", "33 and 215 psi, outside 86 °F")
	page.read("17", "140", "84")
	page.WaitText("#earlier-says", "It read 33 psi and 215 psi 24 months ago, at 86 °F outside.")
	page.WaitText("#earlier-says", "it reads 17 psi and 140 psi")
	page.WaitText("#earlier-why", "lower than")
	page.WaitText("#ranking", "Not enough refrigerant")
	page.WaitNoText("#earlier", "does not look like")
	page.Wait("the band of this car", `!!document.querySelector("#plane-frame .own")`)
	page.Click("#plane-text summary")
	page.WaitText("#plane-summary", "not where this car stood in order")
	page.FullScreenshot("years-short")
	page.Click("#nav-job")
	page.open("repair")
	page.choose("#cause", "undercharge")
	page.open("prove")
	page.Type("#after-low", "32")
	page.Type("#after-high", "210")
	page.open("record")
	page.Click("#found-confirmed")
	page.WaitText("#found-is", "confirmed")
	page.Click("#sound-after")
	page.Wait("the mark", `document.querySelector("#sound-after").getAttribute("aria-pressed") === "true"`)

	// Today: the condenser is blocked.
	page.setClock(0)
	page.Click("#next-visit")
	page.WaitPlace("readings")
	page.read("49", "390", "88")
	page.WaitText("#earlier-visits", "32 and 210 psi")
	page.WaitText("#earlier-visits", "33 and 215 psi")
	page.WaitText("#earlier-why", "higher than")
	page.WaitText("#ranking", "condenser")
	page.WaitNoText("#earlier", "does not look like")
	page.Click("#years-part summary")
	page.Wait("the car over time", `!!document.querySelector("#years-frame svg")`)
	page.Click("#years-part details summary")
	page.WaitText("#years-summary", "as it left, in order: low side 32 psi")
	page.FullScreenshot("years-blocked")
	// One visit left out with a tap, and back.
	page.Click("#earlier-visits li:first-child .chip")
	page.Wait("the visit to be left out", `document.querySelector("#earlier-visits li:first-child .chip").getAttribute("aria-pressed") === "true"`)
	page.WaitText("#earlier-says", "33 psi and 215 psi")
	page.settle() // the step that follows comes later, and moves what is below it
	page.Click("#earlier-visits li:first-child .chip")
	page.WaitText("#earlier-says", "32 psi and 210 psi")

	// The phone is put away and comes back, still without network: all is there.
	page.WaitKept("the job to be kept", `"390"`)
	page.Reload()
	page.WaitRunning()
	page.WaitText("#earlier-says", "it reads 49 psi and 390 psi")

	// The record counts what was confirmed, and claims nothing of one job.
	page.Click("#to-jobs")
	page.Click("#record summary")
	page.WaitText("#record-few", "1 job is confirmed")
	page.FullScreenshot("years-record")
	page.SetDark(true)
	page.FullScreenshot("years-record-dark")
}
