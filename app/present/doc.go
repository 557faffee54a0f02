// Package present turns numbers into words and typed words into numbers. It is
// the edge of the program where SI meets psi, bar, °F and sentences; it draws
// nothing and knows no page.
//
// Reading order:
//
//	field.go     every input: its kind, the limits of what can be typed
//	parse.go     typed text → tokens → number in SI, swing or bound
//	grammar.go   the order in which those tokens may come
//	check.go     a number that cannot be, or that looks like another unit
//	problem.go   what can be wrong with an input, as codes
//	retype.go    typed text from one unit to another, meaning kept
//	format.go    number in SI → text a person reads
//	names.go     conditions and readings by name
//	chance.go    probability → "about 3 in 4"
//	words.go     keys → sentences, one folder of JSON files per language; load.go reads them,
//	             plural.go has the rules of plurals
//	message.go   problems, warnings, errors → what, why, what next
//	caution.go   the cautions of a step, in words
//
// Words for people live in words/<language>/*.json and nowhere else; tests tie
// them to the codes, ids and keys in the Go source, both ways. newlanguage.go begins a
// language (make words LANG=pt); tests say what is missing. Nothing
// here changes what the user typed.
package present
