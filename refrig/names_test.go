package refrig_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"twoneedles/refrig/reftest"
)

var (
	// A file, perhaps with its folders: next.go, testdata/eos/README.md, words/en/job.json.
	fileName = regexp.MustCompile(`(?:[\w.*-]+/)*[\w.*-]*\w\.(?:go|md|csv|json|txt|css|js|html|mlp|svg)\b`)
	// A folder of test data.
	dataName = regexp.MustCompile(`\btestdata(?:/[\w-]+)+(?:$|[^\w.*<{/-])`)
	// A test, an example, a benchmark.
	testName = regexp.MustCompile(`\b(?:Test|Example|Benchmark|Fuzz)[A-Z]\w*`)
	testFunc = regexp.MustCompile(`(?m)^func ((?:Test|Example|Benchmark|Fuzz)\w*)\(`)
	// A document as notes are called: capitals and .md.
	capitals = regexp.MustCompile(`\b[A-Z]{3,}\.md\b`)
	// A numbered part of a document says nothing without the document.
	section  = regexp.MustCompile(`(?i)\bsections?\s+(?:\d|§)`)
	document = regexp.MustCompile(`\[[A-Z][A-Za-z]+\d*[a-z]?\]|\b(?:RFC|CFR|ISO|SAE|NIST)\b`)
	// Notes that only their writers hold.
	private   = regexp.MustCompile(`(?i)\bfacts?[\s/]+sheets?\b|\bdesign papers?\b|/work/`)
	elsewhere = regexp.MustCompile(`https?://\S+|\S+\.invalid/\S*|data:\S+|func \w+`)
)

// written are files that commands write and that the repository does not hold, so
// that a text may name them.
var written = map[string]string{
	"404.html":       "make build",
	"index.html":     "make build",
	"job/index.html": "make build",
	"style.css":      "make build",
	"licences.txt":   "make build",
	"name.png":       "pictures of the browser tests",
	"name.pdf":       "pictures of the browser tests",
	"wasm_exec.js":   "part of Go",
	"testdata/bench": "make bench",
	"lessons.json":   "make learn, KEEP=1",
	"LICENSE.md":     "modules of others",
}

// A text that names a file, a folder of test data or a test must name one that
// exists: readers follow such names. Comments of Go, texts in Markdown and the
// heads of data files are read; in strings only documents and their sections.
func TestNamesInTextsExist(t *testing.T) {
	root := reftest.Root(t)
	files, tests := map[string]bool{}, map[string]bool{}
	err := filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && p != root && (d.Name() == ".git" || d.Name() == ".cache" || d.Name() == "dist") {
			return filepath.SkipDir
		}
		rel, err := filepath.Rel(root, p)
		files[filepath.ToSlash(rel)] = true
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	texts(t, func(_, text string) {
		for _, m := range testFunc.FindAllStringSubmatch(text, -1) {
			tests[m[1]] = true
		}
	})

	seen := 0
	texts(t, func(from, text string) {
		if filepath.ToSlash(from) == "refrig/names_test.go" {
			return
		}
		for _, name := range capitals.FindAllString(text, -1) {
			if written[name] == "" && !exists(files, name) {
				t.Errorf("%s names %s, which does not exist", from, name)
			}
		}
		for _, part := range prose(t, from, text) {
			part = elsewhere.ReplaceAllString(part, "")
			if private.MatchString(part) {
				t.Errorf("%s names %q, which no reader can open", from, private.FindString(part))
			}
			if section.MatchString(part) && !document.MatchString(part) {
				t.Errorf("%s names a section but no document: %q", from, section.FindString(part))
			}
			for _, name := range append(fileName.FindAllString(part, -1), dataName.FindAllString(part, -1)...) {
				seen++
				name = strings.TrimRightFunc(name, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
				if written[name] == "" && !exists(files, name) && !exists(files, path.Join(path.Dir(filepath.ToSlash(from)), name)) {
					t.Errorf("%s names %s, which does not exist", from, name)
				}
			}
			for _, name := range testName.FindAllString(part, -1) {
				seen++
				if !tests[name] {
					t.Errorf("%s names %s, which does not exist", from, name)
				}
			}
		}
	})
	if seen < 100 {
		t.Errorf("only %d names found: the pattern is broken", seen)
	}
}

// exists reports whether name is a file or folder, given from the top, or the end
// of the path of one; * stands for anything.
func exists(files map[string]bool, name string) bool {
	name = strings.TrimPrefix(path.Clean(strings.TrimPrefix(name, "./")), "/")
	if files[name] {
		return true
	}
	n := strings.Count(name, "/") + 1
	for file := range files {
		parts := strings.Split(file, "/")
		if len(parts) < n {
			continue
		}
		if ok, _ := path.Match(name, strings.Join(parts[len(parts)-n:], "/")); ok {
			return true
		}
	}
	return false
}

// prose returns what of a file is written for people.
func prose(t *testing.T, name, text string) (parts []string) {
	switch filepath.Ext(name) {
	case ".md":
		return []string{text}
	case ".csv":
		for line := range strings.Lines(text) {
			if strings.HasPrefix(line, "#") {
				parts = append(parts, line)
			}
		}
	case ".go":
		f, err := parser.ParseFile(token.NewFileSet(), name, text, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range f.Comments {
			parts = append(parts, c.Text()) // without directives, which the compiler checks
		}
	}
	return parts
}
