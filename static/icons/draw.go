//go:build ignore

// Command draw makes the icons of the site: two needles on one hub, the low side's
// and the high side's, in the trade's blue and red. It writes mark.svg and the
// sizes that phones want as PNG. Run it in this folder: go run draw.go
package main

import (
	"fmt"
	"image"
	"image/color"
	"image/png"
	"log"
	"math"
	"os"
)

// The mark in a square of 64: needles as round-ended lines, a hub, a round plate.
type line struct {
	x1, y1, x2, y2, width float64
	colour                color.NRGBA
}

var (
	plate  = color.NRGBA{0x10, 0x14, 0x17, 0xff}
	needle = []line{
		{32, 44, 14, 23, 4.5, color.NRGBA{0x7d, 0xb8, 0xf5, 0xff}},
		{32, 44, 43, 14, 4.5, color.NRGBA{0xff, 0x8f, 0x84, 0xff}},
		{32, 44, 32, 44, 10, color.NRGBA{0xf1, 0xf3, 0xf4, 0xff}},
	}
)

func main() {
	svg()
	icon("mark-192.png", 192, 1, false)
	icon("mark-512.png", 512, 1, false)
	icon("mark-180.png", 180, 1, true)            // iOS cuts the corners itself
	icon("mark-maskable-512.png", 512, 0.8, true) // the outer tenth may be cut off
}

func svg() {
	f, err := os.Create("mark.svg")
	if err != nil {
		log.Fatal(err)
	}
	defer f.Close()
	fmt.Fprintf(f, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 64 64"><rect width="64" height="64" rx="14" fill="%s"/><g fill="none" stroke-linecap="round">`, hex(plate))
	for _, l := range needle {
		fmt.Fprintf(f, `<path d="M%g %gL%g %g" stroke="%s" stroke-width="%g"/>`, l.x1, l.y1, l.x2, l.y2, hex(l.colour), l.width)
	}
	fmt.Fprintln(f, `</g></svg>`)
}

func hex(c color.NRGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// icon draws the mark with the plate's corners rounded, or full to the edge. Edges
// are smoothed by the distance to them, within one pixel.
func icon(name string, size int, scale float64, full bool) {
	m := image.NewNRGBA(image.Rect(0, 0, size, size))
	px := 64 / float64(size)
	for j := range size {
		for i := range size {
			x, y := (float64(i)+0.5)*px, (float64(j)+0.5)*px
			c := color.NRGBA{plate.R, plate.G, plate.B, 0xff}
			if !full {
				c.A = uint8(255*cover(corner(x, y), px) + 0.5)
			}
			u, v := 32+(x-32)/scale, 32+(y-32)/scale
			for _, l := range needle {
				c = over(c, l.colour, cover(distance(l, u, v)-l.width/2, px/scale))
			}
			m.SetNRGBA(i, j, c)
		}
	}
	f, err := os.Create(name)
	if err != nil {
		log.Fatal(err)
	}
	defer f.Close()
	encoder := png.Encoder{CompressionLevel: png.BestCompression}
	if err := encoder.Encode(f, m); err != nil {
		log.Fatal(err)
	}
}

// cover is the share of a pixel inside an edge d away, negative inside.
func cover(d, px float64) float64 { return math.Max(0, math.Min(1, 0.5-d/px)) }

// corner is the distance to the plate's edge, a square of 64 with corners of 14.
func corner(x, y float64) float64 {
	dx, dy := math.Abs(x-32)-18, math.Abs(y-32)-18
	return math.Hypot(math.Max(dx, 0), math.Max(dy, 0)) + math.Min(math.Max(dx, dy), 0) - 14
}

func distance(l line, x, y float64) float64 {
	dx, dy := l.x2-l.x1, l.y2-l.y1
	t := 0.0
	if n := dx*dx + dy*dy; n > 0 {
		t = math.Max(0, math.Min(1, ((x-l.x1)*dx+(y-l.y1)*dy)/n))
	}
	return math.Hypot(x-l.x1-t*dx, y-l.y1-t*dy)
}

func over(under, top color.NRGBA, share float64) color.NRGBA {
	mix := func(a, b uint8) uint8 { return uint8(float64(a)*(1-share) + float64(b)*share + 0.5) }
	return color.NRGBA{mix(under.R, top.R), mix(under.G, top.G), mix(under.B, top.B), under.A}
}
