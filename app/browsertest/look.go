//go:build !js

package browsertest

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"twoneedles/app/site"
)

// Screen is a viewport in CSS pixels.
type Screen struct {
	Width, Height int64
	Touch         bool
}

// The two screens that the project's pictures and layout tests use.
var (
	Phone  = Screen{390, 844, true}
	Laptop = Screen{1280, 800, false}
)

// Look is a way to look at a page.
type Look struct {
	Name   string
	Screen Screen
	Dark   bool
}

// Looks are the four in which every place is looked at.
var Looks = []Look{{"phone-light", Phone, false}, {"phone-dark", Phone, true}, {"laptop-light", Laptop, false}, {"laptop-dark", Laptop, true}}

// SetLook sets the screen and what the device asks for.
func (p *Page) SetLook(l Look) {
	p.t.Helper()
	p.SetScreen(l.Screen)
	p.SetDark(l.Dark)
}

// SetScreen gives the page a viewport.
func (p *Page) SetScreen(s Screen) {
	p.t.Helper()
	p.screen = s
	p.did("setting the screen", p.tab.screen(s))
}

// sideways returns by how much the page is wider than its screen, in CSS pixels.
// window.innerWidth would not do: a phone widens it to what there is to be seen.
func (p *Page) sideways() int64 {
	p.t.Helper()
	if p.screen.Width == 0 {
		p.t.Fatalf("no screen was set")
	}
	return Eval[int64](p, "document.documentElement.scrollWidth") - p.screen.Width
}

// SetDark chooses what the device asks for: dark or light.
func (p *Page) SetDark(dark bool) {
	p.t.Helper()
	p.did("choosing dark or light", p.tab.dark(dark))
}

// SetMedium makes the page look as it does on "print", or, with "", on a screen.
func (p *Page) SetMedium(medium string) {
	p.t.Helper()
	p.did("choosing the medium", p.tab.medium(medium))
}

// SetSlowness makes the processor that many times slower; 1 is its own speed.
// Only Chromium can.
func (p *Page) SetSlowness(times float64) {
	p.t.Helper()
	p.call("slowing down", func(ctx context.Context) error {
		_, err := chromedp.Call(ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: times})
		return err
	})
}

// call asks Chromium for what no other engine is asked for.
func (p *Page) call(what string, f func(context.Context) error) {
	p.t.Helper()
	c, ok := p.tab.(*chromiumTab)
	if !ok {
		p.t.Fatalf("%s: only Chromium can; see OnlyIn", what)
	}
	ctx, done := context.WithTimeout(c.ctx, Patience)
	defer done()
	p.did(what, f(ctx))
}

// Screenshot takes a PNG of what the screen shows and keeps it as name.png.
func (p *Page) Screenshot(name string) []byte {
	p.t.Helper()
	picture, err := p.tab.screenshot(false)
	return p.keep(name+".png", picture, err)
}

// FullScreenshot takes a PNG of the whole page, beyond the screen.
func (p *Page) FullScreenshot(name string) []byte {
	p.t.Helper()
	picture, err := p.tab.screenshot(true)
	return p.keep(name+".png", picture, err)
}

// PDF prints the page on the paper and keeps it as name.pdf; the page's own print
// styles decide the rest.
func (p *Page) PDF(name string, paper chromedp.PaperSize) []byte {
	p.t.Helper()
	pdf, err := p.tab.pdf(paper)
	return p.keep(name+".pdf", pdf, err)
}

// keep writes a picture down, under a name that says which engine drew it.
func (p *Page) keep(file string, picture []byte, err error) []byte {
	p.t.Helper()
	if err != nil {
		p.t.Fatalf("taking %s: %v", file, err)
	}
	if Engine() != "chromium" {
		file = Engine() + "-" + file
	}
	root, err := site.Root()
	if err != nil {
		p.t.Fatal(err)
	}
	dir, err := shots(os.Getenv("SHOTS"), root)
	if err != nil {
		p.t.Fatal(err)
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		p.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, strings.ReplaceAll(file, "/", "-")), picture, 0o666); err != nil {
		p.t.Fatal(err)
	}
	return picture
}

// shots returns the folder for pictures: the one wished for, or, where none is,
// .cache/shots in the module at root. A folder elsewhere in the module is an error:
// what lies there is soon committed.
func shots(wish, root string) (string, error) {
	home := filepath.Join(root, ".cache", "shots")
	if wish == "" {
		return home, nil
	}
	if !filepath.IsAbs(wish) {
		return "", fmt.Errorf("SHOTS=%s: name an absolute folder outside %s, or leave it unset for %s", wish, root, home)
	}
	if inside(wish, root) && !inside(wish, home) {
		return "", fmt.Errorf("SHOTS=%s lies in the working tree: name a folder outside %s, or leave it unset for %s", wish, root, home)
	}
	return filepath.Clean(wish), nil
}

// inside reports whether the folder dir is root or below it; both are absolute.
func inside(dir, root string) bool {
	way, err := filepath.Rel(root, dir)
	return err == nil && filepath.IsLocal(way)
}
