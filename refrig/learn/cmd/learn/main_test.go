//go:build !js

package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/learn"
)

// Two files of invented jobs are judged together; a bad line is named with its file and
// number, and the rest is kept.
func TestFolderIsJudged(t *testing.T) {
	var a, b bytes.Buffer
	if err := learn.Invent(&a, 40, 1); err != nil {
		t.Fatal(err)
	}
	if err := learn.Invent(&b, 40, 2); err != nil {
		t.Fatal(err)
	}
	b.WriteString(strings.Repeat(",", len(learn.Columns())-1) + "\n")
	dir := fstest.MapFS{"a.csv": {Data: a.Bytes()}, "b.csv": {Data: b.Bytes()}, "note.txt": {Data: []byte("?")}}
	var out, notes bytes.Buffer
	if err := run(&out, &notes, dir, false, ""); err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(out.String(), "80 confirmed jobs") && !strings.HasPrefix(out.String(), "79 confirmed jobs") {
		t.Errorf("said:\n%s", &out)
	}
	if !strings.Contains(notes.String(), "b.csv:") {
		t.Errorf("the bad line is not named: %q", &notes)
	}
	out.Reset()
	if err := run(&out, &notes, dir, true, ""); err != nil || !strings.Contains(out.String(), `"jobs"`) || !strings.Contains(out.String(), "| b.csv | 40 |") {
		t.Errorf("lessons: %v\n%s", err, &out)
	}
	if err := run(&out, &notes, fstest.MapFS{}, false, ""); err == nil {
		t.Error("an empty folder is judged")
	}
}

// What is kept is what the next build reads: lessons within their bounds, beside a report
// that says what they bring.
func TestLessonsAreKept(t *testing.T) {
	root := t.TempDir()
	for _, name := range []string{lessonsFile, reportFile} {
		if err := os.MkdirAll(filepath.Join(root, filepath.Dir(name)), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	if err := run(io.Discard, io.Discard, os.DirFS(shops), true, root); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(root, lessonsFile))
	if err != nil {
		t.Fatal(err)
	}
	var l diagnose.Lessons
	if err := json.Unmarshal(text, &l); err != nil || l.Check() != nil || l.Jobs < 600 || !l.Moves() {
		t.Errorf("%v, %v: %s", err, l.Check(), text)
	}
	report, err := os.ReadFile(filepath.Join(root, reportFile))
	if err != nil || strings.Count(string(report), ".csv | 20") != 3 {
		t.Errorf("%v: %s", err, report)
	}
}

const shops = "../../../../testdata/shops"

var update = flag.Bool("update", false, "write testdata/shops")

// The three shops are what learn.Invent writes, and nobody's jobs.
func TestTheShopsAreInvented(t *testing.T) {
	for seed, name := range []string{"invented1.csv", "invented2.csv", "invented3.csv"} {
		var b bytes.Buffer
		if err := learn.Invent(&b, 200, uint64(seed+1)); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(shops, name)
		if *update {
			if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if is, err := os.ReadFile(path); err != nil || !bytes.Equal(is, b.Bytes()) {
			t.Errorf("%s is not what is invented: %v (go test ./refrig/learn/cmd/learn -run Shops -update, and look at it)", name, err)
		}
	}
}
