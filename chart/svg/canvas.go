package svg

import (
	"errors"
	"fmt"
	"math"
	"strconv"
)

// Pt is a place on a canvas or, for a [Plot], in the units of its axes.
type Pt struct{ X, Y float64 }

// Rect is a rectangle on a canvas; Y grows downwards.
type Rect struct{ X0, Y0, X1, Y1 float64 }

// Overlaps tells whether r and s share an area.
func (r Rect) Overlaps(s Rect) bool {
	return r.X0 < s.X1 && s.X0 < r.X1 && r.Y0 < s.Y1 && s.Y0 < r.Y1
}

// Anchor is the part of a text that its position names.
type Anchor string

// The anchors.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// Canvas collects the elements of one picture. The first mistake is kept and
// returned by [Canvas.String]; drawing goes on harmlessly meanwhile.
type Canvas struct {
	W, H float64
	b    []byte
	err  error
}

// New starts a picture w by h units large. The id makes the ids of title and
// description unique in the page; it is a letter followed by letters, digits
// and hyphens. Title and description are what a screen reader says.
func New(id, title, desc string, w, h float64) *Canvas {
	c := &Canvas{W: w, H: h, b: make([]byte, 0, 6<<10)}
	switch {
	case !validID(id):
		c.err = fmt.Errorf("svg: %q is no id", id)
	case title == "" || desc == "":
		c.err = errors.New("svg: a picture needs a title and a description")
	case !(w > 0 && w < 1e4 && h > 0 && h < 1e4):
		c.err = fmt.Errorf("svg: a view box of %g by %g", w, h)
	}
	if c.err != nil {
		return c
	}
	c.raw(`<svg xmlns="http://www.w3.org/2000/svg" class="chart" viewBox="0 0 `)
	c.num(w)
	c.raw(` `)
	c.num(h)
	c.raw(`" role="img" aria-labelledby="` + id + `-t ` + id + `-d"><title id="` + id + `-t">`)
	c.esc(title)
	c.raw(`</title><desc id="` + id + `-d">`)
	c.esc(desc)
	c.raw(`</desc>`)
	return c
}

// String ends the picture and returns it, or the first mistake made on it.
func (c *Canvas) String() (string, error) {
	if c.err != nil {
		return "", c.err
	}
	return string(c.b) + "</svg>", nil
}

// Path draws a line through pts, closed to an area if closed is set.
func (c *Canvas) Path(class Class, pts []Pt, closed bool) {
	if len(pts) < 2 {
		return
	}
	c.open("path", class)
	c.raw(` d="`)
	for i, p := range pts {
		if i == 0 {
			c.raw("M")
		} else {
			c.raw("L")
		}
		c.at(p)
	}
	if closed {
		c.raw("Z")
	}
	c.raw(`"/>`)
}

// Segment draws a straight line.
func (c *Canvas) Segment(class Class, a, b Pt) { c.Path(class, []Pt{a, b}, false) }

// Circle draws a circle that lies wholly on the canvas.
func (c *Canvas) Circle(class Class, p Pt, r float64) {
	c.check(Pt{p.X - r, p.Y - r})
	c.check(Pt{p.X + r, p.Y + r})
	c.open("circle", class)
	c.attr("cx", p.X)
	c.attr("cy", p.Y)
	c.attr("r", r)
	c.raw("/>")
}

// Box draws a rectangle with corners rounded to radius.
func (c *Canvas) Box(class Class, r Rect, radius float64) {
	c.check(Pt{r.X0, r.Y0})
	c.check(Pt{r.X1, r.Y1})
	if r.X1 < r.X0 || r.Y1 < r.Y0 {
		c.fail(fmt.Errorf("svg: box %v is turned over", r))
	}
	c.open("rect", class)
	c.attr("x", r.X0)
	c.attr("y", r.Y0)
	c.attr("width", r.X1-r.X0)
	c.attr("height", r.Y1-r.Y0)
	if radius > 0 {
		c.attr("rx", radius)
	}
	c.raw("/>")
}

// Text writes s with its baseline at p and returns the room it takes, measured
// roughly. A text that would leave the canvas is pushed back onto it.
func (c *Canvas) Text(class Class, p Pt, a Anchor, s string) Rect {
	if s == "" {
		return Rect{p.X, p.Y, p.X, p.Y}
	}
	box := TextBox(class, p, a, s)
	if over := box.X1 - c.W; over > 0 {
		p.X, box.X0, box.X1 = p.X-over, box.X0-over, box.X1-over
	}
	if box.X0 < 0 {
		p.X, box.X0, box.X1 = p.X-box.X0, 0, box.X1-box.X0
	}
	c.open("text", class)
	c.attr("x", p.X)
	c.attr("y", p.Y)
	if a != Start {
		c.raw(` text-anchor="` + string(a) + `"`)
	}
	c.check(p)
	c.raw(">")
	c.esc(s)
	c.raw("</text>")
	return box
}

func (c *Canvas) open(element string, class Class) {
	c.raw("<" + element + ` class="` + string(class) + `"`)
}

func (c *Canvas) attr(name string, v float64) {
	c.raw(" " + name + `="`)
	c.num(v)
	c.raw(`"`)
}

func (c *Canvas) at(p Pt) {
	c.check(p)
	c.num(p.X)
	c.raw(" ")
	c.num(p.Y)
}

// check keeps NaN, infinity and everything outside the view box out of the
// picture; a twentieth of a unit is the rounding of what is written.
func (c *Canvas) check(p Pt) {
	const slack = 0.05
	if !(p.X >= -slack && p.X <= c.W+slack && p.Y >= -slack && p.Y <= c.H+slack) {
		c.fail(fmt.Errorf("svg: point (%g, %g) is outside the view box %g by %g", p.X, p.Y, c.W, c.H))
	}
}

func (c *Canvas) fail(err error) {
	if c.err == nil {
		c.err = err
	}
}

func (c *Canvas) raw(s string) { c.b = append(c.b, s...) }

// num writes v rounded to a tenth, the resolution of every picture, so that
// the same picture is the same text on every machine.
func (c *Canvas) num(v float64) {
	t := math.Round(v * 10)
	if !(math.Abs(t) < 1e9) {
		c.fail(fmt.Errorf("svg: number %g", v))
		return
	}
	n := int64(t)
	if n < 0 {
		c.b = append(c.b, '-')
		n = -n
	}
	c.b = strconv.AppendInt(c.b, n/10, 10)
	if n%10 != 0 {
		c.b = append(c.b, '.', byte('0'+n%10))
	}
}

// esc writes s as XML text. Characters that XML does not allow become the
// replacement character, as does broken UTF-8.
func (c *Canvas) esc(s string) {
	for _, r := range s {
		switch {
		case r == '&':
			c.raw("&amp;")
		case r == '<':
			c.raw("&lt;")
		case r == '>':
			c.raw("&gt;")
		case r == '"':
			c.raw("&quot;")
		case r == '\t' || r == '\n' || r == '\r':
			c.raw(" ")
		case r < 0x20 || r == 0xFFFE || r == 0xFFFF:
			c.raw("\uFFFD")
		default:
			c.b = append(c.b, string(r)...)
		}
	}
}

func validID(id string) bool {
	for i := range len(id) {
		b := id[i]
		letter := b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z'
		if !letter && (i == 0 || !(b >= '0' && b <= '9' || b == '-')) {
			return false
		}
	}
	return id != ""
}
