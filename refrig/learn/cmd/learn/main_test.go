//go:build !js

package main

import (
	"bytes"
	"strings"
	"testing"
	"testing/fstest"

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
	if err := run(&out, &notes, dir, false); err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(out.String(), "80 confirmed jobs") && !strings.HasPrefix(out.String(), "79 confirmed jobs") {
		t.Errorf("said:\n%s", &out)
	}
	if !strings.Contains(notes.String(), "b.csv:") {
		t.Errorf("the bad line is not named: %q", &notes)
	}
	out.Reset()
	if err := run(&out, &notes, dir, true); err != nil || !strings.Contains(out.String(), `"jobs"`) {
		t.Errorf("lessons: %v\n%s", err, &out)
	}
	if err := run(&out, &notes, fstest.MapFS{}, false); err == nil {
		t.Error("an empty folder is judged")
	}
}
