// Package present turns numbers into words and typed words into numbers. It is
// the edge of the program where SI meets psi, bar, °F and sentences; it draws
// nothing and knows no page.
//
// Reading order:
//
//	units.go     unit table with exact factors; the user's choice of units
//	field.go     every input: its kind, the limits of what can be typed
//	parse.go     typed text → number in SI, swing or bound, or a [Problem]
//	check.go     a number that cannot be, or that looks like another unit
//	format.go    number in SI → text a person reads
//	chance.go    probability → "about 3 in 4"
//	words.go     keys → sentences, one folder of JSON files per language
//	message.go   warnings and errors of the model → what, why, what next
//	caution.go   which cautions belong to which step
//
// Words for people live in words/<language>/*.json and nowhere else. Numbers
// inside the model are SI; nothing here changes what the user typed.
package present
