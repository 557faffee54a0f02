package svg

import (
	"io"

	"github.com/golang/freetype/truetype"
	gochart "github.com/wcharczuk/go-chart/v2"
	"github.com/wcharczuk/go-chart/v2/drawing"
)

// scale is the number of go-chart's whole pixels in one unit of the view box;
// with ten, its rounding is as fine as what we write.
const scale = 10

func pixels(v float64) int { return int(v*scale + 0.5) }

// renderer lets go-chart draw on a [Canvas]. Colours, widths, dashes and fonts
// are dropped, since classes carry the look; text is measured without a font.
type renderer struct {
	c     *Canvas
	class string
	size  float64
	path  []byte
	kept  int // how much of path is stroked
	// anchor is the part of a label that its place in go-chart's layout fixes
	// best: so a label wider or narrower than measured still sits on its tick.
	anchor Anchor
	// joined, if set, gathers every stroked line into one path of that class:
	// a grid is one element, not forty.
	joined Class
	// skip leaves out that many strokes.
	skip int
}

var _ gochart.Renderer = (*renderer)(nil)

func (r *renderer) SetClassName(s string)  { r.class = s }
func (r *renderer) SetFontSize(s float64)  { r.size = s }
func (r *renderer) MoveTo(x, y int)        { r.to('M', x, y) }
func (r *renderer) LineTo(x, y int)        { r.to('L', x, y) }
func (r *renderer) Close()                 { r.path = append(r.path, 'Z') }
func (r *renderer) Fill()                  { r.element() }
func (r *renderer) FillStroke()            { r.element() }
func (r *renderer) ResetStyle()            { r.class = "" }
func (r *renderer) GetDPI() float64        { return gochart.DefaultDPI }
func (r *renderer) Save(w io.Writer) error { return r.c.err }

// What has no meaning here.
func (r *renderer) SetDPI(float64)               {}
func (r *renderer) SetStrokeColor(drawing.Color) {}
func (r *renderer) SetFillColor(drawing.Color)   {}
func (r *renderer) SetStrokeWidth(float64)       {}
func (r *renderer) SetStrokeDashArray([]float64) {}
func (r *renderer) SetFont(*truetype.Font)       {}
func (r *renderer) SetFontColor(drawing.Color)   {}
func (r *renderer) SetTextRotation(float64)      {}
func (r *renderer) ClearTextRotation()           {}

func (r *renderer) Stroke() {
	switch {
	case r.skip > 0:
		r.skip--
		r.path = r.path[:r.kept]
	case r.joined == "":
		r.element()
	}
	r.kept = len(r.path)
}

// Curves and circles do not occur in what [Plot] asks of go-chart.
func (r *renderer) QuadCurveTo(_, _, _, _ int)         { panic("svg: no curves through go-chart") }
func (r *renderer) ArcTo(_, _ int, _, _, _, _ float64) { panic("svg: no arcs through go-chart") }
func (r *renderer) Circle(float64, int, int)           { panic("svg: no circles through go-chart") }

func (r *renderer) to(op byte, x, y int) {
	p := Pt{float64(x) / scale, float64(y) / scale}
	r.c.check(p)
	// The canvas formats into its own buffer; borrow it for the path.
	keep := r.c.b
	r.c.b = append(r.path, op)
	r.c.num(p.X)
	r.c.raw(" ")
	r.c.num(p.Y)
	r.path, r.c.b = r.c.b, keep
}

func (r *renderer) element() {
	r.c.open("path", Class(r.class))
	r.c.raw(` d="`)
	r.c.b = append(r.c.b, r.path...)
	r.c.raw(`"/>`)
	r.path = r.path[:0]
}

// flush writes what was joined.
func (r *renderer) flush() {
	r.class = string(r.joined)
	r.element()
}

func (r *renderer) Text(s string, x, y int) {
	p := Pt{float64(x) / scale, float64(y) / scale}
	switch w := TextWidth(Class(r.class), s); r.anchor {
	case Middle:
		p.X += w / 2
	case End:
		p.X += w
	}
	r.c.Text(Class(r.class), p, r.anchor, s)
}

// MeasureText returns the height of digits, not of the line, so that go-chart
// centres tick labels on their tick.
func (r *renderer) MeasureText(s string) gochart.Box {
	return gochart.Box{
		Right:  pixels(TextWidth(Class(r.class), s)),
		Bottom: pixels(ascent * r.size),
	}
}
