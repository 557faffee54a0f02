//go:build !js

package browsertest

import (
	"context"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// Patience is how long waiting goes on before it fails the test. Generous: two
// slow cores may be compiling the program while other tests run.
const Patience = 30 * time.Second

// Browser is a running Chromium with a profile of its own.
type Browser struct {
	t       testing.TB
	profile string
	wall    *wall
	ctx     context.Context // the browser's first tab
	cancel  context.CancelFunc
}

// Launch starts a browser that has never been anywhere.
func Launch(t testing.TB) *Browser {
	t.Helper()
	b := &Browser{t: t, profile: t.TempDir(), wall: newWall(t)}
	b.start()
	t.Cleanup(b.Close)
	return b
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
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(chromium(b.t)),
		chromedp.UserDataDir(b.profile),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-gpu", true),
		// Addresses of this machine are never proxied: what arrives at the
		// wall was meant for another host.
		chromedp.ProxyServer(b.wall.URL),
	)
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox) // Chromium refuses to sandbox root
	}
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, cancel := chromedp.NewContext(allocator)
	b.ctx, b.cancel = ctx, func() { cancel(); stop() }
	// Without a time limit: the browser lives as long as the context of its
	// first command.
	if err := chromedp.Do(ctx); err != nil {
		b.cancel()
		b.t.Fatalf("starting Chromium: %v", err)
	}
}

// Close ends the browser in order, so that what it was told to keep is on disk.
func (b *Browser) Close() {
	if b.ctx == nil {
		return
	}
	ctx, done := context.WithTimeout(b.ctx, Patience)
	if err := chromedp.Cancel(ctx); err != nil {
		b.t.Errorf("closing Chromium: %v", err)
	}
	done()
	b.cancel()
	b.ctx = nil
}

// Elsewhere returns the requests to other hosts since the last call; a test that
// causes them on purpose must take them off here.
func (b *Browser) Elsewhere() []string { return b.wall.take() }

func chromium(t testing.TB) string {
	t.Helper()
	if path := os.Getenv("CHROMIUM"); path != "" {
		return path
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Fatal("these tests need Chromium: run `make chromium` (or apt-get install chromium), or name one in $CHROMIUM")
	return ""
}

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

// browsersOwn reports whether Chromium itself talks with the host: to set its
// clock, look for updates, ask about form fields. No flag stops all of it.
func browsersOwn(host string) bool {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	return strings.HasSuffix(host, ".google.com") || strings.HasSuffix(host, ".googleapis.com") || strings.HasSuffix(host, ".gvt1.com")
}

func (w *wall) take() []string {
	w.mu.Lock()
	defer w.mu.Unlock()
	asked := w.asked
	w.asked = nil
	return asked
}
