package site

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// LicencesFile is where the built site carries the notices of what it contains. A
// copy with .gz added is what is fetched for use without network.
const LicencesFile = "licences.txt"

// Licences returns the text that must go along with the program: this project's
// licence, Go's, and those of every module that the program for the browser
// contains, as they lie in the modules. A module without a licence is an error.
func Licences(root string) ([]byte, error) {
	own, err := ownLicence(root)
	if err != nil {
		return nil, err
	}
	modfile, err := slimModules(root)
	if err != nil {
		return nil, err
	}
	packages, err := linked(root, modfile)
	if err != nil {
		return nil, err
	}
	modules := modulesOf(packages)
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
	decoder, err := os.ReadFile(filepath.Join(root, "static", "unpack", "NOTICE.md"))
	if err != nil {
		return nil, err
	}
	section("github.com/google/brotli: the decoder in unpack.js", string(decoder))
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

// modulesOf returns the modules of the packages, each once, by path, without this one.
func modulesOf(packages []pkg) []module {
	found := map[string]module{}
	for _, p := range packages {
		if p.Module != nil && !p.Module.Main {
			found[p.Module.Path] = *p.Module
		}
	}
	var modules []module
	for _, path := range slices.Sorted(maps.Keys(found)) {
		modules = append(modules, found[path])
	}
	return modules
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
