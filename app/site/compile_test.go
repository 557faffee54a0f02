package site

import (
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
