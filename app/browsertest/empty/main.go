// Command empty is a page of go-app with one field and one line that repeats what
// was typed: the least that a key can cost a page made with it, and the floor
// beside which BenchmarkKeystroke is read (see BenchmarkEmptyPage).
//
// Run natively, it writes the files round its program into the folder it is given.
package main

import (
	"log"
	"os"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// empty has the ids that the measuring looks for.
type empty struct {
	app.Compo
	typed string
}

// OnMount shows that the program has come: the page round it has the field already.
func (e *empty) OnMount(app.Context) { e.typed = "ready" }

func (e *empty) Render() app.UI {
	return app.Div().Body(
		app.Input().ID("low").OnInput(func(app.Context, app.Event) {
			e.typed = app.Window().GetElementByID("low").Get("value").String()
		}),
		app.P().ID("answer").Text(e.typed),
	)
}

func main() {
	app.Route("/", func() app.Composer { return new(empty) })
	app.RunWhenOnBrowser()
	if len(os.Args) != 2 {
		log.Fatal("empty: name the folder to write to")
	}
	if err := app.GenerateStaticWebsite(os.Args[1], &app.Handler{Name: "empty", Icon: app.Icon{Default: "/none.png", Large: "/none.png", Maskable: "/none.png", SVG: "/none.svg"}}); err != nil {
		log.Fatal(err)
	}
}
