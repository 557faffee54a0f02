package refrig

import (
	_ "embed"
	"encoding/json"
	"sort"
)

// Reference is one entry of the bibliography, refs.json. Its key, FamilyYear,
// is what code, data files and texts cite in square brackets.
type Reference struct {
	Authors string `json:"authors"`
	Year    int    `json:"year"` // 0 where the source carries none
	Title   string `json:"title"`
	Where   string `json:"where"`
	DOI     string `json:"doi,omitempty"`
	UsedFor string `json:"used_for"`
	// Read says how the source was used: "read", "coefficients read" or
	// "memory" (recalled, not checked).
	Read string `json:"read"`
}

//go:embed refs.json
var refsJSON []byte

var refs = func() map[string]Reference {
	m := map[string]Reference{}
	if err := json.Unmarshal(refsJSON, &m); err != nil {
		panic("refrig: refs.json: " + err.Error())
	}
	return m
}()

// Ref returns the bibliography entry of key; ok is false if there is none.
func Ref(key string) (r Reference, ok bool) {
	r, ok = refs[key]
	return r, ok
}

// RefKeys returns every key of the bibliography in alphabetical order.
func RefKeys() []string {
	keys := make([]string, 0, len(refs))
	for k := range refs {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
