package chart

import (
	"os"
	"path/filepath"
	"testing"
)

const golden = "../testdata/golden/chart"

// TestGolden holds every sample picture and its sentence to what was looked at
// and found good. UPDATE_GOLDEN=1 rewrites them; look at them again then.
func TestGolden(t *testing.T) {
	for _, s := range samples() {
		f, err := s.make(s.opts)
		if err != nil {
			t.Errorf("%s: %v", s.name, err)
			continue
		}
		compare(t, s.name+".svg", f.SVG)
		compare(t, s.name+".txt", f.Summary)
	}
}

func compare(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join(golden, name)
	got += "\n"
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(want) != got {
		os.WriteFile(path+".got", []byte(got), 0o644)
		t.Errorf("%s differs; see %s.got", name, path)
	}
}
