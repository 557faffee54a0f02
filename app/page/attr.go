package page

import "strconv"

// Pressed writes a boolean as ARIA wants it; go-app would drop a false.
func Pressed(on bool) string { return strconv.FormatBool(on) }

// Href returns the relative address of a path: every place is one level deep, so
// that the site works in any folder.
func Href(path string) string { return "." + path }

// Marks of main for what is out of date and fades: the answer while a new one is
// on its way, and the next measurement.
const (
	busy     = "data-busy"
	planning = "data-planning"
)
