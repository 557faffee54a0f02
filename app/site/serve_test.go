package site

import (
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

// Who sets up a host reads DEVELOPERS.md.
func TestHeadersAreWrittenDown(t *testing.T) {
	root, err := Root()
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, block, _ := strings.Cut(string(text), "\n    Content-Security-Policy: ")
	block, _, _ = strings.Cut("    Content-Security-Policy: "+block, "\n\n")
	var want []string
	for _, h := range Headers {
		want = append(want, "    "+h[0]+": "+h[1])
	}
	if block != strings.Join(want, "\n") {
		t.Errorf("DEVELOPERS.md has the headers\n%s\nwe send\n%s", block, strings.Join(want, "\n"))
	}
}

func TestHandlerIsThePlainestHost(t *testing.T) {
	handler := Handler(fstest.MapFS{
		"index.html":     {Data: []byte("start")},
		"404.html":       {Data: []byte("page for the rest")},
		"job/index.html": {Data: []byte("job")},
		"app.wasm.br":    {Data: []byte("packed")},
	})
	for _, c := range []struct {
		method, path   string
		status         int
		body, location string
		kind           string
	}{
		{"GET", "/", 200, "start", "", "text/html; charset=utf-8"},
		{"GET", "/job", 301, "", "job/", ""},
		{"GET", "/job?x=1", 301, "", "job/?x=1", ""},
		{"GET", "/job/", 200, "job", "", "text/html; charset=utf-8"},
		{"GET", "/app.wasm.br?v=1", 200, "packed", "", "application/octet-stream"},
		{"GET", "/no/such", 404, "page for the rest", "", "text/html; charset=utf-8"},
		{"GET", "/../../etc/passwd", 404, "page for the rest", "", "text/html; charset=utf-8"},
		{"POST", "/", 405, "this host only gives\n", "", "text/plain; charset=utf-8"},
	} {
		r := httptest.NewRequest(c.method, "http://host"+c.path, nil)
		r.Header.Set("Accept-Encoding", "gzip, br")
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, r)
		if w.Code != c.status || w.Body.String() != c.body || w.Header().Get("Location") != c.location || w.Header().Get("Content-Type") != c.kind {
			t.Errorf("%s %s: %d %q location %q type %q, want %d %q %q %q", c.method, c.path,
				w.Code, w.Body, w.Header().Get("Location"), w.Header().Get("Content-Type"), c.status, c.body, c.location, c.kind)
		}
		for _, h := range Headers {
			if got := w.Header().Values(h[0]); len(got) != 1 || got[0] != h[1] {
				t.Errorf("%s %s: %s is %q, want %q once", c.method, c.path, h[0], got, h[1])
			}
		}
		if encoding := w.Header().Get("Content-Encoding"); encoding != "" {
			t.Errorf("%s: encoded as %s", c.path, encoding)
		}
	}
}
