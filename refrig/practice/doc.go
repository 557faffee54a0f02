// Package practice sets a student a car with a hidden condition and marks the
// answer. It knows no screen and no words: complaints, conditions and
// measurements are codes.
//
// A number and a level make a [Puzzle]: the same on every device, so that a
// class can share one by a link ([Set]). Car, weather and condition come from
// the same physics as the diagnosis (package diagnose); the level decides which
// of the cars drawn are kept:
//
//	Textbook   a plain fault; every measurement together names it
//	Everyday   as cars come; every measurement together does not mislead
//	Ambiguous  two needles leave it open; every measurement together names it
//
// The diagnosis takes part in choosing, so a puzzle belongs to one [Edition]: a
// later fit of its networks may keep another car for the same number. A [Set]
// bears the edition it was made under.
//
// The student works at a [Desk], where measurements cost minutes, and commits
// to an [Answer]. [Desk.Mark] compares it with the truth and with what the
// diagnosis makes of the very same readings and gives [Points] that are highest
// on average for whoever says what he honestly believes. [Plan] walks the greedy
// way to the same goal, [Search] finds in hindsight the shortest there was.
// [Progress] remembers what was confused and brings it back.
package practice
