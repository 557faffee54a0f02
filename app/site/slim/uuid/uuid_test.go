package uuid

import (
	"regexp"
	"testing"
)

// The shape is that of RFC 9562, section 5.4: version 4, variant 10.
func TestNewString(t *testing.T) {
	shape := regexp.MustCompile(`^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$`)
	seen := map[string]bool{}
	for range 1000 {
		id := NewString()
		if !shape.MatchString(id) {
			t.Fatalf("%q is not a version 4 UUID", id)
		}
		if seen[id] {
			t.Fatalf("%q came twice in 1000", id)
		}
		seen[id] = true
	}
}
