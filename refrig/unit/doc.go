// Package unit owns the units of the trade: their exact factors, the names they
// may be typed by, and the step to which a number in each is written. The page,
// the pictures and the sums all ask here, so that one reading is one number
// wherever it is shown.
//
// Values are SI everywhere; a [Unit] converts at the edge. What was computed is
// written to the step of its unit ([Unit.Text]), what was read as it was typed
// ([Writer.ReadingText]): who reads 182 on a gauge finds 182 again, although nobody reads
// a gauge finer than to 5 kPa.
//
// A [Writer] puts numbers and units together in a language that it is given; no
// word for people is in this package.
package unit
