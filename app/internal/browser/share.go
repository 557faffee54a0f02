package browser

import (
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

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
func Download(ctx app.Context, name, kind, text string) {
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
	ctx.After(kept, func(app.Context) { app.Window().Get("URL").Call("revokeObjectURL", url) })
}

// Address is that of a place with the fragment; "" is the place shown.
func Address(place, fragment string) string {
	u := app.Window().URL()
	if place != "" {
		u.Path = u.Path[:strings.LastIndex(u.Path, "/")+1] + place
	}
	u.RawQuery, u.Fragment = "", fragment
	return u.String()
}

// Shared says what became of handing a link on.
type Shared int

// What can become of it.
const (
	SharedAway   Shared = iota // the device's own sheet took it
	SharedCopied               // it is on the clipboard
	SharedNot                  // neither is allowed: show it
	SharedEnded                // the person closed the sheet
)

// CanShare tells whether the device has a sheet of its own for handing things on.
func CanShare() bool { return app.Window().Get("navigator").Get("share").Truthy() }

// Share hands a link to the device's own sheet; where there is none, or it fails, the
// link is copied. then is called with what became of it.
func Share(ctx app.Context, title, link string, then func(app.Context, Shared)) {
	share(ctx, map[string]any{"title": title, "url": link}, link, then)
}

// ShareText is [Share] of a text.
func ShareText(ctx app.Context, title, text string, then func(app.Context, Shared)) {
	share(ctx, map[string]any{"title": title, "text": text}, text, then)
}

func share(ctx app.Context, what map[string]any, copied string, then func(app.Context, Shared)) {
	byCopy := func(ctx app.Context) {
		CopyText(ctx, copied,
			func(ctx app.Context) { then(ctx, SharedCopied) },
			func(ctx app.Context) { then(ctx, SharedNot) })
	}
	if !CanShare() {
		byCopy(ctx)
		return
	}
	Await(Call(app.Window().Get("navigator"), "share", what),
		func(app.Value) { ctx.Dispatch(func(ctx app.Context) { then(ctx, SharedAway) }) },
		func(why app.Value) {
			ctx.Dispatch(func(ctx app.Context) {
				if why.Truthy() && why.Get("name").String() == "AbortError" {
					then(ctx, SharedEnded)
					return
				}
				byCopy(ctx)
			})
		})
}

// CopyText puts a text on the clipboard. An insecure origin has none, and a browser
// may refuse: then refused is called.
func CopyText(ctx app.Context, text string, done, refused func(app.Context)) {
	clipboard := app.Window().Get("navigator").Get("clipboard")
	if !clipboard.Truthy() {
		refused(ctx)
		return
	}
	Await(Call(clipboard, "writeText", text),
		func(app.Value) { ctx.Dispatch(done) },
		func(app.Value) { ctx.Dispatch(refused) })
}

// CanPrint tells whether there is a way to paper: the browser inside another app often has
// none. Print takes it.
func CanPrint() bool { return app.IsServer || app.Window().Get("print").Truthy() }

// Print prints what the page shows, laid out for paper.
func Print(app.Context, app.Event) { app.Window().Call("print") }

// Call calls a method of the browser that answers with a promise. One that is not there, or
// throws, is a promise that is refused: a panic would end the program.
func Call(of app.Value, method string, args ...any) (promise app.Value) {
	defer func() {
		if p := recover(); p != nil {
			promise = app.Window().Get("Promise").Call("reject", app.Window().Get("Error").New(fmt.Sprint(p)))
		}
	}()
	if promise = of.Call(method, args...); !promise.Truthy() { // an old one that wants to be called back
		promise = app.Window().Get("Promise").Call("resolve")
	}
	return promise
}

// Await calls one of the two when the promise is settled, with what it was settled
// with, and lets go of both.
func Await(promise app.Value, done, failed func(app.Value)) {
	var fs [2]app.Func
	for i, f := range []func(app.Value){done, failed} {
		fs[i] = app.FuncOf(func(_ app.Value, args []app.Value) any {
			defer func() { fs[0].Release(); fs[1].Release() }()
			if len(args) > 0 {
				f(args[0])
			} else {
				f(app.Undefined())
			}
			return nil
		})
	}
	promise.Call("then", fs[0], fs[1])
}

// ReadFile reads the file that was chosen in the input of the event and lets the same be
// chosen again. One larger than most bytes is not even read: tooBig is called.
func ReadFile(ctx app.Context, most int, done func(text string, err error), tooBig func(size int)) {
	input := ctx.JSSrc()
	files := input.Get("files")
	if !files.Truthy() || files.Get("length").Int() == 0 {
		return
	}
	file := files.Index(0)
	if size := file.Get("size").Int(); size > most {
		tooBig(size)
		input.Set("value", "")
		return
	}
	Await(file.Call("text"),
		func(text app.Value) {
			ctx.Dispatch(func(app.Context) {
				done(text.String(), nil)
				input.Set("value", "")
			})
		},
		func(app.Value) { ctx.Dispatch(func(app.Context) { done("", errUnreadable) }) })
}

var errUnreadable = errors.New("browser: the file cannot be read")
