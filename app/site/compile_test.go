package site

import (
	"path/filepath"
	"strings"
	"testing"
)

func TestInlinedPackagesAreInTheProgram(t *testing.T) {
	root, err := Root()
	if err != nil {
		t.Fatal(err)
	}
	modfile, err := slimModules(root)
	if err != nil {
		t.Fatal(err)
	}
	packages, err := linked(root, modfile)
	if err != nil {
		t.Fatal(err)
	}
	if len(packages) < 50 {
		t.Fatalf("only %d packages are listed", len(packages))
	}
	if err := checkInlined(inlined, packages); err != nil {
		t.Error(err)
	}
}

func TestRelease(t *testing.T) {
	for text, want := range map[string]string{ // "" is an error
		"# A\n\n### Version 9\n\n## What changed for users\n\n### Version 2, being written\n\n### Version 1\n": "2",
		"# A\n\n## What changed for users\n\n### Version 1.1 (2026-11-25)\n":                                   "1.1",
		"# A\n\n## What changed for users\n\n### The next one\n":                                               "",
		"# A\n\n### Version 9\n": "",
	} {
		root := t.TempDir()
		writeFile(filepath.Join(root, "DEVELOPERS.md"), []byte(text))
		if got, err := Release(root); got != want || (err == nil) != (want != "") {
			t.Errorf("%q is version %q (%v), want %q", text, got, err, want)
		}
	}
}

func TestUnknownInlinedPackageIsRefused(t *testing.T) {
	packages := []pkg{{ImportPath: "math"}, {ImportPath: "math/bits"}, {ImportPath: "twoneedles/refrig/cycle"}}
	for list, lost := range map[string]string{
		"math math/... twoneedles/refrig/cycle": "",
		"math/...":                              "",
		"mat":                                   "mat",
		"mat/...":                               "mat/...",
		"math twoneedles/refrig/cycles":         "twoneedles/refrig/cycles",
		"bits twoneedles":                       "bits, twoneedles",
	} {
		err := checkInlined(strings.Fields(list), packages)
		if (err == nil) != (lost == "") || err != nil && !strings.HasSuffix(err.Error(), ": "+lost) {
			t.Errorf("%s: error %v, want %q to be lost", list, err, lost)
		}
	}
}
