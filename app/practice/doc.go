// Package practice sets a car with a hidden condition, sells measurements for minutes,
// and marks the answer given and how sure it was.
//
//	practice.go  the case: drawn, kept, restored
//	case.go      what is known for nothing
//	answer.go    measurements for minutes, the answer and how sure it is
//	review.go    what the answer was worth, and why
//	because.go   why the readings are what they are: the same car sound and as it is
//	class.go     progress, and the link for a class
//	result.go    what a class set came to, to be handed in
//	sheet.go     the answers of a set, for the teacher
package practice
