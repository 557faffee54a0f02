// Package page is what the places share: the job at hand, what the model says of it,
// the texts on screen, the device that keeps it. No place knows another; they meet
// here. It draws no place and no frame. What it needs of the browser beyond go-app is in
// app/internal/browser.
//
// Reading order:
//
//	page.go       the job, its two visits, their answers and revisions
//	text.go       one text on screen: a field at a visit, kept as typed, read by job
//	typed.go      what was typed before the program had come
//	units.go      switching units, and remembering what was typed
//	autosave.go   autosave, restore, undo, arriving by a link; guest.go a sheet that was sent;
//	              export.go leaves
//	history.go    edits taken back and made again
//	device.go     what is heard of the storage of the device (package browser is the way to it)
//	earlier.go    the visits of the car at hand, and which the answer takes as rulers
//	learnt.go     what this shop's confirmed jobs teach, and who takes it
//	notice.go     the line above the page, updates by consent
//	said.go       what is claimed of the car at hand (package claim); whether its engine runs
//	parts.go      what the places are made of: buttons, menus, a message, a picture
//	figure.go     a chart.Figure: picture, sentence, table
//	catalogue.go  the page of a condition, opened from a row; cautions.go
//	examples.go   the invented cars
//	language.go   the language that is spoken, and that of the customer's sheet
//	memo.go       a part that is drawn again only when it has changed
package page
