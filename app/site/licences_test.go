package site

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What the program is made of is asked here of the ordinary modules, without our
// stand-ins; package browsertest asks the built program itself.
func TestLicencesOfEveryModule(t *testing.T) {
	root, err := Root()
	if err != nil {
		t.Fatal(err)
	}
	text, err := Licences(root)
	if err != nil {
		t.Fatal(err)
	}
	out, err := run(root, []string{"GOOS=js", "GOARCH=wasm"}, "go", "list", "-deps",
		"-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}} {{.Dir}}{{end}}{{end}}", Command)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		m := strings.Fields(line)
		if len(m) != 3 || seen[m[0]] { // an empty line is a package of Go's own
			continue
		}
		seen[m[0]] = true
		if !strings.Contains(string(text), "\n"+m[0]+" "+m[1]+"\n=") {
			t.Errorf("%s %s has no section", m[0], m[1])
		}
		licence, err := os.ReadFile(filepath.Join(m[2], "LICENSE"))
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(text), strings.TrimSpace(string(licence))) {
			t.Errorf("the licence of %s is not there", m[0])
		}
	}
	if len(seen) < 6 {
		t.Errorf("only %d modules were found: %v", len(seen), seen)
	}
	for _, want := range []string{
		"Copyright (c) 2026 the authors of Two Needles",
		"Copyright 2009 The Go Authors", // Go, wasm_exec.js
		"The FreeType Project LICENSE",  // named by freetype's LICENSE, and kept in a folder
		"work of the FreeType Team",
		"Moshier", // from whose Cephes library gonum has functions
	} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%q is not there", want)
		}
	}
}

func TestModuleWithoutLicenceIsRefused(t *testing.T) {
	dir := t.TempDir()
	writeFile(filepath.Join(dir, "README.md"), []byte("Use it as you like."))
	if texts, err := notices(dir); err == nil {
		t.Errorf("a module without a licence gives %q", texts)
	}
	writeFile(filepath.Join(dir, "LICENSE"), []byte("Terms\n"))
	writeFile(filepath.Join(dir, "LICENSE.md"), []byte("Terms"))
	writeFile(filepath.Join(dir, "licenses", "more.txt"), []byte("More terms, \xa9 2006"))
	texts, err := notices(dir)
	if err != nil || strings.Join(texts, "|") != "Terms|More terms, (c) 2006" {
		t.Errorf("notices are %q (%v)", texts, err)
	}
}

func TestProjectWithoutLicenceIsRefused(t *testing.T) {
	root := t.TempDir()
	writeFile(filepath.Join(root, "README.md"), []byte("# A\n\n## Licence\n\n## Sources\nCopyright of others\n"))
	if text, err := ownLicence(root); err == nil {
		t.Errorf("an empty section gives %q", text)
	}
}
