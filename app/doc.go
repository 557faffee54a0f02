// Package app is the program in the browser: the routes, and what stands around every
// place. Each place is a package of its own; what they share is package page. They
// ask the model, draw its answers and keep what was typed; they compute nothing about
// a car and hold no sentence.
//
// Reading order:
//
//	places.go     the table of places; a new place is a package and a line here
//	app.go        the page around every place: header, navigation, main, foot
//	frame.go      the job at hand in the header, the notice, the foot; theme.go
//	keys.go       keys for who sits at a keyboard
//	page          the job at hand, its answers, the texts on screen, the device
//	ask           the only way to the model and the solver
//	claim         all that is claimed of an answer
//	readings      what was read on one side, what it means on the other
//	repair        the steps of the repair and their sums; the customer's sheet
//	practice      a car with a hidden fault is drawn, worked on and marked
//	jobs          the jobs of this device, and our record
//	explore       dials are turned, a frame solves and draws
//	learn         patterns, conditions, how the answer is made, sources
//	lookup        pressure ⇄ saturation temperature
//
// go-app compares and copies the exported fields of a component when it is drawn
// again, and drops the rest. So what a component shows stands in exported fields, as
// revisions of package page, and where it gets it from in unexported ones.
//
// # How a keystroke becomes an answer
//
// The handler of an input stores the text in the job and calls page.Page.Edited,
// which keeps it (package keep notes it at every key), reads it as a case (job.Case) and,
// once the model is loaded, asks it within the event. The panels carry the revisions of what
// they show, so that go-app draws again what has changed and nothing else; page.Memo
// does the same within a panel. The answer and its picture come first; the next
// measurement, which takes the model about ten times as long, follows by itself, and
// the reasons, the picture's text and what is off the screen with it. Further
// measurements and catalogue pages are not made before they are opened, and the visit
// after the repair is not read before it is shown.
//
// # Ids
//
// Browser tests and links from elsewhere rely on these ids; a change is a change
// of the contract.
//
//	title, main, nav-<place>, theme, banner, update, dismiss, offline,
//	install, install-yes, install-no, keys, keys-open, keys-letters, keys-close
//	about, examples, start-empty, undo, [data-example]
//	low, high, ambient                      the three that are asked first
//	low-lo, low-hi, high-lo, high-hi        the ends of a swing
//	low-swings, low-vacuum, high-swings, high-pegged    aria-pressed toggles
//	<field>-note                            the message beside a field; [data-suggest] in it
//	low-band, high-band                     where healthy cars read
//	glance                                  the answer in a few words, leads to it
//	unit-psi, unit-kPa, unit-bar, unit-F, unit-C
//	air: humidity, altitude, rpm, blower, recirc
//	car: refrigerant, metering, compressor, high_port, evaporators, size,
//	     label_charge, service_low, service_high
//	more: one id per car.Quantity: vent, discharge_line, …
//	plane-frame, plane-text, plane-summary, plane-table
//	weather, weather-frame, weather-text, weather-summary, weather-table
//	answer, verdict[data-verdict], technician-sentence, questions
//	ranking > li[data-condition], ranking-rest, reasons, why > li[data-quantity], notes
//	open-<condition>, page-<condition>, pair, pattern; catalogue, ref-<key> in Sources
//	next, next-ask[data-quantity], again-<quantity>, outcomes, cautions
//	other-<quantity>, other, other-outcomes, other-cautions; published, published-notes
//	main[data-busy] while an answer is on its way, main[data-planning] while the plan is
//	before-coupling, share, share-said, share-link, print
//	practice: level-<level>, case-title, complaint, needles-summary, fact-<fact>,
//	     buy-<quantity>, spent, made, choice, confidence-<1…5>, stakes, commit,
//	     review-title[data-outcome], truth, points, your-minutes, plan-minutes,
//	     plan[data-done], next-case, progress, class, class-cases, class-link
//	explore: dial-<dial>, dial-<dial>-value, rig-<menu>, rest, clear-trail,
//	     read-<what>, happening, explore-failed, ask-<question>, told-<question>
package app
