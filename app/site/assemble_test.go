package site

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/andybalholm/brotli"
)

// small is the least static/ that can be assembled.
func small() fstest.MapFS {
	return fstest.MapFS{
		"index.html":     {Data: []byte(`<head><link href="style.css?v={{VERSION}}"><script src="boot.js"></script></head><a href="./">`)},
		"boot.js":        {Data: []byte(`at("https://a/"); // ends a line` + "\n// why\n\t// and more\n" + `{{LANGUAGES}} "{{VERSION}}", {{WASM_BR_SIZE}}, {{WASM_BR_SUM}}, {{WASM_SIZE}}, {{WASM_SUM}} said {{SAID}}`)},
		"sw.js":          {Data: []byte(`{{VERSION}} {{FILES}} later {{LATER}}`)},
		"css/b.css":      {Data: []byte("b")},
		"css/a.css":      {Data: []byte("a")},
		"icons/mark.svg": {Data: []byte("<svg/>")},
		"unpack/a.js":    {Data: []byte("decoder")},
		"icons/draw.go":  {Data: []byte("package main")},
		"README.md":      {Data: []byte("not for the browser")},
	}
}

// fewWords are what the texts of small name, in two languages.
func fewWords() map[string]map[string]string {
	return map[string]map[string]string{
		"en": {"language.name": "English", "language.dir": "ltr", "start.description": "what it does", "start.noscript": "needs <it>", "a": "one"},
		"eo": {"language.name": "Esperanto", "language.dir": "ltr", "start.description": "kion ĝi faras", "start.noscript": "bezonas", "a": "unu"},
	}
}

func partsOf(static fs.FS, program []byte) Parts {
	return Parts{static, fewWords(), program, []byte("exec"), []byte("licences"), "7", false}
}

var program = bytes.Repeat([]byte("\x00asm program "), 1000)

func TestAssembleWritesTheSite(t *testing.T) {
	out := filepath.Join(t.TempDir(), "dist")
	if err := os.MkdirAll(filepath.Join(out, "left over"), 0o777); err != nil {
		t.Fatal(err)
	}
	version, err := Assemble(partsOf(small(), program), out)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	fs.WalkDir(os.DirFS(out), ".", func(name string, d fs.DirEntry, err error) error {
		if !d.IsDir() {
			got = append(got, name)
		}
		return err
	})
	want := "404.html app.wasm.br boot.js explore/index.html icons/mark.svg index.html job/index.html jobs/index.html learn/index.html licences.txt licences.txt.gz practice/index.html" +
		" saturation/index.html sources/index.html style.css sw.js tell/index.html unpack.js wasm_exec.js words-en.json.gz words-eo.json.gz"
	if strings.Join(got, " ") != want {
		t.Errorf("the site holds\n%s\nwant\n%s", strings.Join(got, " "), want)
	}
	for name, want := range map[string]string{
		"style.css":      "a\nb\n",
		"index.html":     `<head><link href="style.css?v=` + version + `"><script src="boot.js"></script></head><a href="./">`,
		"404.html":       `<head><link href="style.css?v=` + version + `"><script src="boot.js"></script></head><a href="./">`,
		"job/index.html": `<head><link href="../style.css?v=` + version + `"><script src="../boot.js"></script></head><a href="./">`,
	} {
		text, err := os.ReadFile(filepath.Join(out, name))
		if err != nil || string(text) != want {
			t.Errorf("%s is %q (%v), want %q", name, text, err, want)
		}
	}
	if text := string(read(t, out, "boot.js")); !strings.HasPrefix(text, "at(\"https://a/\"); // ends a line\n[{") || strings.Contains(text, "why") {
		t.Errorf("boot.js is %q: only lines that are nothing but a comment are left out", text)
	}
	if got, err := io.ReadAll(brotli.NewReader(bytes.NewReader(read(t, out, "app.wasm.br")))); err != nil || !bytes.Equal(got, program) {
		t.Errorf("app.wasm.br does not hold the program (%v)", err)
	}
	z, err := gzip.NewReader(bytes.NewReader(read(t, out, "licences.txt.gz")))
	if err != nil {
		t.Fatal(err)
	}
	if !z.ModTime.IsZero() || z.Name != "" {
		t.Errorf("licences.txt.gz tells %v and %q", z.ModTime, z.Name)
	}
}

// The page compares the program that arrives with these sums.
func TestShellKnowsTheProgram(t *testing.T) {
	files, _, err := plan(partsOf(small(), program))
	if err != nil {
		t.Fatal(err)
	}
	for what, text := range map[string][]byte{"plain": program, "packed": files["app.wasm.br"]} {
		if !bytes.Contains(files["boot.js"], []byte(sum(text))) {
			t.Errorf("boot.js does not have the sum of the program, %s", what)
		}
	}
}

// The service worker compares every byte it stores with this list.
func TestWorkerListsWhatItStores(t *testing.T) {
	files, version, err := plan(partsOf(small(), program))
	if err != nil {
		t.Fatal(err)
	}
	text, later, _ := strings.Cut(string(files["sw.js"]), " later ")
	if want := `{"words-eo.json":"` + sum(unzipped(t, files["words-eo.json.gz"])) + `"}`; later != want {
		t.Errorf("of what is stored when it is chosen there is %s, want %s", later, want)
	}
	list, ok := strings.CutPrefix(text, version+" ")
	if !ok {
		t.Fatalf("sw.js is %q", files["sw.js"])
	}
	var sums map[string]string
	if err := json.Unmarshal([]byte(list), &sums); err != nil {
		t.Fatal(err)
	}
	if sums["app.wasm"] != sum(program) {
		t.Errorf("app.wasm is listed with %q", sums["app.wasm"])
	}
	delete(sums, "app.wasm")
	if sums["words-en.json"] != sum(unzipped(t, files["words-en.json.gz"])) {
		t.Error("the English words are not listed")
	}
	delete(sums, "words-en.json")
	for name, text := range files {
		switch {
		case name == "sw.js", path.Ext(name) == ".gz", path.Ext(name) == ".br", name == "unpack.js", name == "404.html", strings.HasSuffix(name, "/index.html"):
			if sums[name] != "" {
				t.Errorf("%s is listed, and should not be", name)
			}
		case sums[name] != sum(text):
			t.Errorf("%s is listed with %q", name, sums[name])
		}
		delete(sums, name)
	}
	if len(sums) > 0 {
		t.Errorf("listed but not there: %v", sums)
	}
}

func TestVersionIsTheContents(t *testing.T) {
	version := func(static fs.FS, program []byte) string {
		_, v, err := plan(partsOf(static, program))
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	first := version(small(), program)
	if again := version(small(), program); again != first {
		t.Errorf("the same contents are %s and %s", first, again)
	}
	seen := map[string]string{first: "nothing"}
	for name, file := range small() {
		changed := small()
		changed[name] = &fstest.MapFile{Data: append([]byte(" "), file.Data...)}
		v := version(changed, program)
		if shipped := name != "README.md" && name != "icons/draw.go"; shipped == (v == first) {
			t.Errorf("%s changed: version %s, before %s", name, v, first)
		}
		if other, ok := seen[v]; ok && v != first {
			t.Errorf("changing %s and changing %s give one version", name, other)
		}
		seen[v] = name
	}
	if version(small(), append([]byte("x"), program...)) == first {
		t.Error("another program has the same version")
	}
	next := partsOf(small(), program)
	next.Release = "8"
	if _, v, err := plan(next); err != nil || v == first {
		t.Errorf("another release has the same version (%v)", err)
	}
}

func TestHolesAreRefused(t *testing.T) {
	for name, change := range map[string]func(fstest.MapFS){
		"{{TYPO}}": func(s fstest.MapFS) { s["boot.js"] = &fstest.MapFile{Data: []byte("{{TYPO}}")} },
		"sw.js":    func(s fstest.MapFS) { delete(s, "sw.js") },
	} {
		static := small()
		change(static)
		out := filepath.Join(t.TempDir(), "dist")
		os.Mkdir(out, 0o777)
		writeFile(filepath.Join(out, "index.html"), []byte("the site before"))
		if _, err := Assemble(partsOf(static, program), out); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: error %v", name, err)
		}
		if got := read(t, out, "index.html"); string(got) != "the site before" {
			t.Errorf("%s: a failed build left %q", name, got)
		}
	}
}

// The real static/: what its files name must be there.
func TestShellNamesOnlyWhatIsThere(t *testing.T) {
	root, err := Root()
	if err != nil {
		t.Fatal(err)
	}
	parts := partsOf(os.DirFS(filepath.Join(root, "static")), program)
	if parts.Words, err = Words(); err != nil {
		t.Fatal(err)
	}
	files, _, err := plan(parts)
	if err != nil {
		t.Fatal(err)
	}
	var manifest struct{ Icons []struct{ Src string } }
	if err := json.Unmarshal(files["manifest.webmanifest"], &manifest); err != nil {
		t.Fatal(err)
	}
	var named []string
	for _, icon := range manifest.Icons {
		named = append(named, icon.Src)
	}
	for _, m := range regexp.MustCompile(`(?:href|src)="([a-z][^"?]*)`).FindAllSubmatch(files["index.html"], -1) {
		named = append(named, string(m[1]))
	}
	if len(named) < 10 {
		t.Errorf("found only %d names: %v", len(named), named)
	}
	for _, name := range named {
		if files[name] == nil {
			t.Errorf("%s is named but not there", name)
		}
	}
	ids := regexp.MustCompile(`\$\("(shell-[a-z]+)"\)`).FindAllSubmatch(files["boot.js"], -1)
	if len(ids) < 5 {
		t.Errorf("found only %d ids in boot.js", len(ids))
	}
	for _, id := range ids {
		if !bytes.Contains(files["index.html"], []byte(`id="`+string(id[1])+`"`)) {
			t.Errorf("boot.js looks for #%s, which index.html does not have", id[1])
		}
	}
}

// A place that is missing here would be a dead link on most hosts.
func TestPlacesAreTheRoutes(t *testing.T) {
	source, err := os.ReadFile("../places.go")
	if err != nil {
		t.Fatal(err)
	}
	var routes []string
	for _, m := range regexp.MustCompile(`\{"/([a-z]+)",`).FindAllSubmatch(source, -1) {
		routes = append(routes, string(m[1]))
	}
	if strings.Join(routes, " ") != strings.Join(Places, " ") {
		t.Errorf("app has the routes %v, the site has %v", routes, Places)
	}
}

func unzipped(t *testing.T, packed []byte) []byte {
	t.Helper()
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func read(t *testing.T, dir, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	return text
}
