package page

import (
	"strings"
	"time"
	"unicode"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
)

// Export hands the job at hand to the browser as a file.
func (s *Page) Export() {
	s.Download(FileName(s.Job.Title, "json"), "application/json", string(job.Export([]job.Job{s.Job}, time.Now())))
}

// FileName is safe on every system: letters, digits and hyphens of the title.
func FileName(title, ending string) string {
	safe := strings.Map(func(r rune) rune {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			return unicode.ToLower(r)
		case r == ' ' || r == '-' || r == '_':
			return '-'
		}
		return -1
	}, title)
	if runes := []rune(safe); len(runes) > 40 {
		safe = string(runes[:40])
	}
	name := "two-needles"
	if safe = strings.Trim(safe, "-"); safe != "" {
		name += "-" + safe
	}
	return name + "-" + time.Now().Format(time.DateOnly) + "." + ending
}

// Download hands a text to the browser as a file.
func (s *Page) Download(name, kind, text string) {
	if app.IsServer {
		return
	}
	blob := app.Window().Get("Blob").New([]any{text}, map[string]any{"type": kind})
	url := app.Window().Get("URL").Call("createObjectURL", blob)
	a := app.Window().Get("document").Call("createElement", "a")
	a.Set("href", url)
	a.Set("download", name)
	a.Call("click") // it is in no page, so the page's own click handler does not see it
	const kept = time.Minute
	s.Ctx.After(kept, func(app.Context) { app.Window().Get("URL").Call("revokeObjectURL", url) })
}

// Link is the address of a place with the whole job behind the #; "" is the place
// shown.
func (s *Page) Link(place string) string {
	u := app.Window().URL()
	if place != "" {
		u.Path = u.Path[:strings.LastIndex(u.Path, "/")+1] + place
	}
	u.RawQuery, u.Fragment = "", s.Job.Link()
	return u.String()
}

// CopyText puts a text on the clipboard. An insecure origin has none, and a browser
// may refuse: then refused is called.
func CopyText(ctx app.Context, text string, done, refused func(app.Context)) {
	clipboard := app.Window().Get("navigator").Get("clipboard")
	if !clipboard.Truthy() {
		refused(ctx)
		return
	}
	then := func(f func(app.Context)) app.Func {
		return app.FuncOf(func(app.Value, []app.Value) any {
			ctx.Dispatch(f)
			return nil
		})
	}
	clipboard.Call("writeText", text).Call("then", then(done), then(refused))
}
