package refrig_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/reftest"
)

var (
	// A key is a family (or a body) and a year (or a number): Bell2014, NIST811.
	// Three digits at least tell it from the name of a refrigerant's relative.
	key = regexp.MustCompile(`\b[A-Z][A-Za-z]+\d{3,}[a-z]?\b`)
	// Code, data and texts cite in square brackets; a word may follow the key.
	cited = regexp.MustCompile(`\[[^\[\]\n]*\b[A-Z][A-Za-z]+\d{3,}[a-z]?\b[^\[\]\n]*\]`)
	// Data files have a field for it.
	field = regexp.MustCompile(`"(?:ref|refs|source|src|key)"\s*:\s*"([A-Z][A-Za-z]+\d{3,}[a-z]?)"`)
	// The few sources without a number have a name alone.
	wellFormed = regexp.MustCompile(`^[A-Z][A-Za-z]+\d*[a-z]?$`)
	doi        = regexp.MustCompile(`^10\.\d{4,9}/\S+$`)
)

// texts calls back with every file of the module that may cite.
func texts(t *testing.T, with func(path, text string)) {
	t.Helper()
	root := reftest.Root(t)
	n := 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() {
			if path != root && (strings.HasPrefix(name, ".") || name == "dist" || name == "node_modules") {
				return filepath.SkipDir
			}
			return nil
		}
		switch filepath.Ext(name) {
		case ".go", ".json", ".csv", ".md", ".txt":
		default:
			return nil
		}
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		if rel == filepath.Join("refrig", "refs.json") || rel == filepath.Join("refrig", "refs_test.go") {
			return nil
		}
		b, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		n++
		with(rel, string(b))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if n < 50 {
		t.Fatalf("only %d files were read", n)
	}
}

func TestEveryCitationIsInTheBibliography(t *testing.T) {
	seen := 0
	texts(t, func(path, text string) {
		check := func(k string) {
			seen++
			if _, ok := refrig.Ref(k); !ok {
				t.Errorf("%s cites %s, which refrig/refs.json does not have", path, k)
			}
		}
		for _, c := range cited.FindAllString(text, -1) {
			for _, k := range key.FindAllString(c, -1) {
				check(k)
			}
		}
		for _, m := range field.FindAllStringSubmatch(text, -1) {
			check(m[1])
		}
	})
	if seen < 20 {
		t.Errorf("only %d citations found: the pattern is broken", seen)
	}
}

func TestEveryEntryIsUsed(t *testing.T) {
	word := regexp.MustCompile(`\b[A-Z][A-Za-z]+\d*[a-z]?\b`)
	unused := map[string]bool{}
	for _, k := range refrig.RefKeys() {
		unused[k] = true
	}
	texts(t, func(_, text string) {
		for _, k := range word.FindAllString(text, -1) {
			delete(unused, k)
		}
	})
	var left []string
	for k := range unused {
		left = append(left, k)
	}
	sort.Strings(left)
	if len(left) > 0 {
		t.Errorf("cited nowhere: %s", strings.Join(left, ", "))
	}
}

func TestEntriesAreComplete(t *testing.T) {
	if len(refrig.RefKeys()) < 10 {
		t.Fatal("the bibliography did not load")
	}
	for _, k := range refrig.RefKeys() {
		r, _ := refrig.Ref(k)
		if !wellFormed.MatchString(k) {
			t.Errorf("%s is not a family and a year", k)
		}
		if r.Authors == "" || r.Title == "" || r.Where == "" || r.UsedFor == "" {
			t.Errorf("%s: an empty field in %+v", k, r)
		}
		if r.Year != 0 && (r.Year < 1850 || r.Year > 2030) {
			t.Errorf("%s: year %d", k, r.Year)
		}
		if r.DOI != "" && !doi.MatchString(r.DOI) {
			t.Errorf("%s: DOI %q is not of the form 10.nnnn/…", k, r.DOI)
		}
		switch r.Read {
		case "read", "coefficients read", "memory":
		default:
			t.Errorf("%s: read is %q, want read, coefficients read or memory", k, r.Read)
		}
	}
}

func TestUnknownKey(t *testing.T) {
	if r, ok := refrig.Ref("Nobody1900"); ok {
		t.Errorf("found %+v", r)
	}
}
