//go:build !js

package browsertest

import (
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"sync"
	"testing"
	"time"
)

// Patience is how long waiting goes on before it fails the test. Generous: two
// slow cores may be compiling the program while other tests run.
const Patience = 30 * time.Second

// Browser is a running browser with a profile of its own.
type Browser struct {
	t       testing.TB
	engine  engine
	profile string
	wall    *wall
	running running // nil when closed
}

// Launch starts a browser that has never been anywhere.
func Launch(t testing.TB) *Browser {
	t.Helper()
	b := &Browser{t: t, engine: theEngine(t), profile: profileOf(t), wall: newWall(t)}
	b.start()
	t.Cleanup(b.Close)
	return b
}

// profileOf is a folder that goes with the test. A browser's helpers may be writing into it
// for a moment after the browser has ended, which t.TempDir would call a failure.
func profileOf(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "twoneedles-profile")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		err := os.RemoveAll(dir)
		for end := time.Now().Add(5 * time.Second); err != nil && time.Now().Before(end); err = os.RemoveAll(dir) {
			time.Sleep(50 * time.Millisecond)
		}
		if err != nil {
			t.Error(err)
		}
	})
	return dir
}

// Relaunch closes the browser and starts it again with the same profile, as a
// phone does that was switched off. Earlier pages are gone.
func (b *Browser) Relaunch() *Browser {
	b.t.Helper()
	b.Close()
	b.start()
	return b
}

func (b *Browser) start() {
	b.t.Helper()
	running, err := b.engine.start(b.t, b.profile, b.wall)
	if err != nil {
		b.t.Fatalf("starting %s: %v", Engine(), err)
	}
	b.running = running
}

// Close ends the browser in order, so that what it was told to keep is on disk.
func (b *Browser) Close() {
	if b.running == nil {
		return
	}
	if err := b.running.close(); err != nil {
		b.t.Errorf("closing %s: %v", Engine(), err)
	}
	b.running = nil
}

// Kill ends the browser as a flat battery does.
func (b *Browser) Kill() {
	b.t.Helper()
	if err := b.running.kill(); err != nil {
		b.t.Fatalf("killing %s: %v", Engine(), err)
	}
	b.running = nil
}

// Elsewhere returns the requests to other hosts since the last call; a test that
// causes them on purpose must take them off here.
func (b *Browser) Elsewhere() []string { return b.wall.take() }

// wall is the only way out of the browser, and it leads nowhere.
type wall struct {
	*httptest.Server
	mu    sync.Mutex
	asked []string
}

func newWall(t testing.TB) *wall {
	w := &wall{}
	w.Server = httptest.NewServer(http.HandlerFunc(func(rw http.ResponseWriter, r *http.Request) {
		if browsersOwn(r.Host) {
			http.Error(rw, "no way out", http.StatusForbidden)
			return
		}
		w.mu.Lock()
		w.asked = append(w.asked, r.Method+" "+r.Host+" "+r.URL.String())
		w.mu.Unlock()
		http.Error(rw, "no way out", http.StatusForbidden)
	}))
	t.Cleanup(func() {
		w.Close()
		for _, request := range w.take() {
			t.Errorf("a request left for another host: %s", request)
		}
	})
	return w
}

// browsersOwn reports whether the browser itself talks with the host: to set its
// clock, look for updates, ask about form fields. No flag stops all of it.
func browsersOwn(host string) bool {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	for _, own := range []string{".google.com", ".googleapis.com", ".gvt1.com", ".mozilla.com", ".mozilla.org", ".mozilla.net", ".firefox.com"} {
		if strings.HasSuffix(host, own) {
			return true
		}
	}
	return false
}

func (w *wall) take() []string {
	w.mu.Lock()
	defer w.mu.Unlock()
	asked := w.asked
	w.asked = nil
	return asked
}
