package app

import (
	"math"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// spot is where the reading stood in the pressure plane last, in units of the
// picture's view box.
type spot struct {
	x, y  float64
	known bool
}

// glideTime is how long the point takes to its new place: long enough for eyes
// to follow what changed, short enough not to wait for.
const glideTime = 150 // ms

// glide lets the reading in the new picture start where it stood in the old one.
// The picture itself is replaced as a whole, so the browser has to be asked. It
// does nothing for those who want no motion.
func (s *spot) glide() {
	plane := app.Window().GetElementByID("plane-frame")
	if !plane.Truthy() {
		s.known = false
		return
	}
	point := plane.Call("querySelector", "circle.point")
	if !point.Truthy() {
		s.known = false
		return
	}
	old := *s
	s.x, s.y, s.known = attribute(point, "cx"), attribute(point, "cy"), true
	dx, dy := old.x-s.x, old.y-s.y
	if !old.known || math.Hypot(dx, dy) < 0.5 || app.Window().Call("matchMedia", "(prefers-reduced-motion: reduce)").Get("matches").Bool() {
		return
	}
	for selector, way := range map[string][2]float64{
		"circle.point, path.low, path.high, rect.swing": {dx, dy},
		".low-thin, .value-low":                         {dx, 0},
		".high-thin, .value-high":                       {0, dy},
	} {
		slide(plane, selector, way[0], way[1])
	}
}

func slide(within app.Value, selector string, dx, dy float64) {
	from := "translate(" + pixels(dx) + "," + pixels(dy) + ")"
	all := within.Call("querySelectorAll", selector)
	for i := range all.Get("length").Int() {
		all.Index(i).Call("animate",
			[]any{map[string]any{"transform": from}, map[string]any{"transform": "translate(0px,0px)"}},
			map[string]any{"duration": glideTime, "easing": "ease-out"})
	}
}

func pixels(x float64) string { return strconv.FormatFloat(x, 'f', 2, 64) + "px" }

// attribute reads a number of an element, 0 where there is none.
func attribute(el app.Value, name string) float64 {
	x, err := strconv.ParseFloat(el.Call("getAttribute", name).String(), 64)
	if err != nil {
		return 0
	}
	return x
}
