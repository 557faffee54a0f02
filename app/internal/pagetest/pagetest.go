// Package pagetest shows a place without a browser: go-app's test engine draws and
// dispatches, but has no DOM, no events and no OnMount. The model is the real one.
package pagetest

import (
	"fmt"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// Screen is a page with one place on it.
type Screen struct {
	*testing.T
	Page  *page.Page
	Fail  error // every question to the model fails with it
	Panic bool  // every question to the model stops the program

	loop app.TestEngine
	root *stage
}

// stage is the root of the place.
type stage struct {
	app.Compo
	page *page.Page
	view func() app.Composer
}

func (s *stage) OnPreRender(ctx app.Context) { s.page.Start(ctx) }
func (s *stage) Render() app.UI              { return app.Div().Body(s.view()) }

// New starts a page on the device and shows the place that view makes; nil is none.
func New(t *testing.T, device job.Storage, place func(*page.Page) func() app.Composer) *Screen {
	t.Helper()
	s := &Screen{T: t, loop: app.NewTestEngine(), Page: page.New(present.English(), diagnose.Load, device)}
	s.Page.Hurry(func() error {
		if s.Panic {
			panic("pagetest: told to")
		}
		return s.Fail
	})
	view := func() app.Composer { return &nothing{} }
	if place != nil {
		view = place(s.Page)
	}
	s.Show(view)
	return s
}

type nothing struct{ app.Compo }

func (*nothing) Render() app.UI { return app.Div() }

// Show shows another place of the same page.
func (s *Screen) Show(view func() app.Composer) *Screen {
	s.Helper()
	s.root = &stage{page: s.Page, view: view}
	if err := s.loop.Load(s.root); err != nil {
		s.Fatal(err)
	}
	s.loop.ConsumeAll()
	return s
}

// Do runs f as an event and lets everything follow that it starts.
func (s *Screen) Do(f func()) *Screen {
	s.Page.Ctx.Dispatch(func(app.Context) { f() })
	s.loop.ConsumeAll()
	return s
}

// At follows a link to the address with the fragment.
func (s *Screen) At(fragment string) *Screen {
	s.Page.Ctx.Dispatch(func(ctx app.Context) {
		ctx.Page().ReplaceURL(&url.URL{Path: "/", Fragment: fragment})
		s.Page.Arrive(ctx)
		if f := ctx.Page().URL().Fragment; f != "" {
			s.Errorf("the address still holds %q", f)
		}
	})
	s.loop.ConsumeAll()
	return s
}

// Put types a text.
func (s *Screen) Put(t page.Text, text string) *Screen {
	return s.Do(func() {
		s.Page.Put(t, text)
		s.Page.Edited()
	})
}

// Enter types a text by the id of its input on the Readings place.
func (s *Screen) Enter(id, text string) *Screen {
	name, end, _ := strings.Cut(id, "-")
	return s.Put(page.Text{Field: present.FieldID(name), End: end}, text)
}

// Typed is what stands in an input of the Readings place.
func (s *Screen) Typed(id string) string {
	name, end, _ := strings.Cut(id, "-")
	return s.Page.Typed(page.Text{Field: present.FieldID(name), End: end})
}

// Three types the three numbers that are asked first into an empty job.
func (s *Screen) Three(low, high, ambient string) *Screen {
	s.Do(func() { s.Page.Replace(job.New(s.Page.Job.Created, unit.US())) })
	return s.Enter("low", low).Enter("high", high).Enter("ambient", ambient)
}

// Answered fails unless there is an answer.
func (s *Screen) Answered(when string) {
	s.Helper()
	if a := s.Page.Answer(); a.State != page.Answered {
		s.Errorf("%s: no answer but state %d", when, a.State)
	}
}

// HTML is the page as it is drawn.
func (s *Screen) HTML() string { return app.HTMLString(s.root) }

var tags = regexp.MustCompile(`<[^>]*>`)

// Text is what can be read in the element with the id.
func (s *Screen) Text(id string) string {
	html := s.HTML()
	i := strings.Index(html, fmt.Sprintf("id=%q", id))
	if i < 0 {
		return ""
	}
	start := strings.LastIndex(html[:i], "<")
	tag := regexp.MustCompile(`^<(\w+)`).FindStringSubmatch(html[start:])[1]
	depth, end := 0, start
	for _, m := range regexp.MustCompile(`</?`+tag+`[\s>]`).FindAllStringIndex(html[start:], -1) {
		if html[start+m[0]+1] == '/' {
			depth--
		} else {
			depth++
		}
		if depth == 0 {
			end = start + m[0]
			break
		}
	}
	return strings.Join(strings.Fields(tags.ReplaceAllString(html[start:end], " ")), " ")
}

// Has holds that the element with the id says something.
func (s *Screen) Has(id, want string) {
	s.Helper()
	if got := s.Text(id); !strings.Contains(got, want) {
		s.Errorf("#%s says %q, want it to say %q", id, got, want)
	}
}

// controls are inputs and menus; what was typed may hold any sign.
var controls = regexp.MustCompile(`<(?:input|select)(?:\s+[\w-]+(?:="(?:[^"\\]|\\.)*")?)*\s*>`)

// WithoutControls is the page without inputs and menus.
func (s *Screen) WithoutControls() string { return controls.ReplaceAllString(s.HTML(), "") }

// Sound holds what must be true of any page at any time.
func (s *Screen) Sound(what string) {
	s.Helper()
	html := s.HTML()
	if i := strings.Index(html, "⟨"); i >= 0 {
		s.Errorf("%s: a word is missing: %s", what, html[i:min(i+80, len(html))])
	}
	if strings.Contains(html, " style=") {
		s.Errorf("%s: an inline style, which the content security policy blocks", what)
	}
	if strings.Contains(html, "NaN") || strings.Contains(html, "Inf") {
		s.Errorf("%s: a number that is none", what)
	}
	seen := map[string]bool{}
	for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(html, -1) {
		if seen[m[1]] {
			s.Errorf("%s: id %q twice", what, m[1])
		}
		seen[m[1]] = true
	}
	for _, m := range controls.FindAllString(html, -1) {
		id := regexp.MustCompile(` id="([^"]+)"`).FindStringSubmatch(m)
		if id == nil || !strings.Contains(m, "aria-label") && !strings.Contains(html, fmt.Sprintf("for=%q", id[1])) {
			s.Errorf("%s: a control without a label: %s", what, m)
		}
	}
	for _, m := range regexp.MustCompile(`aria-(?:describedby|labelledby)="([^"]+)"`).FindAllStringSubmatch(html, -1) {
		for _, id := range strings.Fields(m[1]) {
			if !seen[id] {
				s.Errorf("%s: aria names %q, which is not there", what, id)
			}
		}
	}
}
