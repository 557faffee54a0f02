package svg_test

import (
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"twoneedles/chart/svg"
	"twoneedles/chart/svg/svgtest"
)

func draw(t *testing.T, f func(*svg.Canvas)) string {
	t.Helper()
	c := svg.New("id", "title", "description", 360, 320)
	f(c)
	s, err := c.String()
	if err != nil {
		t.Fatal(err)
	}
	if err := svgtest.Check(s); err != nil {
		t.Fatalf("%v\n%s", err, s)
	}
	return s
}

var area = svg.Rect{X0: 50, Y0: 20, X1: 350, Y1: 290}

func axis(lo, hi float64) svg.Axis { return svg.Axis{Lo: lo, Hi: hi, Ticks: svg.Ticks(lo, hi, 5)} }

func TestTextIsEscaped(t *testing.T) {
	const nasty = `</text><script>&"'` + "\x00\x1b\xff"
	c := svg.New("id", nasty, nasty, 360, 320)
	c.Text(svg.Text, svg.Pt{X: 100, Y: 100}, svg.Start, nasty)
	c.Plot(area, svg.Axis{Hi: 1, Ticks: []svg.Tick{{Value: 0.5, Label: nasty}}}, axis(0, 1)).Axes()
	s, err := c.String()
	if err != nil {
		t.Fatal(err)
	}
	if err := svgtest.Check(s); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(s, "<script") || strings.Contains(s, "\x00") {
		t.Errorf("escaped badly: %s", s)
	}
}

func TestAccessibleName(t *testing.T) {
	s := draw(t, func(*svg.Canvas) {})
	for _, want := range []string{`role="img"`, `aria-labelledby="id-t id-d"`, `<title id="id-t">title</title>`, `<desc id="id-d">description</desc>`} {
		if !strings.Contains(s, want) {
			t.Errorf("no %s in %s", want, s)
		}
	}
}

func TestRefused(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for name, f := range map[string]func(*svg.Canvas){
		"NaN":            func(c *svg.Canvas) { c.Segment(svg.Line, svg.Pt{X: nan}, svg.Pt{X: 1}) },
		"infinite":       func(c *svg.Canvas) { c.Circle(svg.Point, svg.Pt{X: 5, Y: inf}, 3) },
		"outside":        func(c *svg.Canvas) { c.Segment(svg.Line, svg.Pt{X: -1}, svg.Pt{X: 1}) },
		"circle outside": func(c *svg.Canvas) { c.Circle(svg.Point, svg.Pt{X: 1, Y: 100}, 3) },
		"box turned":     func(c *svg.Canvas) { c.Box(svg.Bar, svg.Rect{X0: 9, Y0: 1, X1: 3, Y1: 4}, 0) },
		"flat axis":      func(c *svg.Canvas) { c.Plot(area, axis(3, 3), axis(0, 1)).Axes() },
		"axis reversed":  func(c *svg.Canvas) { c.Plot(area, axis(3, 2), axis(0, 1)).Axes() },
		"NaN axis":       func(c *svg.Canvas) { c.Plot(area, axis(nan, 2), axis(0, 1)).Axes() },
		"endless axis":   func(c *svg.Canvas) { c.Plot(area, axis(-math.MaxFloat64, math.MaxFloat64), axis(0, 1)).Axes() },
		"too fine axis":  func(c *svg.Canvas) { c.Plot(area, axis(1e15, 1e15+1), axis(0, 1)).Axes() },
		"NaN band": func(c *svg.Canvas) {
			c.Plot(area, axis(0, 1), axis(0, 1)).Band(svg.LowBand, []svg.BandAt{{X: 0, Lo: 0, Hi: 1}, {X: 1, Lo: nan, Hi: 1}})
		},
		"band outside": func(c *svg.Canvas) {
			c.Plot(area, axis(0, 1), axis(0, 1)).Band(svg.LowBand, []svg.BandAt{{X: 0, Lo: 0, Hi: 9}, {X: 1, Lo: 0, Hi: 9}})
		},
	} {
		c := svg.New("id", "title", "description", 360, 320)
		f(c)
		if s, err := c.String(); err == nil {
			t.Errorf("%s: drawn as %s", name, s)
		}
	}
	for _, c := range []*svg.Canvas{
		svg.New("", "t", "d", 9, 9), svg.New(`a"b`, "t", "d", 9, 9), svg.New("1a", "t", "d", 9, 9),
		svg.New("a", "", "d", 9, 9), svg.New("a", "t", "", 9, 9), svg.New("a", "t", "d", 0, 9), svg.New("a", "t", "d", nan, 9),
	} {
		if s, err := c.String(); err == nil {
			t.Errorf("started %s", s)
		}
	}
}

// A curve is cut at the axes, in as many parts as it has inside; one that stays
// outside, or is not a number, leaves nothing.
func TestClip(t *testing.T) {
	c := svg.New("id", "title", "description", 360, 320)
	p := c.Plot(area, axis(0, 10), axis(0, 10))
	wave := []svg.Pt{{X: 1, Y: 5}, {X: 2, Y: 15}, {X: 3, Y: 5}, {X: 4, Y: -5}, {X: 5, Y: 5}}
	parts := p.Clip(wave)
	if len(parts) != 3 {
		t.Fatalf("%d parts, want 3: %v", len(parts), parts)
	}
	want := []svg.Pt{{X: 2.5, Y: 10}, {X: 3, Y: 5}, {X: 3.5, Y: 0}} // by hand
	for i, q := range parts[1] {
		if q != want[i] {
			t.Errorf("part 1: %v, want %v", parts[1], want)
		}
	}
	for _, out := range [][]svg.Pt{
		{{X: -1, Y: 2}, {X: -1, Y: 9}}, {{X: 2, Y: 20}, {X: 20, Y: 12}}, {{X: math.NaN(), Y: 2}, {X: 3, Y: 3}}, {{X: 3, Y: 3}},
	} {
		if got := p.Clip(out); len(got) != 0 {
			t.Errorf("Clip(%v) = %v", out, got)
		}
	}
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		n      int
		want   string
	}{
		{0, 100, 5, "0 20 40 60 80 100"},
		{0.3, 2.4, 5, "0.5 1.0 1.5 2.0"},
		{-30, 80, 5, "−20 0 20 40 60 80"},
		{1210, 1980, 6, "1400 1600 1800"},
		{-0.04, 0.04, 4, "−0.04 −0.02 0.00 0.02 0.04"},
		{5, 5, 5, ""}, {6, 5, 5, ""}, {math.NaN(), 5, 5, ""}, {0, math.Inf(1), 5, ""}, {1e15, 1e15 + 1, 5, ""},
	} {
		var got []string
		for _, k := range svg.Ticks(c.lo, c.hi, c.n) {
			got = append(got, k.Label)
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("Ticks(%g, %g, %d) = %v, want %s", c.lo, c.hi, c.n, got, c.want)
		}
	}
	var got []string
	for _, k := range svg.DecadeTicks(0.4, 30) {
		got = append(got, k.Label)
	}
	if s := strings.Join(got, " "); s != "0.5 1 2 5 10 20" {
		t.Errorf("DecadeTicks: %s", s)
	}
}

// Labels beside three points in a heap do not cover one another.
func TestPlaceKeepsLabelsApart(t *testing.T) {
	p := svg.Placer{Inside: svg.Rect{X0: 0, Y0: 0, X1: 360, Y1: 320}}
	var boxes []svg.Rect
	for _, q := range []svg.Pt{{X: 180, Y: 160}, {X: 186, Y: 164}, {X: 178, Y: 170}, {X: 355, Y: 5}} {
		at, a, clear := p.Place(svg.Text, "some condition", q)
		if !clear {
			t.Errorf("no room at %v", q)
		}
		boxes = append(boxes, svg.TextBox(svg.Text, at, a, "some condition"))
	}
	for i, a := range boxes {
		for _, b := range boxes[:i] {
			if a.Overlaps(b) {
				t.Errorf("%v covers %v", a, b)
			}
		}
		if a.X0 < 0 || a.X1 > 360 || a.Y0 < 0 || a.Y1 > 320 {
			t.Errorf("%v is outside", a)
		}
	}
}

// The style sheet and the classes know each other, and the sizes agree.
func TestClassesAreStyled(t *testing.T) {
	b, err := os.ReadFile("../../static/css/chart.css")
	if err != nil {
		t.Fatal(err)
	}
	css := regexp.MustCompile(`(?s)/\*.*?\*/`).ReplaceAllString(string(b), "")
	known := map[string]bool{"chart": true}
	for _, c := range svg.Classes {
		for _, name := range strings.Fields(string(c)) {
			known[name] = true
			if !regexp.MustCompile(`\.` + name + `\b[^-]`).MatchString(css) {
				t.Errorf("chart.css has no .%s", name)
			}
		}
	}
	for _, m := range regexp.MustCompile(`\.([a-z][a-z0-9-]*)`).FindAllStringSubmatch(css, -1) {
		if !known[m[1]] {
			t.Errorf("chart.css styles .%s, which nothing draws", m[1])
		}
	}
	size := regexp.MustCompile(`\.chart (?:text)?\.([a-z-]+) \{[^}]*font-size: (\d+)px`)
	n := 0
	for _, m := range size.FindAllStringSubmatch(css, -1) {
		n++
		if got := svg.Number(svg.Class(m[1]).Size(), 0); got != m[2] {
			t.Errorf(".%s is %s px in chart.css and %s in Size", m[1], m[2], got)
		}
	}
	if n < 7 {
		t.Errorf("found only %d font sizes in chart.css", n)
	}
}
