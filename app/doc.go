// Package app is the page: the only package, with app/cmd/site, that knows
// go-app. It asks the model, draws its answers and keeps what was typed; it
// computes nothing about a car and holds no sentence.
//
// Reading order:
//
//	places.go     the table of places; a new place is a file and a line here
//	app.go        the page around every place: header, navigation, main, foot
//	session.go    what the places share: the job, its answer, what is said above
//	compute.go    the only caller of the model: numbered, in pieces, guarded
//	engine.go     where the model comes from
//	keep.go       autosave, restore, undo; storage.go is the browser's store
//	banner.go     notices, updates by consent, ready without a signal
//
//	readings.go   the Readings place, put together from
//	  entry.go      the two needles, the outside air, units
//	  settings.go   air, engine and car, with what is assumed
//	  more.go       every further measurement
//	  examples.go   invented cars
//	  picture.go    the pressure plane, moved by tap and arrow keys
//	  weather.go    both needles across the outside temperature; published.go
//	                the published tables in it
//	  answer.go     sentences (speak.go), ranking, pattern, reasons
//	  catalogue.go  the page of a condition, opened from the ranking or in Sources
//	  next.go       the next measurement and its cautions (cautions.go)
//	  share.go      link, print, arriving by a link
//	practice.go   the Practice place: a case is drawn, worked on and marked
//	  practice_case.go   what is known for nothing
//	  practice_desk.go   measurements for minutes, the answer and how sure it is
//	  practice_mark.go   what the answer was worth, and why
//	  practice_class.go  progress, and the link for a class
//	explore.go    the Explore place: dials are turned, a frame solves and draws
//	  explore_now.go     needles and thermometers, what is spoken at rest
//	  explore_dials.go   sliders and the kind of car
//	  explore_cycle.go   the loop for the pressure–enthalpy picture
//	  explore_ask.go     questions the model answers by turning a dial itself
//	sources.go    bibliography, method, limits
//
//	still.go      a part that is drawn again only when it has changed
//	input.go, field.go, units.go   texts on screen: kept as typed, read by job
//	figure.go     a chart.Figure: picture, sentence, table
//	dom.go        language, title, focus, scroll: what go-app leaves to the page
//
// # How a keystroke becomes an answer
//
// The handler of an input stores the text in the job and calls session.edited,
// which reads the job as a case (job.Case), asks the model within the event, once
// it is loaded, and saves when typing rests. Every change raises session.rev or
// answerRev; the panels carry them as the exported field Rev, so that go-app draws
// again what has changed and nothing else; still.go does the same within a panel.
// The answer and its picture come first; the next measurement, which takes the
// model about ten times as long, follows by itself, and the reasons and the
// picture's text with it (planRev). Further measurements and catalogue pages are
// not made before they are opened.
//
// # Ids
//
// Browser tests and links from elsewhere rely on these ids; a change is a change
// of the contract.
//
//	title, main, nav-<place>, theme, banner, update, dismiss, offline
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
//	more: one id per diagnose.Quantity: vent, discharge_line, …
//	plane-frame, plane-text, plane-summary, plane-table
//	weather, weather-frame, weather-text, weather-summary, weather-table
//	answer, verdict[data-verdict], customer-sentence, technician-sentence,
//	would-tell, questions
//	ranking > li[data-condition], ranking-rest, reasons, why > li[data-quantity], notes
//	open-<condition>, page-<condition>, pair, pattern; catalogue, ref-<key> in Sources
//	next, next-ask[data-quantity], enter, enter-<quantity>, outcomes, cautions
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
