package practice

import (
	_ "embed"
	"fmt"
	"hash/crc32"
	"strings"
	"sync"

	"twoneedles/refrig/diagnose"
)

// cases.sum is a checksum of a few puzzles of each level as they are drawn natively; the
// test that draws them writes it, so that a change of the physics or of what a level
// keeps cannot go by unnoticed.
//
//go:embed cases.sum
var casesSum string

// Edition names what the numbers of puzzles stand for, by eight hexadecimal digits: the
// fit of the diagnosis, which takes part in choosing, and the puzzles drawn. Under the
// same Edition a number is the same car everywhere.
func Edition() string { return edition() }

var edition = sync.OnceValue(func() string {
	return fmt.Sprintf("%08x", crc32.ChecksumIEEE([]byte(diagnose.FitID()+strings.TrimSpace(casesSum))))
})

// isEdition reports whether text may be one; whose it is does not matter.
func isEdition(text string) bool {
	return len(text) == 8 && strings.Trim(text, "0123456789abcdef") == ""
}
