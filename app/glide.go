package app

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// glideTime is how long the point of a picture takes to its new place: long
// enough for eyes to follow what changed, short enough not to wait for.
const glideTime = 150 // ms

// glide lets what has moved in a new picture come from where it was: the picture
// says so in data-dx and data-dy (chart.Options.From). It is replaced as a whole,
// so no style can do it. Those who want no motion get none.
func glide(id string) {
	picture := app.Window().GetElementByID(id)
	if !picture.Truthy() || app.Window().Call("matchMedia", "(prefers-reduced-motion: reduce)").Get("matches").Bool() {
		return
	}
	all := picture.Call("querySelectorAll", "[data-dx]")
	for i := range all.Get("length").Int() {
		el := all.Index(i)
		from := "translate(" + pixels(el, "data-dx") + "," + pixels(el, "data-dy") + ")"
		el.Call("animate",
			[]any{map[string]any{"transform": from}, map[string]any{"transform": "translate(0px,0px)"}},
			map[string]any{"duration": glideTime, "easing": "ease-out"})
	}
}

// pixels is a number of an element as a length, zero where there is none.
func pixels(el app.Value, attribute string) string {
	x, err := strconv.ParseFloat(el.Call("getAttribute", attribute).String(), 64)
	if err != nil {
		x = 0
	}
	return strconv.FormatFloat(x, 'f', 2, 64) + "px"
}
