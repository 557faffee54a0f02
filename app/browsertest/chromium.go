//go:build !js

package browsertest

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"slices"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// chromium is found in $CHROMIUM or in the PATH.
type chromium struct{}

type chromiumRunning struct {
	ctx    context.Context // the browser's first tab
	cancel context.CancelFunc
}

func (chromium) start(t testing.TB, profile string, wall *wall) (running, error) {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(installed(t, "CHROMIUM", "chromium", "chromium-browser", "google-chrome")),
		chromedp.UserDataDir(profile),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-gpu", true),
		// Addresses of this machine are never proxied: what arrives at the
		// wall was meant for another host.
		chromedp.ProxyServer(wall.URL),
	)
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox) // Chromium refuses to sandbox root
	}
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, cancel := chromedp.NewContext(allocator)
	b := &chromiumRunning{ctx: ctx, cancel: func() { cancel(); stop() }}
	// Without a time limit: the browser lives as long as the context of its
	// first command.
	if err := chromedp.Do(ctx); err != nil {
		b.cancel()
		return nil, err
	}
	return b, nil
}

func (b *chromiumRunning) close() error {
	ctx, done := context.WithTimeout(b.ctx, Patience)
	defer b.cancel()
	defer done()
	return chromedp.Cancel(ctx)
}

func (b *chromiumRunning) kill() error {
	defer b.cancel()
	return chromedp.FromContext(b.ctx).Browser.Process().Kill()
}

func (b *chromiumRunning) open() (tab, error) {
	c := &chromiumTab{}
	c.ctx, c.cancel = chromedp.NewContext(b.ctx, chromedp.WithListener(c.hear))
	return c, chromedp.Do(c.ctx) // without a time limit: see start
}

type chromiumTab struct {
	ctx    context.Context
	cancel context.CancelFunc

	mu      sync.Mutex
	trouble []string
}

func (c *chromiumTab) close() { c.cancel() }

// do runs actions within the time that a wait has.
func (c *chromiumTab) do(actions ...chromedp.Action[chromedp.Void]) error {
	ctx, done := context.WithTimeout(c.ctx, Patience)
	defer done()
	return chromedp.Do(ctx, actions...)
}

func (c *chromiumTab) bytes(action chromedp.Action[[]byte]) ([]byte, error) {
	ctx, done := context.WithTimeout(c.ctx, Patience)
	defer done()
	return chromedp.Run(ctx, action)
}

func (c *chromiumTab) navigate(url string) error { return c.do(chromedp.Navigate(url)) }

func (c *chromiumTab) reload() error { return c.do(chromedp.Reload()) }

func (c *chromiumTab) eval(expression string) ([]byte, error) {
	return c.bytes(chromedp.Evaluate[[]byte](expression, chromedp.EvalAwaitPromise))
}

func (c *chromiumTab) click(at [2]float64) error { return c.do(chromedp.MouseClickXY(at[0], at[1])) }

func (c *chromiumTab) clickAway(at [2]float64) error {
	button := []chromedp.MouseOption{chromedp.ButtonLeft, chromedp.ClickCount(1)}
	if err := c.do(chromedp.MouseEvent(chromedp.MousePressed, at[0], at[1], button...)); err != nil {
		return err
	}
	// The browser answers when the page has dealt with the click, and never when
	// the page is gone by then: the new page is the answer.
	ctx, done := context.WithTimeout(c.ctx, Patience/6)
	defer done()
	err := chromedp.Do(ctx, chromedp.MouseEvent(chromedp.MouseReleased, at[0], at[1], button...))
	if errors.Is(err, context.DeadlineExceeded) {
		return nil
	}
	return err
}

func (c *chromiumTab) keys(keys string, shift bool) error {
	if shift {
		return c.do(chromedp.KeyEvent(keys, chromedp.KeyModifiers(chromedp.ModifierShift)))
	}
	return c.do(chromedp.KeyEvent(keys))
}

func (c *chromiumTab) screen(s Screen) error {
	var options []chromedp.EmulateViewportOption
	if s.Touch {
		options = append(options, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait, chromedp.EmulateScale(2))
	}
	return c.do(chromedp.EmulateViewport(s.Width, s.Height, options...))
}

func (c *chromiumTab) dark(dark bool) error {
	scheme := "light"
	if dark {
		scheme = "dark"
	}
	return c.emulate(emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
}

func (c *chromiumTab) medium(medium string) error {
	return c.emulate(emulation.SetEmulatedMediaParams{Media: medium})
}

func (c *chromiumTab) emulate(media emulation.SetEmulatedMediaParams) error {
	ctx, done := context.WithTimeout(c.ctx, Patience)
	defer done()
	_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, media)
	return err
}

func (c *chromiumTab) screenshot(whole bool) ([]byte, error) {
	if whole {
		return c.bytes(chromedp.FullScreenshot(100))
	}
	return c.bytes(chromedp.CaptureScreenshot())
}

func (c *chromiumTab) pdf(paper chromedp.PaperSize) ([]byte, error) {
	return c.bytes(chromedp.PrintToPDF(chromedp.PDFPaper(paper), chromedp.PDFPrintBackground(), chromedp.PDFPreferCSSPageSize()))
}

func (c *chromiumTab) heard() []string {
	c.mu.Lock()
	defer c.mu.Unlock()
	heard := c.trouble
	c.trouble = nil
	return heard
}

// hear runs in chromedp's reading loop and only writes down.
func (c *chromiumTab) hear(event any) {
	var trouble string
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		trouble = "exception: " + e.ExceptionDetails.Text
		if e.ExceptionDetails.Exception != nil {
			trouble += " " + e.ExceptionDetails.Exception.Description
		}
	case *runtime.EventConsoleAPICalled:
		if e.Type != runtime.ConsoleAPICalledTypeError {
			return
		}
		trouble = "console.error:"
		for _, arg := range e.Args {
			trouble += " " + string(arg.Value) + arg.Description
		}
	case *log.EventEntryAdded:
		// A request that fails for want of network is the subject of many tests.
		if e.Entry.Level != log.EntryLevelError || e.Entry.Source == log.EntrySourceNetwork {
			return
		}
		trouble = string(e.Entry.Source) + ": " + e.Entry.Text + " " + e.Entry.URL
	default:
		return
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if !slices.Contains(c.trouble, trouble) {
		c.trouble = append(c.trouble, trouble)
	}
}

// installed returns the path of a browser or driver: the one named in the variable, or
// the first of the names in the PATH.
func installed(t testing.TB, variable string, names ...string) string {
	t.Helper()
	if path := os.Getenv(variable); path != "" {
		return path
	}
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Fatalf("these tests need %s: run `make chromium browsers`, or name one in $%s", names[0], variable)
	return ""
}
