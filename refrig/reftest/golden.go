package reftest

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite golden files with what the tests got")

// Golden compares got with testdata/golden/<name> at the module's root. Where
// they differ it writes <name>.got beside it and names the first differing
// line; with -update it rewrites the file instead.
func Golden(t testing.TB, name, got string) {
	t.Helper()
	path := filepath.Join(Root(t), "testdata", "golden", filepath.FromSlash(name))
	if *update {
		write(t, path, got)
		os.Remove(path + ".got")
		return
	}
	want, err := os.ReadFile(path)
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	if err == nil && string(want) == got {
		os.Remove(path + ".got")
		return
	}
	write(t, path+".got", got)
	if err != nil {
		t.Errorf("%s is missing; wrote %s.got (go test -update makes it)", name, name)
		return
	}
	line, a, b := firstDiff(got, string(want))
	t.Errorf("%s differs at line %d:\n got %q\nwant %q\nwrote %s.got; -update accepts it", name, line, a, b, name)
}

func firstDiff(got, want string) (line int, a, b string) {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range max(len(g), len(w)) {
		a, b = "(end)", "(end)"
		if i < len(g) {
			a = g[i]
		}
		if i < len(w) {
			b = w[i]
		}
		if a != b {
			return i + 1, a, b
		}
	}
	return 0, "", ""
}

func write(t testing.TB, path, s string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(s), 0o644); err != nil {
		t.Fatal(err)
	}
}
