package site

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// LicencesFile is where the built site carries the notices of what it contains. A
// copy with .gz added is what is fetched for use without network.
const LicencesFile = "licences.txt"

// module is a module of which packages are in the program.
type module struct {
	Path, Version, Dir string
	Replace            *struct{ Dir string }
}

// folder is where the module's files are.
func (m *module) folder() string {
	if m.Replace != nil {
		return m.Replace.Dir
	}
	return m.Dir
}

// Licences returns the text that must go along with the program: this project's
// licence, Go's, and those of every module that the program for the browser
// contains, as they lie in the modules. A module without a licence is an error.
func Licences(root string) ([]byte, error) {
	own, err := ownLicence(root)
	if err != nil {
		return nil, err
	}
	modules, err := linkedModules(root)
	if err != nil {
		return nil, err
	}
	golang, version, err := goLicence(modules)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	fmt.Fprint(&b, "Two Needles contains the work of others. These are the licences of all its parts.\n")
	section := func(title, text string) {
		fmt.Fprintf(&b, "\n%s\n%s\n\n%s\n", title, strings.Repeat("=", len(title)), strings.TrimSpace(text))
	}
	section("Two Needles", own)
	section(version+": run time, standard library and wasm_exec.js", golang)
	for _, m := range modules {
		notices, err := notices(m.folder())
		if err != nil {
			return nil, fmt.Errorf("%s: %w", m.Path, err)
		}
		section(m.Path+" "+m.Version, cmp.Or(remarks[m.Path], "")+strings.Join(notices, "\n\n"))
	}
	return b.Bytes(), nil
}

// remarks stand before a module's own notices.
var remarks = map[string]string{
	"github.com/maxence-charriere/go-app/v10": "Some of its files are replaced by shorter ones of this project, with parts of the originals.\n\n",
	"github.com/google/uuid":                  "Replaced by a file of this project that has one function of the original's interface.\n\n",
	// Of the two licences offered it is the first, which asks for this sentence.
	"github.com/golang/freetype": "Used under the FreeType License: this program is based in part on the work of the FreeType Team.\n\n",
}

// ownLicence is the section of the README.
func ownLicence(root string) (string, error) {
	readme, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		return "", err
	}
	_, text, found := strings.Cut(string(readme), "\n## Licence\n")
	text, _, _ = strings.Cut(text, "\n## ")
	if !found || !strings.Contains(text, "Copyright") {
		return "", errors.New("README.md has no section Licence with a copyright in it")
	}
	return text, nil
}

// goLicence returns the licence that came with Go, and Go's version. Some Linux
// distributions leave the file out; modules of the Go authors carry the same.
func goLicence(modules []module) (text, version string, err error) {
	out, err := run(".", nil, "go", "env", "GOROOT", "GOVERSION")
	if err != nil {
		return "", "", err
	}
	env := strings.Fields(string(out))
	if len(env) != 2 {
		return "", "", fmt.Errorf("go env printed %q", out)
	}
	places := []string{env[0]}
	for _, m := range modules {
		if strings.HasPrefix(m.Path, "golang.org/x/") {
			places = append(places, m.folder())
		}
	}
	for _, dir := range places {
		licence, err := os.ReadFile(filepath.Join(dir, "LICENSE"))
		if err == nil {
			return string(licence), "Go " + strings.TrimPrefix(env[1], "go"), nil
		}
	}
	return "", "", fmt.Errorf("no LICENSE in %s", strings.Join(places, ", "))
}

// linkedModules returns the modules in the program for the browser, by path, without
// this one.
func linkedModules(root string) ([]module, error) {
	modfile, err := slimModules(root)
	if err != nil {
		return nil, err
	}
	out, err := run(root, []string{"GOOS=js", "GOARCH=wasm"}, "go", "list", "-modfile="+modfile, "-deps", "-json=Module", Command)
	if err != nil {
		return nil, err
	}
	found := map[string]module{}
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var pkg struct {
			Module *struct {
				module
				Main bool
			}
		}
		switch err := d.Decode(&pkg); {
		case err == io.EOF:
			byPath := slices.Sorted(maps.Keys(found))
			modules := make([]module, len(byPath))
			for i, path := range byPath {
				modules[i] = found[path]
			}
			return modules, nil
		case err != nil:
			return nil, fmt.Errorf("go list: %w", err)
		case pkg.Module != nil && !pkg.Module.Main:
			found[pkg.Module.Path] = pkg.Module.module
		}
	}
}

// licenceFiles are the names under which modules keep what must go along, and the
// folders in which some keep more of it.
var licenceFiles = []string{
	"LICENSE*", "LICENCE*", "COPYING*", "NOTICE*",
	"licenses/*", "THIRD_PARTY_LICENSES/*",
}

// notices returns the texts in a module's folder, each once.
func notices(dir string) ([]string, error) {
	var texts []string
	for _, pattern := range licenceFiles {
		files, err := filepath.Glob(filepath.Join(dir, filepath.FromSlash(pattern)))
		if err != nil {
			return nil, err
		}
		for _, file := range files {
			if isDir(file) {
				continue
			}
			text, err := os.ReadFile(file)
			if err != nil {
				return nil, err
			}
			clean := strings.TrimSpace(strings.ToValidUTF8(string(text), "(c)")) // some are Latin-1, for the ©
			if !slices.Contains(texts, clean) {
				texts = append(texts, clean)
			}
		}
	}
	if texts == nil {
		return nil, fmt.Errorf("no licence in %s: it may not be given away", dir)
	}
	return texts, nil
}
