package site

import (
	"bytes"
	"errors"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"
	"time"
)

// types are set here because the machine's own table of types may be empty or
// wrong; a web host knows these.
var types = map[string]string{
	".html":        "text/html; charset=utf-8",
	".css":         "text/css; charset=utf-8",
	".js":          "text/javascript; charset=utf-8",
	".svg":         "image/svg+xml",
	".png":         "image/png",
	".gz":          "application/gzip",
	".br":          "application/octet-stream",
	".json":        "application/json",
	".txt":         "text/plain; charset=utf-8",
	".webmanifest": "application/manifest+json",
}

// Handler serves an assembled site as the plainest host would: files as they are,
// a folder's index.html after a redirect to its address with a slash, 404.html
// for the rest, all with [Headers]. It compresses nothing and knows no routes, so
// what works here works anywhere.
func Handler(site fs.FS) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for _, h := range Headers {
			w.Header().Set(h[0], h[1])
		}
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			http.Error(w, "this host only gives", http.StatusMethodNotAllowed)
			return
		}
		name := strings.TrimPrefix(path.Clean("/"+r.URL.Path), "/")
		if info, err := fs.Stat(site, orDot(name)); err == nil && info.IsDir() {
			if !strings.HasSuffix(r.URL.Path, "/") {
				// Relative, because the site does not know under which path it lies.
				w.Header().Set("Location", path.Base(name)+"/"+query(r))
				w.WriteHeader(http.StatusMovedPermanently)
				return
			}
			name = path.Join(name, "index.html")
		}
		text, err := fs.ReadFile(site, name)
		status := http.StatusOK
		if errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrInvalid) {
			name, status = "404.html", http.StatusNotFound
			text, err = fs.ReadFile(site, name)
		}
		if err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
			return
		}
		kind := types[path.Ext(name)]
		if kind == "" {
			kind = mime.TypeByExtension(path.Ext(name))
		}
		w.Header().Set("Content-Type", kind)
		w.Header().Set("ETag", `"`+sum(text)[:16]+`"`)
		if status == http.StatusOK {
			http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(text))
			return
		}
		w.WriteHeader(status)
		w.Write(text)
	})
}

func orDot(name string) string {
	if name == "" {
		return "."
	}
	return name
}

func query(r *http.Request) string {
	if r.URL.RawQuery == "" {
		return ""
	}
	return "?" + r.URL.RawQuery
}
