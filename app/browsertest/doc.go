// Package browsertest drives the built site in a real browser, the way a person
// uses it: from the static folder, on a phone's or a laptop's screen, with and
// without network, across restarts and updates.
//
//	func TestLowSide(t *testing.T) {
//		server := browsertest.Serve(t, browsertest.Site(t), "/")
//		browser := browsertest.Launch(t)
//		page := browser.Open(server.URL)
//		page.WaitText("h1", "Two Needles")
//		page.Type("#low", "28")
//		page.WaitText("#answer", "…")
//		page.WaitOffline()           // everything is stored
//		server.Stop()                // no network from here
//		page = browser.Relaunch().Open(server.URL + "job?x=1")
//		page.WaitText("h1", "Job")
//	}
//
// [Site] builds the site of this working tree once for a run of tests. [Serve]
// serves a folder like the plainest web host, counts what is asked for and can be
// told to fail. [Launch] starts a browser with a fresh profile; every browser comes
// with a wall around it, so that a request to any other host is recorded and fails
// the test, whoever made it: page, worker or service worker. A [Page] types, clicks,
// waits and reads. Methods fail the test with what they waited for and what was
// there instead; nothing returns an error.
//
// The page follows an action a moment later, so what an action does is waited for,
// never just read. Nothing passes for want of an element: text is what a person
// sees, [Page.WaitNoText] wants the element to be there, a click must arrive where
// it was aimed, what was typed must stand in the field. kit_test.go shows for each
// of these words that it can fail.
//
// At the end of a test every page is asked for trouble: an uncaught exception, an
// error in the console or a violation of the content security policy fails the
// test, unless the page was told to [Page.ExpectTrouble].
//
// Selectors are CSS. Waiting ends after [Patience]. Screenshots go to .cache/shots in
// the module's root, or to $SHOTS, an absolute folder outside the working tree.
//
// everyone_test.go looks over every place for those who come with another eye, hand,
// screen or ear. Its rules of accessibility need axe-core: `make axe`.
//
// The same tests run in three engines: $ENGINE names chromium, which it is by itself,
// firefox or webkit. What a [Page] asks of its browser is the interface tab; chromium.go
// answers in Chromium's own protocol, driven.go in WebDriver, with firefox.go and
// webkit.go for what that has no word for. Browsers and drivers are found in $CHROMIUM,
// $FIREFOX, $WEBKITDRIVER and $XVFB, or in the PATH; without them tests fail, they do not
// skip. A test is left out in an engine by [OnlyIn] alone, which says why: what the engine
// or its driver cannot do, never what the page does wrong there.
//
// Firefox is spoken to over Marionette, its own socket: Debian has no geckodriver, and
// geckodriver does little else. From inside its interface it can be asked for what
// WebDriver lacks: a narrow screen, dark colours, the console. WebKit's own small browser
// forgets everything when its driver ends it, which would leave restarts untested, so
// webkit.py is a window of ours around the same engine. A tab that is not in front is
// brought there before it is spoken to.
//
// Times are measured by the benchmarks of this package and never asserted.
package browsertest
