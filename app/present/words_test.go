package present

import (
	"go/ast"
	gotoken "go/token"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

func TestWordFiles(t *testing.T) {
	load := func(files map[string]string) (*Words, error) {
		m := fstest.MapFS{}
		for name, text := range files {
			m["w/"+name] = &fstest.MapFile{Data: []byte(text)}
		}
		texts, err := loadFrom(m, "w")
		if texts != nil {
			texts["language.plural.one"] = "n = 1"
		}
		return NewWords("en", texts), err
	}
	w, err := load(map[string]string{
		"a.json": `{"a": {"b": "first", "c": {"d": "deep"}}, "x.y": "dotted"}`,
		"b.json": `{"a.e": "second", "n": {"one": "{n} job", "other": "{n} jobs"}, "order": "{second} before {first}"}`,
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ got, want string }{
		{w.T("a.b"), "first"}, {w.T("a.c.d"), "deep"}, {w.T("x.y"), "dotted"}, {w.T("a.e"), "second"},
		{w.T("n", "n", 1), "1 job"}, {w.T("n", "n", 2), "2 jobs"}, {w.T("n", "n", 0), "0 jobs"}, {w.T("n", "n", 1.0), "1 job"},
		{w.T("order", "first", "A", "second", "B"), "B before A"},
		{w.T("order", "first", "{second}", "second", "B"), "B before {second}"}, // an argument is never filled in again
		{w.T("order", "first", "A"), "⟨second⟩ before A"},
		{w.T("missing.key"), "⟨missing.key⟩"},
		{w.Text("order", nil), "⟨second⟩ before ⟨first⟩"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
	if !w.Has("n") || w.Has("a") || w.Has("zz") {
		t.Error("Has is wrong")
	}
	for why, files := range map[string]map[string]string{
		"twice in one file":      {"a.json": `{"a": "1", "a": "2"}`},
		"twice in two files":     {"a.json": `{"a": {"b": "1"}}`, "b.json": `{"a.b": "2"}`},
		"nested and dotted":      {"a.json": `{"a": {"b": "1"}, "a.b": "2"}`},
		"a number":               {"a.json": `{"a": 1}`},
		"a list":                 {"a.json": `{"a": ["1"]}`},
		"null":                   {"a.json": `{"a": null}`},
		"no object":              {"a.json": `"a"`},
		"text after the end":     {"a.json": `{"a": "1"} {"b": "2"}`},
		"broken off":             {"a.json": `{"a": "1"`},
		"no files":               {},
		"only one of two broken": {"a.json": `{"a": "1"}`, "b.json": `{`},
	} {
		if _, err := load(files); err == nil {
			t.Errorf("%s is accepted", why)
		}
	}
}

// use is a key in Go source: whole, or the beginning of one that is completed at
// run time ("shell.place." + id).
type use struct {
	key    string
	prefix bool
	where  string
}

// uses collects the keys given to T and Text in the Go files of the page.
func uses(t *testing.T) []use {
	t.Helper()
	var found []use
	sourceFiles(t, "..", func(fset *gotoken.FileSet, file *ast.File) {
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) == 0 {
				return true
			}
			sel, ok := call.Fun.(*ast.SelectorExpr)
			if !ok || sel.Sel.Name != "T" && sel.Sel.Name != "Text" {
				return true
			}
			key, prefix, ok := text(call.Args[0])
			// app.Text("a text") is no key; keys have a point and no space.
			if ok && strings.Contains(key, ".") && !strings.Contains(key, " ") {
				found = append(found, use{key, prefix, fset.Position(call.Pos()).String()})
			}
			return true
		})
	})
	if len(found) < 20 {
		t.Fatalf("only %d keys found in the source: the search is broken", len(found))
	}
	return found
}

func TestEveryKeyUsedExists(t *testing.T) {
	en := English()
	for _, u := range uses(t) {
		if !u.prefix && !en.Has(u.key) {
			t.Errorf("%s: no words for %q", u.where, u.key)
		}
		if u.prefix && !slices.ContainsFunc(en.Keys(), func(k string) bool { return strings.HasPrefix(k, u.key) }) {
			t.Errorf("%s: no words begin with %q", u.where, u.key)
		}
	}
}
