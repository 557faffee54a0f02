package site

import (
	"os"
	"path/filepath"
	"testing"
)

// A new version of go-app fails here first, with the file to compare.
func TestStandInsFitTheirOriginals(t *testing.T) {
	root, err := Root()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range slimmedModules {
		if err := s.copy(root, t.TempDir()); err != nil {
			t.Error(err)
		}
	}
}

func TestChangedOriginalIsRefused(t *testing.T) {
	root, err := Root()
	if err != nil {
		t.Fatal(err)
	}
	s := slimmedModules[0]
	s.replaces = map[string]string{"pkg/app/http.go": "another sum"}
	to := t.TempDir()
	if err := s.copy(root, to); err == nil {
		t.Error("an original of another version was accepted")
	}
	if _, err := os.Stat(filepath.Join(to, "go.mod")); err == nil {
		t.Error("something was copied all the same")
	}
}
