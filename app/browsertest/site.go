//go:build !js

package browsertest

import (
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"testing/fstest"

	"twoneedles/app/internal/pseudo"
	"twoneedles/app/site"
)

// built is what all tests of a run share: compiling takes longer than a test.
var built struct {
	once                sync.Once
	err                 error
	dir                 string // temporary, removed by Main
	first, second       string // two editions of the site
	firstVersion, after string
}

// Site returns the folder of the site built from this working tree, with the
// languages of app/internal/pseudo besides its own.
func Site(t testing.TB) string {
	t.Helper()
	build(t)
	return built.first
}

// NextSite returns the folder of a later edition of the same site: another
// version that differs in one file, <meta name="edition" content="next"> in its
// page. With it a test can play an update.
func NextSite(t testing.TB) string {
	t.Helper()
	build(t)
	return built.second
}

// Versions returns the versions of [Site] and [NextSite].
func Versions(t testing.TB) (site, next string) {
	t.Helper()
	build(t)
	return built.firstVersion, built.after
}

func build(t testing.TB) {
	t.Helper()
	built.once.Do(func() { built.err = buildBoth() })
	if built.err != nil {
		t.Fatalf("building the site: %v", built.err)
	}
}

func buildBoth() error {
	root, err := site.Root()
	if err != nil {
		return err
	}
	parts, err := site.Make(root)
	if err != nil {
		return err
	}
	if os.Getenv("PROFILE") != "" { // see Page.profiled
		if parts.Program, err = site.Compile(root, site.Named); err != nil {
			return err
		}
	}
	for lang, texts := range pseudo.Languages(parts.Words["en"]) {
		parts.Words[lang] = texts
	}
	built.dir, err = os.MkdirTemp("", "twoneedles-site")
	if err != nil {
		return err
	}
	built.first = filepath.Join(built.dir, "site")
	built.firstVersion, err = site.Assemble(parts, built.first)
	if err != nil {
		return err
	}
	parts.Static, err = withEdition(parts.Static)
	if err != nil {
		return err
	}
	built.second = filepath.Join(built.dir, "next")
	built.after, err = site.Assemble(parts, built.second)
	return err
}

// withEdition copies static/ and marks its page.
func withEdition(static fs.FS) (fs.FS, error) {
	marked := fstest.MapFS{}
	err := fs.WalkDir(static, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(static, name)
		if name == "index.html" {
			text = append([]byte("<!doctype html>\n<html lang=\"en\">\n<meta name=\"edition\" content=\"next\">\n"), text[len("<!doctype html>\n<html lang=\"en\">\n"):]...)
		}
		marked[name] = &fstest.MapFile{Data: text}
		return err
	})
	return marked, err
}

// Main runs the tests of a package that uses [Site] and cleans up behind them:
//
//	func TestMain(m *testing.M) { os.Exit(browsertest.Main(m)) }
func Main(m *testing.M) int {
	code := m.Run()
	if built.dir != "" {
		os.RemoveAll(built.dir)
	}
	if xvfb.command != nil {
		xvfb.command.Process.Kill()
		xvfb.command.Wait()
	}
	return code
}
